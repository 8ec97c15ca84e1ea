"""Where the trade would warn: sentences with computed numbers that say what to do.

Thresholds are rules of thumb (common practice, no source) unless told otherwise.
"""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from schemeforge import colorimetry
from schemeforge.appearance.coat_remarks import few_drops, of_coat
from schemeforge.appearance.remark import Remark, Severity, remark
from schemeforge.appearance.scene import CREST, Scene
from schemeforge.scheme import Project, Scheme, Spray, Viewing
from schemeforge.scheme.steps import THICKEST_UM

__all__ = ["Remark", "Severity", "zone_remarks"]

VALUE_STEP = 20.0  # L* between touching zones
LIKE_HUE = 30.0  # degrees of hue angle
NEUTRAL = 8.0  # chroma below which a hue does not tell zones apart
CAPPED_BY = 2.0  # L* that a brighter spray must give at the raised edge
MORE_SPRAY = 1.5


def zone_remarks(
    project: Project, scheme: Scheme, zone_id: str, viewing: Viewing | None = None
) -> tuple[Remark, ...]:
    """What to warn of on a zone, in the order of its steps, the whole zone last.

    Args:
        project: The document.
        scheme: One of its schemes; the full recipe counts.
        zone_id: The zone.
        viewing: Light, observer and finish; the project's own where None. Always dry.

    Raises:
        UnknownNameError: For a light or zone that does not exist.
        PaintMissingError: For a paint that the project does not carry.
    """
    scene = Scene(project, scheme, zone_id, project.viewing if viewing is None else viewing)
    found: list[Remark] = []
    pots: set[str] = set()
    for stage, step in enumerate(scene.steps):
        if step.coat is None or stage == 0:
            continue
        found += of_coat(scene, stage, step, step.coat)
        if step.coat.mix_id not in pots:
            found += few_drops(scene, stage, step, scene.scheme.mix(step.coat.mix_id))
        pots.add(step.coat.mix_id)
    if scene.steps:
        found += _capped(scene)
        found += _run_together(scene)
    return tuple(found)


def _capped(scene: Scene) -> Iterator[Remark]:
    found = [(n, s) for n, s in enumerate(scene.steps) if isinstance(s.layer, Spray)]
    if not found or found[0][0] == len(scene.steps) - 1:
        return
    stage, step = found[0]
    spray = step.layer
    assert isinstance(spray, Spray)  # noqa: S101 - told apart above
    brighter = replace(spray, peak_um=min(MORE_SPRAY * spray.peak_um, THICKEST_UM))
    under = float(scene.lab[stage, CREST, :, 0].mean())
    final = float(scene.lab[-1, CREST, :, 0].mean())
    gain = float(scene.with_layer(step, brighter)[-1, CREST, :, 0].mean()) - final
    if gain >= CAPPED_BY and final <= under:
        yield remark(
            "capped by the undercoat",
            scene,
            step,
            Severity.ADVICE,
            f"The undercoat caps this colour: its raised edge is L* {under:.0f} sprayed and "
            f"{final:.0f} when finished. Half as much spray again would make the finished edge "
            f"{gain:.0f} L* lighter.",
            undercoat=under,
            final=final,
            gain=gain,
        )


def _run_together(scene: Scene) -> Iterator[Remark]:
    own = scene.lab[-1].mean(axis=(0, 1))
    for name, colours in scene.neighbours():
        other = colours.mean(axis=(0, 1))
        apart = abs(float(own[0] - other[0]))
        (_, chroma, hue), (_, other_chroma, other_hue) = colorimetry.lch(np.array([own, other]))
        turn = abs((hue - other_hue + 180.0) % 360.0 - 180.0)
        neutral = min(chroma, other_chroma) < NEUTRAL
        alike = max(chroma, other_chroma) < 2 * NEUTRAL if neutral else turn < LIKE_HUE
        if apart < VALUE_STEP and alike:
            yield remark(
                "runs together",
                scene,
                None,
                Severity.ADVICE,
                f'"{scene.zone.name}" and "{name}" touch, are {apart:.0f} L* apart and of like '
                "hue: at arm's length they run together. Part them by "
                f"{VALUE_STEP:g} L*, or give one another hue.",
                lightness=apart,
                hue=float(turn),
            )
