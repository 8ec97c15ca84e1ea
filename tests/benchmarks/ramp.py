"""Speed of one ramp: 256 tones, 6 coats, 36 bands, to 8-bit sRGB; run as a script.

``python -m tests.benchmarks.ramp`` prints ratios measured in the same run, each beside its
target. Inputs change at every repetition, so no cache answers. Two baselines: colour-science as
its manual shows it, one `sd_to_XYZ` and one `XYZ_to_sRGB` per sample, and the same work done on
whole arrays with it. Both get their reflectances from the textbook solution with coth and sinh.
"""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import statistics
import sys
import time
import warnings
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry, optics
from tests.colorimetry.oracles import colour_science

TONES, COATS, BANDS = 256, 6, 36
LIGHT = "D65"
REPETITIONS = 60
BASELINE_REPETITIONS = 5
# Ratios set for the program.
TARGETS = {
    "films along the ramp, float64": ("per sample", 150.0),
    "films along the ramp, float64, arrays": ("whole arrays", 2.0),
    "films along the ramp, float32": ("per sample", 300.0),
    "uniform films folded, float64": ("per sample", 600.0),
    "uniform films folded, float32": ("per sample", 600.0),
}

Floats = NDArray[Any]


@dataclass(frozen=True, slots=True)
class Ramp:
    """One ramp's inputs: grounds (tones, bands), films (coats, tones), K and S (coats, bands)."""

    ground: Floats
    film: Floats
    K: Floats
    S: Floats


def ramps(count: int, dtype: type[np.floating[Any]], seed: int = 1) -> list[Ramp]:
    """So many different ramps over an undercoat from dark to light."""
    rng = np.random.default_rng(seed)
    made = []
    for _ in range(count):
        tone = np.linspace(0, 1, TONES)[:, None]
        dark, light = rng.uniform(0.03, 0.06, BANDS), rng.uniform(0.7, 0.9, BANDS)
        ground = dark + tone * (light - dark)
        film = rng.uniform(0.5, 2, (COATS, 1)) * np.linspace(1.5, 0.5, TONES)
        arrays = (
            ground,
            film,
            rng.uniform(0.01, 0.5, (COATS, BANDS)),
            rng.uniform(0.005, 0.3, (COATS, BANDS)),
        )
        made.append(Ramp(*(np.ascontiguousarray(array, dtype=dtype) for array in arrays)))
    return made


def textbook(ramp: Ramp) -> Floats:
    """Reflectance seen: the solution with coth on whole arrays, then the surface."""
    R = ramp.ground
    for film, K, S in zip(ramp.film, ramp.K, ramp.S, strict=True):
        a = (S + K) / S
        b = np.sqrt(a * a - 1)
        coth = 1 / np.tanh(b * S * film[:, None])
        R = (1 - R * (a - b * coth)) / (a - R + b * coth)
    return np.asarray(0.04 + 0.96 * 0.4 * R / (1 - 0.6 * R))


@lru_cache(maxsize=1)
def aligned() -> tuple[Any, Any, Any]:
    """The bands, and observer and light on them.

    Aligned beforehand, which spares colour-science more than half of its work at each sample:
    the quickest of its documented ways.
    """
    colour = colour_science()
    shape = colour.SpectralShape(optics.bands.FIRST_NM, optics.bands.LAST_NM, optics.bands.STEP_NM)
    observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"]
    light = colour.SDS_ILLUMINANTS[LIGHT]
    return shape, observer.copy().align(shape), light.copy().align(shape)


def per_sample(ramp: Ramp) -> Floats:
    """colour-science as its manual shows it, sample by sample."""
    colour = colour_science()
    shape, observer, light = aligned()
    codes = []
    for row in textbook(ramp):
        spectrum = colour.SpectralDistribution(row, shape.wavelengths)
        xyz = colour.sd_to_XYZ(spectrum, observer, light, method="Integration") / 100
        codes.append(colour.XYZ_to_sRGB(xyz))
    return np.asarray(np.rint(255 * np.clip(codes, 0, 1)), dtype=np.uint8)


def whole_arrays(ramp: Ramp) -> Floats:
    """colour-science on whole arrays."""
    colour = colour_science()
    shape, observer, light = aligned()
    xyz = colour.msds_to_XYZ(textbook(ramp), observer, light, method="Integration", shape=shape)
    codes = np.rint(255 * np.clip(colour.XYZ_to_sRGB(xyz / 100), 0, 1))
    return np.asarray(codes, dtype=np.uint8)


def varying(ramp: Ramp) -> Floats:
    """The program's own way where films vary along the ramp."""
    R = optics.stack_over(ramp.ground, ramp.film, ramp.K, ramp.S)
    return shown(optics.apply(surface(ramp), R))


def folded(ramp: Ramp) -> Floats:
    """The program's own way where each film is even: the stack is one map per band."""
    thickness = ramp.film[:, :1]
    layers = optics.film_map(thickness * ramp.K, thickness * ramp.S)
    stack = surface(ramp)
    for entries in reversed(list(zip(*layers, strict=True))):
        stack = optics.compose(stack, optics.MobiusMap(*entries))
    return shown(optics.apply(stack, ramp.ground))


def surface(ramp: Ramp) -> optics.MobiusMap:
    """A matt surface in the ramp's number format."""
    entries = optics.surface_map(optics.MATT)
    return optics.MobiusMap(*(np.asarray(e, dtype=ramp.ground.dtype) for e in entries))


def shown(reflectance: Floats) -> Floats:
    """Codes of reflectances."""
    matrix = colorimetry.adapted_matrix(LIGHT, 2, reflectance.dtype.type)
    return colorimetry.to_srgb8_fast(reflectance @ matrix)


def median_ms(work: Callable[[Ramp], Floats], inputs: list[Ramp]) -> float:
    """Median time of a call, each with another input, after one call to warm up."""
    work(inputs[0])
    times = []
    for ramp in inputs[1:]:
        start = time.perf_counter()
        work(ramp)
        times.append(time.perf_counter() - start)
    return 1000 * statistics.median(times)


def main() -> int:
    """Prints the table; exit code 1 where a target is missed."""
    warnings.simplefilter("ignore")  # colour-science tells of every table that it aligns
    double = ramps(REPETITIONS + 1, np.float64)
    single = ramps(REPETITIONS + 1, np.float32)
    even = [Ramp(r.ground, np.repeat(r.film[:, :1], TONES, axis=1), r.K, r.S) for r in double]
    for ramp in (double[0], even[0]):
        gap = np.abs(varying(ramp).astype(int) - whole_arrays(ramp))
        print(f"largest difference to colour-science: {gap.max()} codes")
    few = BASELINE_REPETITIONS + 1
    base = {"per sample": median_ms(per_sample, double[:few])}
    base["whole arrays"] = median_ms(whole_arrays, double)
    ours = {
        "films along the ramp, float64": median_ms(varying, double),
        "films along the ramp, float32": median_ms(varying, single),
        "uniform films folded, float64": median_ms(folded, double),
        "uniform films folded, float32": median_ms(folded, single),
    }
    ours["films along the ramp, float64, arrays"] = ours["films along the ramp, float64"]
    print(f"{'colour-science':40} {'ms':>8}")
    for name, value in base.items():
        print(f"{name:40} {value:8.3f}")
    print(f"{'this program':40} {'ms':>8} {'ratio':>8} {'target':>8}  to")
    missed = 0
    for name, (against, target) in TARGETS.items():
        ratio = base[against] / ours[name]
        missed += ratio < target
        print(f"{name:40} {ours[name]:8.3f} {ratio:8.1f} {target:8.0f}  {against}")
    return int(missed > 0)


if __name__ == "__main__":
    sys.exit(main())
