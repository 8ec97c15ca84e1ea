"""Speed of one scheme recomputed whole; run as a script.

``python -m tests.benchmarks.scheme`` times every zone, every stage, 64-point ramps, and one
zone's 64 x 32 tile for every stage, in float64. All coats' films, the spray and one mix change at
every repetition, so that no cache answers. The baseline of the same run is colour-science used as
its manual shows it, one `sd_to_XYZ` and one `XYZ_to_sRGB` per sample: measured on a few samples
and multiplied up to all, since the whole would take many seconds.
"""

import argparse
import os
import random
import sys
import time
import warnings
from collections.abc import Callable
from dataclasses import replace
from typing import Any

TARGET_MS = 8.0
REPETITIONS = 120
BASELINE_SAMPLES = 60
POINTS, TILE = 64, (64, 32)


def synthetic() -> Any:
    """Six zones with six or seven stages each, of the paints that the tests use."""
    from schemeforge.scheme import Facing, Primer, Scheme, Spray, Step, Technique, Zone
    from tests import builders as b

    names = ("hide", "plates", "cloak", "lantern", "base", "rim")
    zones = tuple(
        Zone(id=name, name=name, facing=facing)
        for name, facing in zip(names, (Facing.UP, Facing.UP, Facing.SIDE) * 2, strict=True)
    )
    steps = [
        Step(id="prime", name="prime", layer=Primer(mix_id="primer-pot"), zone_ids=names),
        Step(id="spray", name="spray", layer=Spray(mix_id="white-pot"), zone_ids=names),
    ]
    for zone in names:
        steps += [
            b.coat_step(f"{zone}-glaze", "red-pot", zone, wet_um=25.0, passes=2),
            b.coat_step(f"{zone}-feather", "red-pot", zone, wet_um=22.0, placement=b.TIPS),
            b.coat_step(
                f"{zone}-wash",
                "wash-pot",
                zone,
                technique=Technique.WASH,
                wet_um=120.0,
                placement=b.POOLED,
            ),
            b.coat_step(f"{zone}-dry", "white-pot", zone, wet_um=6.0),
        ]
    steps.append(b.coat_step("filter", "wash-pot", *names, wet_um=30.0))
    scheme = Scheme(id="first", name="first", mixes=b.small_mixes(), steps=tuple(steps))
    project = replace(
        b.small_project(), groups=(), zones=zones, schemes=(), chosen_scheme_id="", sittings=()
    )
    return replace(project, schemes=(scheme,))


def demo_or_synthetic(*, allow_demo: bool = True) -> tuple[str, Any, Any]:
    """Name, project and scheme: the demo's first scheme, or six invented zones without a demo."""
    from schemeforge.resources import asset
    from schemeforge.scheme.project_file import load

    files = sorted(asset("demo").glob("*.schemeforge"))
    if files and allow_demo:
        project = load(files[0])
        return files[0].name, project, project.schemes[0]
    project = synthetic()
    return "synthetic, six zones", project, project.schemes[0]


def varied(scheme: Any, seed: int) -> Any:
    """The scheme with all films and the mix of its last coat changed a little."""
    from schemeforge.scheme import Coat, Spray

    rng = random.Random(seed)  # noqa: S311 - no secret
    steps = []
    for step in scheme.steps:
        layer = step.layer
        if isinstance(layer, Coat):
            layer = replace(layer, wet_um=min(layer.wet_um * rng.uniform(0.8, 1.2), 1000.0))
        elif isinstance(layer, Spray):
            layer = replace(layer, peak_um=layer.peak_um * rng.uniform(0.9, 1.1))
        steps.append(replace(step, layer=layer))
    last = next(s.mix_id for s in reversed(steps) if isinstance(s.layer, Coat))
    mixes = [
        replace(
            mix,
            ingredients=tuple(
                replace(i, parts=i.parts * rng.uniform(0.8, 1.2)) for i in mix.ingredients
            ),
        )
        if mix.id == last
        else mix
        for mix in scheme.mixes
    ]
    return replace(scheme, steps=tuple(steps), mixes=tuple(mixes))


def documents(project: Any, scheme: Any, count: int) -> list[tuple[Any, Any]]:
    """So many different documents and their scheme, made before the clock starts."""
    made = []
    for seed in range(count):
        other = varied(scheme, seed)
        schemes = tuple(other if s.id == scheme.id else s for s in project.schemes)
        made.append((replace(project, schemes=schemes), other))
    return made


def busiest_zone(project: Any, scheme: Any) -> str:
    """Id of the zone that costs most: most stages over an area that varies along the part."""
    from schemeforge.scheme import coloured_steps

    def cost(zone: Any) -> int:
        steps = coloured_steps(scheme, zone.id)
        varies = [bool(s.coat and not s.coat.placement.along.is_even) for s in steps]
        return len(steps) + 100 * (len(varies) - varies.index(True) if any(varies) else 0)

    return str(max(project.zones, key=cost).id)


def times_ms(
    work: Callable[[Any, Any], object], made: list[tuple[Any, Any]]
) -> tuple[list[float], list[float]]:
    """Times of a call by the clock and of the processor, each with another document, sorted.

    The first few only warm up. The processor's time does not count waiting for a busy machine.
    """
    clock, processor = [], []
    for project, scheme in made:
        start = time.perf_counter(), time.process_time()
        work(project, scheme)
        clock.append(1000 * (time.perf_counter() - start[0]))
        processor.append(1000 * (time.process_time() - start[1]))
    return sorted(clock[5:]), sorted(processor[5:])


def per_sample_ms() -> float:
    """One colour the way colour-science's manual shows it, ms: the mean over a few."""
    import numpy as np

    from schemeforge import optics
    from tests.colorimetry.oracles import colour_science

    warnings.simplefilter("ignore")  # colour-science tells of every table that it aligns
    colour = colour_science()
    cmfs = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"]
    light = colour.SDS_ILLUMINANTS["D65"]
    nm = optics.bands.wavelengths_nm()
    rows = np.random.default_rng(1).uniform(0.05, 0.9, (BASELINE_SAMPLES + 1, len(nm)))
    start = 0.0
    for n, row in enumerate(rows):
        start = time.perf_counter() if n == 1 else start
        colour.XYZ_to_sRGB(
            colour.sd_to_XYZ(colour.SpectralDistribution(row, nm), cmfs, light) / 100
        )
    return 1000 * (time.perf_counter() - start) / BASELINE_SAMPLES


def main() -> int:
    """Prints the table; exit code 1 where the target is missed."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--threads", default="1", help="threads of the linear algebra library")
    parser.add_argument("--synthetic", action="store_true", help="six invented zones, no demo")
    options = parser.parse_args()
    os.environ["OPENBLAS_NUM_THREADS"] = options.threads  # before numpy is loaded
    import numpy as np

    from schemeforge.appearance import scheme_ramps, zone_tile

    name, project, scheme = demo_or_synthetic(allow_demo=not options.synthetic)
    tiled = busiest_zone(project, scheme)

    def ramps(project: Any, scheme: Any) -> object:
        return scheme_ramps(project, scheme, count=POINTS)

    def tile(project: Any, scheme: Any) -> object:
        return zone_tile(project, scheme, tiled, relief_count=TILE[0], along_count=TILE[1])

    def whole(project: Any, scheme: Any) -> object:
        return ramps(project, scheme), tile(project, scheme)

    def single(project: Any, scheme: Any) -> object:
        tile = zone_tile(project, scheme, tiled, dtype=np.float32)
        return scheme_ramps(project, scheme, count=POINTS, dtype=np.float32), tile

    stages = [len(ramp.xyz) for ramp in scheme_ramps(project, scheme, count=POINTS).zones]
    tile_stages = len(zone_tile(project, scheme, tiled))
    samples = sum(stages) * POINTS + tile_stages * TILE[0] * TILE[1]
    print(f"{name}: {len(stages)} zones, {sum(stages)} stages on ramps, {tile_stages} on the tile")
    made = documents(project, scheme, REPETITIONS + 5)
    table = {kind.__name__: times_ms(kind, made) for kind in (ramps, tile, whole, single)}
    base = per_sample_ms() * samples
    print(
        f"colour-science per sample: {base:.0f} ms for {samples} samples, extrapolated from "
        f"{BASELINE_SAMPLES}"
    )
    print(f"whole: at most {TARGET_MS:g} ms wanted at p50; single: the same in float32")
    print(f"{'ms':8} {'least':>8} {'p50':>8} {'p95':>8} {'cpu p50':>8} {'ratio':>8}")
    for kind, (times, processor) in table.items():
        half, most = len(times) // 2, int(0.95 * len(times))
        ratio = f"{base / times[half]:8.0f}" if kind in {"whole", "single"} else " " * 8
        row = (times[0], times[half], times[most], processor[half])
        print(f"{kind:8} " + " ".join(f"{value:8.2f}" for value in row) + f" {ratio}")
    return int(table["whole"][0][REPETITIONS // 2] > TARGET_MS)


if __name__ == "__main__":
    sys.exit(main())
