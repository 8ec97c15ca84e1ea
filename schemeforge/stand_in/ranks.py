"""Several pictures in one: two schemes on one model, and models in a row by who gets what."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from schemeforge import checks
from schemeforge.errors import InputError
from schemeforge.scheme import Coat, Project, Scheme, Spray, Step, Viewing, coloured_steps
from schemeforge.scheme.steps import THICKEST_UM
from schemeforge.stand_in.mapping import Wearing
from schemeforge.stand_in.pictures import LIGHT, Picture, picture_of
from schemeforge.stand_in.shading import LightDirection
from schemeforge.stand_in.views import View

SEED: Final = 20250
MOST_MODELS: Final = 20
_OVERLAP: Final = 0.34  # of a picture's width that the next model takes of it
_BACK: Final = 0.3  # of a picture's height that the next rank stands further up


def split(left: Picture, right: Picture, at: float = 0.5) -> Picture:
    """Left of a share of the width the one picture, right of it the other, of one size."""
    if left.rgba.shape != right.rgba.shape:
        raise InputError("The two pictures differ in size", remedy="make them of one size")
    column = round(min(max(at, 0.0), 1.0) * left.rgba.shape[1])
    rgba, zone = right.rgba.copy(), right.zone_index.copy()
    rgba[:, :column], zone[:, :column] = left.rgba[:, :column], left.zone_index[:, :column]
    return Picture(rgba, zone)


def stages_after(
    project: Project, scheme: Scheme, step_id: str, group_id: str | None = None
) -> dict[str, int]:
    """For each zone how many of its coloured steps are done once that step of the list is done.

    Raises UnknownNameError where the scheme has no such step.
    """
    last = scheme.steps.index(scheme.step(step_id))
    done = {step.id for step in scheme.steps[: last + 1]}
    return {
        zone.id: sum(step.id in done for step in coloured_steps(scheme, zone.id, group_id))
        for zone in project.zones
    }


def by_another_hand(project: Project, scheme: Scheme, number: int) -> Scheme:
    """The scheme as one model of the batch came out: films off by the spread of the hand.

    Film of each coat and spray times a log-normal factor of ``habits.hand_sigma``, drawn with a
    fixed seed from the step and the model's number: a coat added leaves the others as they were.
    """
    return replace(scheme, steps=tuple(_varied(project, step, number) for step in scheme.steps))


def _varied(project: Project, step: Step, number: int) -> Step:
    layer = step.layer
    if not isinstance(layer, Coat | Spray):
        return step
    draw = np.random.default_rng([SEED, number, *step.id.encode()]).standard_normal()
    factor = math.exp(project.habits.hand_sigma * float(draw))
    if isinstance(layer, Coat):
        return replace(step, layer=replace(layer, wet_um=min(layer.wet_um * factor, THICKEST_UM)))
    return replace(step, layer=replace(layer, peak_um=min(layer.peak_um * factor, THICKEST_UM)))


def members(project: Project, count: int) -> tuple[str | None, ...]:
    """Groups of so many models that stand for the batch, by the groups' shares of it.

    Groups of high priority first, and each at least once where there is room.
    """
    checks.whole(count, "Number of models", low=1, high=MOST_MODELS)
    groups = sorted((g for g in project.groups if g.count > 0), key=lambda g: g.priority)
    if not groups:
        return (None,) * count
    total = sum(group.count for group in groups)
    share = [count * group.count / total for group in groups]
    given = [max(int(s), 1 if len(groups) <= count else 0) for s in share]
    while sum(given) > count:
        given[max(range(len(given)), key=lambda n: (given[n] > 1, given[n] - share[n]))] -= 1
    while sum(given) < count:
        given[max(range(len(given)), key=lambda n: share[n] - given[n])] += 1
    return tuple(g.id for g, n in zip(groups, given, strict=True) for _ in range(n))


def row(
    project: Project,
    scheme: Scheme,
    views: Sequence[View],
    wearing: Wearing,
    viewing: Viewing | None = None,
    *,
    groups: Sequence[str | None] = (None,),
    light_direction: LightDirection = LIGHT,
    stage: Mapping[str, int] | int | None = None,
) -> Picture:
    """Models side by side, one for each group named, each painted by a slightly different hand.

    Args:
        project: The document.
        scheme: One of its schemes.
        views: Sides that the models show in turn, all of one size.
        wearing: Zone of each part.
        viewing: The project's own where None.
        groups: Group of each model, None for the full recipe.
        light_direction: Where the lamp stands.
        stage: As in ``pictures.render``.
    """
    checks.whole(len(groups), "Number of models", low=1, high=MOST_MODELS)
    pictures = [
        picture_of(
            project,
            by_another_hand(project, scheme, n),
            views[n % len(views)],
            wearing,
            viewing,
            light_direction=light_direction,
            stage=stage,
            group_id=group,
        )
        for n, group in enumerate(groups)
    ]
    return beside(pictures)


def beside(pictures: Sequence[Picture]) -> Picture:
    """Pictures of one size in a row, each a little over the one before it."""
    height, width = pictures[0].zone_index.shape
    pitch = width - round(_OVERLAP * width)
    total = pitch * (len(pictures) - 1) + width
    rgba = np.zeros((height, total, 4), np.uint8)
    zone = np.full((height, total), -1, np.int16)
    for n, picture in enumerate(pictures):
        some = slice(n * pitch, n * pitch + width)
        rgba[:, some] = _over(picture.rgba, rgba[:, some])
        zone[:, some] = np.where(picture.zone_index >= 0, picture.zone_index, zone[:, some])
    return Picture(rgba, zone)


def formation(pictures: Sequence[Picture], across: int = 5) -> Picture:
    """Pictures of one size in ranks of so many, the first of them in front and in the middle.

    Ranks stand behind each other half a place to the side, as a unit does on the table.
    """
    checks.whole(len(pictures), "Number of models", low=1, high=MOST_MODELS)
    height, width = pictures[0].zone_index.shape
    pitch, back = width - round(_OVERLAP * width), round(_BACK * height)
    ranks = [pictures[n : n + across] for n in range(0, len(pictures), across)]
    longest = max(len(rank) for rank in ranks)
    wide = pitch * (longest - 1) + width + (pitch // 2 if len(ranks) > 1 else 0)
    high = height + back * (len(ranks) - 1)
    rgba = np.zeros((high, wide, 4), np.uint8)
    zone = np.full((high, wide), -1, np.int16)
    for place, rank in reversed(list(enumerate(ranks))):  # from behind
        y = back * (len(ranks) - 1 - place)
        left = (longest - len(rank)) * pitch // 2 + (place % 2) * (pitch // 2)
        for x, picture in zip(_from_the_middle(len(rank)), rank, strict=True):
            some = (slice(y, y + height), slice(left + x * pitch, left + x * pitch + width))
            rgba[some] = _over(picture.rgba, rgba[some])
            zone[some] = np.where(picture.zone_index >= 0, picture.zone_index, zone[some])
    return Picture(rgba, zone)


def _from_the_middle(count: int) -> list[int]:
    """Places 0 to count - 1, the middle one first, then outwards."""
    middle = (count - 1) / 2
    return sorted(range(count), key=lambda n: (abs(n - middle), n))


def _over(upper: NDArray[np.uint8], lower: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """One picture over another, both with alpha; only edges are not one or the other."""
    out = np.where(upper[..., 3:] == 0, lower, upper)
    edge = np.nonzero((upper[..., 3] > 0) & (upper[..., 3] < 255) & (lower[..., 3] > 0))
    a, b = (array[edge].astype(np.float64) / 255.0 for array in (upper, lower))
    alpha = a[:, 3:] + b[:, 3:] * (1.0 - a[:, 3:])
    mixed: Any = a[:, :3] * a[:, 3:] + b[:, :3] * b[:, 3:] * (1.0 - a[:, 3:])
    out[edge] = np.rint(255.0 * np.concatenate([mixed / alpha, alpha], axis=1)).astype(np.uint8)
    return out
