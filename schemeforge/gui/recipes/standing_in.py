"""Work of the bench for what is not there: a paint, an airbrush, a pot that ran dry."""

from dataclasses import dataclass, replace

from schemeforge.gui.recipes.answers import Answer, Findings, Putting, Slip
from schemeforge.gui.recipes.finding import MOST_SHOWN, Tell, carrying
from schemeforge.paint import Paint
from schemeforge.recipe import (
    Brushed,
    GoOn,
    Recipe,
    Swap,
    Use,
    brushed_scheme,
    mix_request,
    ranking,
    remix,
    swaps,
    with_mix,
    without_airbrush,
)
from schemeforge.recipe.target import lab_rows
from schemeforge.scheme import Project, edits

_SWAPS = 6
_MIXES = 8


def _slip(use: Use, name: str) -> Slip:
    """The zone as it is to stay, and what lies below the coat in question."""
    stack = [step.id for step in use.scheme.steps]
    below = tuple(use.scheme.steps[: stack.index(use.step_id)])
    bare = replace(use.scheme, steps=below, shares=())
    return Slip(
        name=name,
        target=lab_rows(use.ramp()),
        ground=lab_rows(use.ramp(bare)),
        places=use.relief,
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class AtStep:
    """A question about one step of a scheme, as it is seen on one zone.

    Args:
        project: The document.
        scheme_id: The scheme.
        zone_id: The zone on which it is judged.
        step_id: The step, or one that is laid from the pot in question.
    """

    project: Project
    scheme_id: str
    zone_id: str
    step_id: str

    @property
    def use(self) -> Use:
        """The step in its scheme, on that zone."""
        return Use(
            project=self.project,
            scheme=self.project.scheme(self.scheme_id),
            zone_id=self.zone_id,
            step_id=self.step_id,
        )

    def begun(self, tell: Tell) -> tuple[Use, Slip]:
        """The use, and what is asked, which is told before any answer is known."""
        use = self.use
        slip = _slip(use, self.project.zone(self.zone_id).name)
        tell(slip)
        return use, slip


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Replacing(AtStep):
    """A paint of a coat's mix is out.

    Args:
        paint_id: The paint that is out.
        paints: All that may take its place.
        only_in_stock: Leave out paints of which nothing is left.
    """

    paint_id: str
    paints: tuple[Paint, ...]
    only_in_stock: bool

    def answered(self, go_on: GoOn, tell: Tell, _known: object) -> Findings | None:
        """Single paints in its place, then other mixes; None where it was told to stop."""
        use, slip = self.begun(tell)
        swapped = swaps(
            use,
            self.paint_id,
            self.paints,
            count=_SWAPS,
            only_in_stock=self.only_in_stock,
            go_on=lambda share: go_on(0.5 * share),
        )
        if swapped is None:
            return None
        singles = ("swaps", tuple(self._swapped(use, swap) for swap in swapped))
        if use.coat is None or use.project.paint(self.paint_id).kind.is_clear:
            return Findings(slip=slip, groups=(singles,))
        tell(Findings(slip=slip, groups=(singles,), is_done=False))
        request = mix_request(
            use,
            self.paints,
            without=(self.paint_id,),
            only_in_stock=self.only_in_stock,
            count=_MIXES,
        )
        found = ranking(request, go_on=lambda share: go_on(0.5 + 0.5 * share))
        if found is None:
            return None
        mixes = tuple(replace(mixed(entry.recipe), ranked=entry) for entry in found.recipes)
        return Findings(
            slip=slip,
            groups=(singles, ("mixes", mixes)),
            searched=found.searched,
            request=request,
            nearest=found.nearest,
        )

    def _swapped(self, use: Use, swap: Swap) -> Answer:
        paint = next(paint for paint in self.paints if paint.id == swap.paint_id)
        lab = use.ramp(with_mix(use.scheme, swap.mix), (paint,))
        return Answer(
            lab=lab_rows(lab),
            differences=swap.differences,
            delta_e=swap.delta_e,
            what=swap,
        )

    def put(self, project: Project, answer: Answer) -> Putting:
        """The mix into the pot."""
        return put_mix(project, self.use, answer, self.paints)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Brushing(AtStep):
    """The spray from above, without an airbrush."""

    def answered(self, go_on: GoOn, tell: Tell, _known: object) -> Findings | None:
        """The ways to brush it, nearest first; None where it was told to stop."""
        use, slip = self.begun(tell)
        found = without_airbrush(use, count=4, go_on=go_on)
        if found is None:
            return None
        answers = tuple(self._brushed(use, way) for way in found)
        return Findings(slip=slip, groups=(("brushes", answers),))

    def _brushed(self, use: Use, way: Brushed) -> Answer:
        return Answer(
            lab=lab_rows(use.ramp(brushed_scheme(use, way.coat, way.mix))),
            differences=way.differences,
            delta_e=way.delta_e,
            what=way,
        )

    def put(self, project: Project, answer: Answer) -> Putting:
        """The brush in the place of the spray."""
        way = answer.what
        assert isinstance(way, Brushed)  # noqa: S101 - it answers this question
        changed = edits.brush_instead(project, self.scheme_id, self.step_id, way.coat, way.mix)
        return changed, (self.step_id,)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Refilling(AtStep):
    """A pot that ran dry.

    Args:
        paints: All that may be mixed, with what is left of each.
        needed_ml: What the rest of the batch takes.
    """

    paints: tuple[Paint, ...]
    needed_ml: float

    def answered(self, go_on: GoOn, tell: Tell, _known: object) -> Findings | None:
        """The same again where it can be had, else the nearest mixes from what is left."""
        use, slip = self.begun(tell)
        found = remix(use, self.paints, self.needed_ml, count=MOST_SHOWN, go_on=go_on)
        if found is None:
            return None
        answers = tuple(mixed(recipe) for recipe in found.others)
        groups = (("mixes", answers),) if answers else ()
        return Findings(slip=slip, groups=groups, verdict=found.verdict)

    def put(self, project: Project, answer: Answer) -> Putting:
        """The mix into the pot."""
        return put_mix(project, self.use, answer, self.paints)


def mixed(recipe: Recipe) -> Answer:
    """Another mix in the pot of a coat that is laid as before."""
    return Answer(
        lab=recipe.lab,
        differences=recipe.differences,
        delta_e=recipe.delta_e,
        what=recipe,
    )


def put_mix(project: Project, use: Use, answer: Answer, paints: tuple[Paint, ...]) -> Putting:
    """Another mix in the pot that the use is laid from, for every step laid from it."""
    what = answer.what
    if isinstance(what, Recipe):
        mix = replace(what.coats[0].as_mix(use.mix.id, use.mix.name), note=use.mix.note)
    else:
        assert isinstance(what, Swap)  # noqa: S101 - nothing else is a mix
        mix = what.mix
    ids = [ingredient.paint_id for ingredient in mix.ingredients]
    changed = edits.update_mix(carrying(project, paints, ids), use.scheme.id, mix)
    return changed, (use.step_id,)
