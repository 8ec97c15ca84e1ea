"""What stands in for a paint that is out, in this use of it: its coat, what lies below and above.

The target is the ramp as it would be with the paint, all tones at once, so that a stand-in which
matches on the pot's lid but not over this undercoat is seen for what it is.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry
from schemeforge.appearance import Points, final_xyz
from schemeforge.errors import InputError
from schemeforge.paint import WATER_ID, Paint
from schemeforge.recipe.bed import look_for, zone_bed
from schemeforge.recipe.funnel import GoOn
from schemeforge.recipe.laying import MOST_PARTS, Laying
from schemeforge.recipe.ramp import RAMP, zone_target
from schemeforge.recipe.request import Request, is_empty
from schemeforge.recipe.solver import always
from schemeforge.scheme import Coat, Ingredient, Mix, Project, Scheme, Viewing

Floats = NDArray[Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """Where a paint is used: a coat of a zone, and how that zone is looked at.

    Args:
        project: The document, which carries the paint.
        scheme: One of its schemes.
        zone_id: The zone.
        step_id: The step whose mix holds the paint.
        relief: Places from recess to raised edge at which colours are compared.
        along: Place along the part.
        viewing: The project's own where None.
    """

    project: Project
    scheme: Scheme
    zone_id: str
    step_id: str
    relief: tuple[float, ...] = RAMP
    along: float = 0.5
    viewing: Viewing | None = None

    @property
    def mix(self) -> Mix:
        """The mix of the step.

        Raises:
            InputError: Where the step lays none.
        """
        step = self.scheme.step(self.step_id)
        if step.mix_id is None:
            raise InputError(f'The step "{step.name}" lays no paint', remedy="choose a coat")
        return self.scheme.mix(step.mix_id)

    @property
    def coat(self) -> Coat | None:
        """The coat of the step, None for primer and spray."""
        return self.scheme.step(self.step_id).coat

    def ramp(self, scheme: Scheme | None = None, paints: Sequence[Paint] = ()) -> Floats:
        """CIELAB of the finished zone, dry, ``(places, 3)``.

        Args:
            scheme: A changed scheme in the place of the use's own.
            paints: Paints that it takes besides those of the project.
        """
        project = self.project
        known = {paint.id for paint in project.paints}
        new = tuple(paint for paint in paints if paint.id not in known)
        if new:
            project = replace(project, paints=(*project.paints, *new))
        view = replace(project.viewing if self.viewing is None else self.viewing, wet=False)
        zone = project.zone(self.zone_id)
        places = np.array(self.relief)
        tone = zone.tones[0] + (zone.tones[1] - zone.tones[0]) * places
        points = Points(tone, places, self.along)
        XYZ = final_xyz(project, self.scheme if scheme is None else scheme, zone.id, points, view)
        return np.asarray(colorimetry.lab_from_xyz(XYZ))


@dataclass(frozen=True, slots=True, kw_only=True)
class Swap:
    """One paint put in the place of another, the rest of the mix as it was.

    Args:
        paint_id: The paint put in.
        factor: How many times the parts of the paint that it replaces.
        mix: The mix with it.
        differences: CIEDE2000 to the ramp as it was, at each place.
        delta_e: Root mean square of those.
    """

    paint_id: str
    factor: float
    mix: Mix
    differences: tuple[float, ...]
    delta_e: float

    @property
    def words(self) -> str:
        """Whether it will be seen."""
        return colorimetry.difference_words(max(self.differences))


# Strengths of a stand-in over that of the paint it replaces.
_FACTORS = (0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0, 2.8, 4.0)
# The best are tuned between those by halving the step so many times.
_TUNED = 4


def swaps(
    use: Use,
    paint_id: str,
    paints: Sequence[Paint],
    *,
    count: int = 10,
    only_in_stock: bool = True,
    go_on: GoOn = always,
) -> tuple[Swap, ...] | None:
    """The best single paints to put in the place of one, in primer, spray or coat.

    Args:
        use: Where it is used.
        paint_id: The paint that is out.
        paints: The shelf.
        count: How many to give.
        only_in_stock: Leave out paints of which nothing is left.
        go_on: Told the share done, 0 to 1; returns False to stop.

    Returns:
        The best first, each with the parts that suit it; None where it was told to stop.

    Raises:
        InputError: Where the step's mix does not hold the paint.
    """
    mix = _holding(use, paint_id)
    wanted = use.ramp()
    held = {ingredient.paint_id for ingredient in mix.ingredients}
    candidates = [
        paint
        for paint in paints
        if not paint.kind.is_clear
        and paint.id not in held
        and not (only_in_stock and is_empty(paint))
    ]
    # Alone in its pot a paint has no parts to vary.
    factors = _FACTORS if len(mix.ingredients) > 1 else (1.0,)
    found = []
    for n, paint in enumerate(candidates):
        found.append(
            min(
                (_swap(use, mix, paint_id, paint, factor, wanted) for factor in factors),
                key=lambda swap: swap.delta_e,
            )
        )
        if not go_on((n + 1) / len(candidates)):
            return None
    found.sort(key=_nearest_first)
    best = found[:count]
    if len(factors) > 1:
        by_id = {paint.id: paint for paint in candidates}
        best = [_tuned(use, mix, paint_id, by_id[one.paint_id], one, wanted) for one in best]
    return tuple(sorted(best, key=_nearest_first))


def _nearest_first(swap: Swap) -> tuple[float, str]:
    return swap.delta_e, swap.paint_id


def _tuned(use: Use, mix: Mix, paint_id: str, paint: Paint, best: Swap, wanted: Floats) -> Swap:
    """The swap with its factor between those of the table."""
    step = _FACTORS[-1] / _FACTORS[-2]
    for _ in range(_TUNED):
        step = float(np.sqrt(step))
        for factor in (best.factor / step, best.factor * step):
            other = _swap(use, mix, paint_id, paint, round(factor, 2), wanted)
            best = min(best, other, key=_nearest_first)
    return best


def _swap(use: Use, mix: Mix, paint_id: str, paint: Paint, factor: float, wanted: Floats) -> Swap:
    ingredients = tuple(
        Ingredient(paint_id=paint.id, parts=round(factor * one.parts, 3))
        if one.paint_id == paint_id
        else one
        for one in mix.ingredients
    )
    changed = replace(mix, ingredients=ingredients)
    each = colorimetry.ciede2000(use.ramp(with_mix(use.scheme, changed), (paint,)), wanted)
    return Swap(
        paint_id=paint.id,
        factor=factor,
        mix=changed,
        differences=tuple(float(value) for value in each),
        delta_e=float(np.sqrt(np.mean(each * each))),
    )


def with_mix(scheme: Scheme, mix: Mix) -> Scheme:
    """The scheme with that mix in the pot of its id."""
    return replace(scheme, mixes=tuple(mix if m.id == mix.id else m for m in scheme.mixes))


def _holding(use: Use, paint_id: str) -> Mix:
    mix = use.mix
    if not mix.parts_of(paint_id):
        name = use.project.paint(paint_id).name
        raise InputError(f'The mix "{mix.name}" holds no "{name}"', remedy="choose another coat")
    return mix


def mix_request(
    use: Use,
    paints: Sequence[Paint],
    *,
    without: Sequence[str] = (),
    keep: Sequence[str] = (),
    only_in_stock: bool = True,
    needed_ml: float | None = None,
    count: int = 10,
    most_parts: int = 12,
) -> Request:
    """The request for new mixes of a coat, laid as it was, so that the ramp stays what it is.

    They are thinned with whatever the coat's mix has most of, medium or water.

    Args:
        use: The coat.
        paints: The shelf.
        without: Ids of paints that are not to be used: the one that is out.
        keep: Ids of paints that stay in the mix.
        only_in_stock: Leave out paints of which nothing is left.
        needed_ml: How much mix is wanted, so that no mix takes more of a paint than there is.
        count: How many to give.
        most_parts: Whole parts of the mix.

    Raises:
        InputError: Where the step is no coat.
    """
    coat = use.coat
    if coat is None:
        step = use.scheme.step(use.step_id)
        raise InputError(f'The step "{step.name}" is no coat', remedy="swap its paint instead")
    project, scheme = use.project, use.scheme
    target = zone_target(
        project, scheme, use.zone_id, relief=use.relief, along=use.along, viewing=use.viewing
    )
    bed = zone_bed(
        project,
        scheme,
        use.zone_id,
        relief=use.relief,
        instead_of=(use.step_id,),
        placement=coat.placement,
        along=use.along,
    )
    clear = [one for one in use.mix.ingredients if project.paint(one.paint_id).kind.is_clear]
    thinner_id = max(clear, key=lambda one: one.parts).paint_id if clear else WATER_ID
    known = {paint.id for paint in paints}
    extra = tuple(p for p in project.paints if p.id == thinner_id and p.id not in known)
    laying = Laying(
        technique=coat.technique,
        films_um=(max(coat.wet_um, 0.1),),
        coats=(coat.passes,),
        most_parts=min(most_parts, MOST_PARTS),
        thinned=(0.0, 0.95),
        any_film=True,
    )
    return Request(
        target=target,
        bed=bed,
        look=look_for(project, use.viewing),
        paints=(*paints, *extra),
        builds=((laying,),),
        thinner_id=thinner_id,
        must=tuple(keep),
        without=tuple(paint_id for paint_id in without if paint_id in known),
        only_in_stock=only_in_stock,
        needed_ml=needed_ml,
        count=count,
    )
