"""What to say of one coat. Thresholds are rules of thumb (common practice, no source)."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from schemeforge import colorimetry
from schemeforge.appearance.remark import Remark, Severity, remark
from schemeforge.appearance.scene import CREST, RELIEF_COUNT, Scene
from schemeforge.scheme import Coat, Mix, ReliefKind, Step, Surfacing, Technique
from schemeforge.scheme.steps import THICKEST_UM

UNSEEN, IN_THE_RANKS = 1.0, 2.0  # CIEDE2000
LIGHTER_BY = 5.0  # L* by which a masstone must be lighter for it to count as meant to lighten
PALE = 60.0  # L* of an undercoat on which pools show most
LEAST_LIGHT = 12.0  # L* from recess to raised edge that is worth keeping
KEPT_LIGHT = 0.4  # share of it that a coat must leave
FEW_DROPS = 30.0


def of_coat(scene: Scene, stage: int, step: Step, coat: Coat) -> Iterator[Remark]:
    """What to say of a coat that is not the first stage."""
    weak = list(_cannot_lighten(scene, stage, step, coat))
    change = colorimetry.ciede2000(scene.lab[stage], scene.lab[stage - 1])
    most = float(change.max())
    if not weak and most < UNSEEN:
        yield remark(
            "unseen coat",
            scene,
            step,
            Severity.ADVICE,
            f'"{step.name}" changes nothing that can be seen (CIEDE2000 at most {most:.1f}): lay '
            "it heavier, mix it stronger, or leave it out.",
            change=most,
        )
        return
    yield from weak
    yield from _hides_light(scene, stage, step, coat)
    yield from _pools(scene, stage, step, coat)


def _cannot_lighten(scene: Scene, stage: int, step: Step, coat: Coat) -> Iterator[Remark]:
    place = scene.place(coat)
    before = scene.lightness(stage - 1, CREST, place)
    after = scene.lightness(stage, CREST, place)
    mix = scene.scheme.mix(coat.mix_id)
    own = scene.masstone(mix)
    is_clear = all(scene.project.paint(i.paint_id).kind.is_clear for i in mix.ingredients)
    at_edge = float(coat.placement.relief.film(np.ones(1))[0])
    is_meant_to = own >= before + LIGHTER_BY and at_edge >= 0.5 and not is_clear
    if is_meant_to and after < before + UNSEEN:
        yield remark(
            "cannot lighten",
            scene,
            step,
            Severity.WARNING,
            f'"{step.name}" cannot lighten what is below: laid thick it is L* {own:.0f}, but the '
            f"raised edge goes from L* {before:.0f} to {after:.0f}. Use an opaque mix or more "
            "film, or spray lighter underneath.",
            masstone=own,
            before=before,
            after=after,
        )


def _hides_light(scene: Scene, stage: int, step: Step, coat: Coat) -> Iterator[Remark]:
    column = scene.lab[:, :, scene.place(coat), 0]
    before, after = (float(np.ptp(column[n])) for n in (stage - 1, stage))
    if before >= LEAST_LIGHT and after < KEPT_LIGHT * before:
        yield remark(
            "hides the light",
            scene,
            step,
            Severity.WARNING,
            f'"{step.name}" hides the light of the undercoat: from recess to raised edge '
            f"{before:.0f} L* become {after:.0f}. Thin it or lay less, or plan to shade and "
            "highlight by hand afterwards.",
            before=before,
            after=after,
        )


def _pools(scene: Scene, stage: int, step: Step, coat: Coat) -> Iterator[Remark]:
    relief = coat.placement.relief
    gathers = relief.kind is ReliefKind.POOLS and relief.depth > 0.0
    if scene.zone.surfacing is not Surfacing.FLAT or not (
        gathers or coat.technique in {Technique.WASH, Technique.STAIN}
    ):
        return
    doubled = replace(coat, wet_um=min(2.0 * coat.wet_um, THICKEST_UM))
    at = (stage, RELIEF_COUNT // 2, scene.place(coat))
    pooled = scene.with_layer(step, doubled)[at]
    ring = float(colorimetry.ciede2000(pooled, scene.lab[at]))
    if ring < IN_THE_RANKS:
        return
    under = scene.lightness(stage - 1, RELIEF_COUNT // 2, scene.place(coat))
    pale = under >= PALE
    worse = f", and the pale ground (L* {under:.0f}) shows it" if pale else ""
    yield remark(
        "pools on a panel",
        scene,
        step,
        Severity.WARNING if pale else Severity.ADVICE,
        f'"{step.name}" on a flat panel leaves pools and tide marks: where it stands twice as '
        f"deep the colour is CIEDE2000 {ring:.1f} off{worse}. Lay it thinner with more medium, "
        "wick pools away at once, and do not go back into half-dry paint.",
        pool=ring,
        below=under,
    )


def few_drops(scene: Scene, stage: int, step: Step, mix: Mix) -> Iterator[Remark]:
    """Where one drop more of the smallest share shows, if the parts are counted as drops."""
    drops = mix.total_parts
    if drops >= FEW_DROPS or len(mix.ingredients) < 2:
        return
    paints = [scene.project.paint(i.paint_id) for i in mix.ingredients]
    # The smallest share, and of equal ones the one that colours.
    least = min(
        range(len(paints)), key=lambda n: (mix.ingredients[n].parts, paints[n].kind.is_clear)
    )
    more = tuple(
        replace(i, parts=i.parts + 1.0) if n == least else i for n, i in enumerate(mix.ingredients)
    )
    other = scene.with_mix(replace(mix, ingredients=more))[stage]
    shift = float(colorimetry.ciede2000(other, scene.lab[stage]).max())
    if shift >= UNSEEN:
        yield remark(
            "few drops",
            scene,
            step,
            Severity.NOTE,
            f'Counted out once as written, "{mix.name}" is {drops:g} drops, and one drop of '
            f'"{paints[least].name}" too many shifts it by CIEDE2000 {shift:.1f}: make '
            f"{FEW_DROPS:g} drops or more at a time, or weigh it.",
            drops=drops,
            shift=shift,
        )
