"""From what is asked, and the state of the desk, to a frozen question for a job."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from schemeforge.desk import DeskState
from schemeforge.errors import InputError
from schemeforge.gui.reading import tr
from schemeforge.gui.recipes.asked import Asked, FindRecipe, MixAgain, ReplacePaint
from schemeforge.gui.recipes.finding import Match
from schemeforge.gui.recipes.ground import Ground, held
from schemeforge.gui.recipes.options import Options, all_paints
from schemeforge.gui.recipes.standing_in import Brushing, Refilling, Replacing
from schemeforge.paint import Paint
from schemeforge.plan import pots
from schemeforge.scheme import Project, Scheme

Question = Match | Replacing | Brushing | Refilling
_LEAST_ML = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """What the painter set on the bench.

    Args:
        options: How a recipe may be made.
        grounds: Grounds picked, and those that putting a recipe in has led to, the last first
            choice: undo and redo make one or the other valid.
        left_ml: What is left of paints, where it was said on the bench; None for enough.
    """

    options: Options = field(default_factory=Options)
    grounds: tuple[Ground, ...] = (Ground(),)
    left_ml: tuple[tuple[str, float | None], ...] = ()

    def ground(self, scheme: Scheme, zone_id: str) -> Ground:
        """The last of the grounds that the scheme still has."""
        for ground in reversed(self.grounds):
            if held(ground, scheme, zone_id) == ground:
                return ground
        return Ground()

    def stocked(self, paints: tuple[Paint, ...]) -> tuple[Paint, ...]:
        """The paints with what was said on the bench to be left of them."""
        said: Mapping[str, float | None] = dict(self.left_ml)
        return tuple(
            replace(paint, stock=replace(paint.stock, left_ml=said[paint.id]))
            if paint.id in said
            else paint
            for paint in paints
        )


def question_of(asked: Asked, state: DeskState, before: Project, wishes: Wishes) -> Question:
    """The question.

    Args:
        asked: What is asked.
        state: What the desk holds.
        before: The project when it was asked: what stands in is judged against that, also once it
            was put in.
        wishes: What the painter set.

    Raises:
        InputError: Where there is no zone or scheme to paint.
    """
    scheme, zone = state.scheme, state.zone
    if scheme is None or zone is None:
        raise InputError("There is no zone to paint", remedy="add one on the Batch page")
    paints = all_paints(state.project, state.document.shelf)
    if isinstance(asked, FindRecipe):
        return Match(
            project=state.project,
            scheme=scheme,
            zone=zone,
            paints=paints,
            wanted=asked.wanted,
            ground=wishes.ground(scheme, zone.id),
            options=wishes.options.held(paints),
        )
    now = state.project
    seen = replace(before, viewing=replace(now.viewing, wet=False), lights=now.lights)
    where = {"scheme_id": asked.scheme_id, "zone_id": asked.zone_id, "step_id": asked.step_id}
    if isinstance(asked, ReplacePaint):
        return Replacing(
            project=seen,
            paint_id=asked.paint_id,
            paints=paints,
            only_in_stock=wishes.options.only_in_stock,
            **where,
        )
    if isinstance(asked, MixAgain):
        return Refilling(
            project=seen,
            paints=wishes.stocked(paints),
            needed_ml=needed_ml(asked, seen),
            **where,
        )
    return Brushing(project=seen, **where)


def needed_ml(asked: MixAgain, project: Project) -> float:
    """What is still to be mixed: as asked, or the whole pot."""
    if asked.needed_ml is not None:
        return max(asked.needed_ml, _LEAST_ML)
    scheme = project.scheme(asked.scheme_id)
    mix_id = scheme.step(asked.step_id).mix_id
    filled = next((pot for pot in pots(project, scheme) if pot.mix.id == mix_id), None)
    return _LEAST_ML if filled is None else max(filled.ml, _LEAST_ML)


def with_paint(asked: Asked, project: Project) -> Asked:
    """The question with a paint of the mix where it names none."""
    if not isinstance(asked, ReplacePaint) or asked.paint_id:
        return asked
    scheme = project.scheme(asked.scheme_id)
    mix = scheme.mix(scheme.step(asked.step_id).mix_id or "")
    held_ids = [one.paint_id for one in mix.ingredients]
    coloured = [i for i in held_ids if not project.paint(i).kind.is_clear]
    return replace(asked, paint_id=(coloured or held_ids)[0])


def title_of(asked: Asked) -> str:
    """What the bench is about, for its head."""
    if isinstance(asked, FindRecipe):
        return tr("What to mix")
    if isinstance(asked, ReplacePaint):
        return tr("A paint is out")
    return tr("The pot ran dry") if isinstance(asked, MixAgain) else tr("Without an airbrush")
