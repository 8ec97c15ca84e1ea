"""Questions of the bench as frozen requests, and the work that answers them.

Nothing here knows Qt: the bench runs ``answered`` beside the window.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from schemeforge import colorimetry
from schemeforge.gui.recipes.answers import Answer, Findings, Putting, Slip
from schemeforge.gui.recipes.asked import Wanted
from schemeforge.gui.recipes.ground import Ground, bed_of, ground_xyz, placement_of
from schemeforge.gui.recipes.options import Options
from schemeforge.paint import WATER_ID, Paint
from schemeforge.plan.pace import minutes_per_model, set_up_minutes
from schemeforge.recipe import (
    GoOn,
    Ranking,
    Recipe,
    Request,
    look_for,
    ranking,
)
from schemeforge.recipe.saying import listed
from schemeforge.recipe.target import lab_rows
from schemeforge.scheme import (
    Ingredient,
    Placement,
    Project,
    Scheme,
    Step,
    Viewing,
    Zone,
    edits,
)

Tell = Callable[[Slip | Findings], None]
MOST_SHOWN = 12
# Of a pot's name, so that a step may be called after it and its technique.
_LONGEST = 90
# On the way fewer: their cards are made while the search goes on.
_MOST_SO_FAR = 6


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Match:
    """What to mix for a target on a zone.

    Args:
        project: The document.
        scheme: The scheme that the recipe is for.
        zone: The zone.
        paints: All that may be mixed.
        wanted: The target.
        ground: What it is laid on.
        options: How, and of what.
    """

    project: Project
    scheme: Scheme
    zone: Zone
    paints: tuple[Paint, ...]
    wanted: Wanted
    ground: Ground
    options: Options

    @property
    def placement(self) -> Placement:
        """Where the coats will go."""
        return self.options.placement(placement_of(self.ground, self.scheme))

    @property
    def viewing(self) -> Viewing:
        """That of the project, dry."""
        return replace(self.project.viewing, wet=False)

    def request(self) -> Request:
        """What the search is asked; raises InputError where the options contradict each other."""
        options, look = self.options, look_for(self.project)
        bed = bed_of(
            self.project, self.scheme, self.zone, self.ground, self.wanted.places, self.placement
        )
        return Request(
            target=self.wanted.target(self.project, self.viewing, bed, look),
            bed=bed,
            look=look,
            paints=self.paints,
            builds=options.builds,
            thinner_id=options.thinner_id,
            must=options.must,
            without=options.without,
            only_in_stock=options.only_in_stock,
            count=MOST_SHOWN,
        )

    def slip(self, request: Request) -> Slip:
        """Target and ground to be looked at."""
        places = self.wanted.places
        under = ground_xyz(
            self.project, self.scheme, self.zone, self.ground, places, request.look, self.viewing
        )
        return Slip(
            name=self.wanted.name,
            target=request.target.lab,
            ground=lab_rows(colorimetry.lab_from_xyz(under)),
            places=places,
        )

    def answered(self, go_on: GoOn, tell: Tell, known: Request | None) -> Findings | None:
        """The recipes; None where it was told to stop, or the request is the ``known`` one.

        Args:
            go_on: Told the share done, 0 to 1; returns False to stop.
            tell: Told the slip, and then what is found on the way.
            known: The request that was answered last.
        """
        request = self.request()
        if known is not None and is_same(request, known):
            return None
        slip = self.slip(request)
        tell(slip)

        def so_far(recipes: tuple[Recipe, ...]) -> None:
            answers = tuple(self._answer(recipe) for recipe in recipes[:_MOST_SO_FAR])
            tell(Findings(slip=slip, groups=(("recipes", answers),), is_done=False))

        found = ranking(request, go_on=go_on, so_far=so_far, hours_of=self.hours_of)
        return None if found is None else self._findings(slip, request, found)

    def _findings(self, slip: Slip, request: Request, found: Ranking) -> Findings:
        answers = tuple(
            replace(self._answer(entry.recipe), ranked=entry) for entry in found.recipes
        )
        return Findings(
            slip=slip,
            groups=(("recipes", answers),),
            searched=found.searched,
            request=request,
            nearest=found.nearest,
        )

    def _answer(self, recipe: Recipe) -> Answer:
        return Answer(
            lab=recipe.lab,
            differences=recipe.differences,
            delta_e=recipe.delta_e,
            what=recipe,
            has_place=not self.ground.kind.is_plain,
        )

    def put(self, project: Project, answer: Answer) -> Putting:
        """The recipe as coats on the zone, in the place of what the ground says that goes."""
        recipe = answer.what
        assert isinstance(recipe, Recipe)  # noqa: S101 - it answers this question
        return put_recipe(
            project,
            self.scheme.id,
            self.zone.id,
            recipe,
            ground=self.ground,
            placement=self.placement,
            paints=self.paints,
        )

    def hours_of(self, recipe: Recipe) -> float:
        """Hours that the recipe's coats take over the batch, mixing and setting up included."""
        models = sum(group.count for group in self.project.groups)
        minutes = 0.0
        for coat in recipe.coats:
            step = Step(id="new", name="new", layer=coat.as_coat("new"), zone_ids=(self.zone.id,))
            minutes += models * minutes_per_model(step) + set_up_minutes(step)
            minutes += self.project.habits.mixing_minutes * (len(coat.all_parts) > 1)
        return minutes / 60.0


def put_recipe(
    project: Project,
    scheme_id: str,
    zone_id: str,
    recipe: Recipe,
    *,
    ground: Ground,
    placement: Placement,
    paints: Sequence[Paint],
) -> Putting:
    """The recipe as coats on a zone, in the place of what the ground says that goes."""
    ids = [part.paint_id for coat in recipe.coats for part in coat.all_parts]
    project = carrying(project, paints, ids)
    names = {paint.id: paint.name for paint in project.paints}
    coats = [
        edits.NewCoat(
            name=listed([names[part.paint_id] for part in coat.paints])[:_LONGEST].rstrip(),
            ingredients=tuple(
                Ingredient(paint_id=part.paint_id, parts=float(part.parts))
                for part in coat.all_parts
            ),
            technique=coat.technique,
            wet_um=coat.wet_um,
            passes=coat.coats,
            placement=placement,
        )
        for coat in recipe.coats
    ]
    gone = ground.replaces(project.scheme(scheme_id), zone_id)
    return edits.lay_coats(project, scheme_id, zone_id, coats, instead_of=gone)


def carrying(project: Project, paints: Sequence[Paint], paint_ids: Sequence[str]) -> Project:
    """The project with the paints of those ids, taken from the shelf where it lacks them."""
    held = {paint.id for paint in project.paints} | {WATER_ID}
    for paint in paints:
        if paint.id in paint_ids and paint.id not in held:
            project = edits.put_paint(project, paint)
    return project


def is_same(one: Request, other: Request) -> bool:
    """True where two requests ask for the very same search."""
    if (one.target, one.look, one.builds, one.thinner_id) != (
        other.target,
        other.look,
        other.builds,
        other.thinner_id,
    ):
        return False
    if (one.must, one.without, one.only_in_stock, one.paints) != (
        other.must,
        other.without,
        other.only_in_stock,
        other.paints,
    ):
        return False
    return all(
        np.array_equal(a, b)
        for a, b in (
            (one.bed.reflectance, other.bed.reflectance),
            (one.bed.weights, other.bed.weights),
            (one.bed.film, other.bed.film),
        )
    ) and _same_above(one, other)


def _same_above(one: Request, other: Request) -> bool:
    above, below = one.bed.above, other.bed.above
    if above is None or below is None:
        return above is below
    return all(np.array_equal(a, b) for a, b in zip(above, below, strict=True))
