"""What a question of the bench brings to light, as immutable values."""

from dataclasses import dataclass

from schemeforge.recipe import Brushed, Ranked, Recipe, Request, Saying, Swap
from schemeforge.recipe.target import Lab
from schemeforge.scheme import Project

# The changed project, and the steps that were laid or changed, lowest first.
Putting = tuple[Project, tuple[str, ...]]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Slip:
    """What is asked, as colours: the target, and the ground that a recipe lies on.

    Args:
        name: Of the target, in words.
        target: CIELAB, recess first.
        ground: CIELAB of the ground at the same places.
        places: Where on the relief.
    """

    name: str
    target: tuple[Lab, ...]
    ground: tuple[Lab, ...]
    places: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Answer:
    """One way to the target.

    Args:
        lab: The colours that it gives, recess first.
        differences: CIEDE2000 to the target at each place.
        delta_e: Root mean square of those.
        what: A recipe, one paint in the place of another, or a brush in the place of the spray.
        ranked: What speaks for and against it, where it was ranked.
        has_place: True where the question knows a coat or a pot to put it into.
    """

    lab: tuple[Lab, ...]
    differences: tuple[float, ...]
    delta_e: float
    what: Recipe | Swap | Brushed
    ranked: Ranked | None = None
    has_place: bool = True


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Findings:
    """All that was found.

    Args:
        slip: What was asked.
        groups: Answers in the order that they are shown in, each group with what it is:
            "recipes", "swaps", "mixes" or "brushes".
        searched: How many recipes there were to choose from, 0 where they were not counted.
        verdict: One sentence on the whole, where there is one.
        request: What was searched, and
        nearest: its nearest recipe, to ask what holds it back.
        is_done: False for what is known on the way.
    """

    slip: Slip
    groups: tuple[tuple[str, tuple[Answer, ...]], ...]
    searched: int = 0
    verdict: Saying | None = None
    request: Request | None = None
    nearest: Recipe | None = None
    is_done: bool = True

    @property
    def answers(self) -> tuple[Answer, ...]:
        """All answers in the order shown."""
        return tuple(answer for _, answers in self.groups for answer in answers)
