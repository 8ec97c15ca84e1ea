"""The steps of a batch in painting order, with who gets them, minutes, waits and cautions."""

from dataclasses import dataclass

from schemeforge.plan.cautions import Caution, cautions_for
from schemeforge.plan.drying import wait_minutes
from schemeforge.plan.letters import pot_letters
from schemeforge.plan.pace import Pace, paces, passes_of, set_up_minutes, share_of
from schemeforge.plan.tools import SprayHint, spray_hint, tool_words
from schemeforge.plan.who import Grid, Receiver, grid, receivers, who_words
from schemeforge.scheme import (
    Coat,
    Primer,
    Project,
    ReliefKind,
    Scheme,
    Spray,
    Step,
)
from schemeforge.scheme.techniques import heaviness_words, is_sprayed


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedStep:
    """One step of the batch.

    Args:
        number: Its place in painting order, from 1; steps that nobody gets keep theirs.
        step: The document's step, for its notes and placement.
        zones: Names of its zones; empty for work on the whole model.
        receivers: The groups that get it.
        who: The same in words; "all" where every group gets it on every zone of the step.
        models: How many models get it on at least one zone.
        pot: Letter of the pot, "" for work without one.
        technique: In trade words, for example "feathered glaze, light, 2 passes".
        where: Where the coat goes, in words, "" where it is even all over.
        minutes_per_model: Hands-on time at one model that gets the whole step: all its zones
            and passes.
        set_up_minutes: Setting up and cleaning, counted once; 0 where nobody gets the step.
        hands_on_minutes: Time at the models, all of them together, without set-up.
        wait_minutes: Drying before the next coat on the same zone, and between passes.
        passes: How many times it is laid; 1 for work.
        sub_batches: Sizes of the runs in which the models are done, adding up to ``models``.
        cautions: What can hurt.
        sprayed: True where paint is put into the air.
        tool: Brush or tool, in words.
        spray: Needle, pressure and distance for sprayed steps, else None.
    """

    number: int
    step: Step
    zones: tuple[str, ...]
    receivers: tuple[Receiver, ...]
    who: str
    models: int
    pot: str
    technique: str
    where: str
    minutes_per_model: float
    set_up_minutes: float
    hands_on_minutes: float
    wait_minutes: float
    passes: int
    sub_batches: tuple[int, ...]
    cautions: tuple[Caution, ...]
    sprayed: bool
    tool: str
    spray: SprayHint | None

    @property
    def total_minutes(self) -> float:
        """Set-up and time at the models together."""
        return self.set_up_minutes + self.hands_on_minutes


def planned_steps(
    project: Project, scheme: Scheme, *, cells: Grid | None = None
) -> tuple[PlannedStep, ...]:
    """The scheme's steps in painting order with the painter's own times or the trade's.

    Minutes come from the painter's timings, else from the figure given for the step, else from
    the trade; see ``pace``. A group that gets a brushed step on some of its zones only takes that
    share of the time.

    Args:
        project: The document.
        scheme: One of its schemes.
        cells: ``who.grid`` of the two where it is at hand.
    """
    cells = grid(project, scheme) if cells is None else cells
    letters = pot_letters(scheme)
    names = {zone.id: zone.name for zone in project.zones}
    own = paces(project, scheme)
    return tuple(
        _planned(
            project,
            step,
            number,
            zones=tuple(names[zone_id] for zone_id in step.zone_ids),
            receiving=receivers(project, step.zone_ids, cells[step.id]),
            pot=letters.get(step.mix_id, "") if step.mix_id else "",
            pace=own[step.id],
        )
        for number, step in enumerate(scheme.steps, start=1)
    )


def _planned(
    project: Project,
    step: Step,
    number: int,
    *,
    zones: tuple[str, ...],
    receiving: tuple[Receiver, ...],
    pot: str,
    pace: Pace,
) -> PlannedStep:
    models = sum(receiver.models for receiver in receiving)
    each = pace.minutes
    return PlannedStep(
        number=number,
        step=step,
        zones=zones,
        receivers=receiving,
        who=who_words(project, receiving),
        models=models,
        pot=pot,
        technique=technique_words(step),
        where=where_words(step),
        minutes_per_model=each,
        set_up_minutes=set_up_minutes(step) if models else 0.0,
        hands_on_minutes=sum(each * r.models * share_of(step, len(r.zones)) for r in receiving),
        wait_minutes=wait_minutes(step),
        passes=passes_of(step),
        sub_batches=sub_batches(models, project.habits.sub_batch),
        cautions=cautions_for(step),
        sprayed=is_sprayed(step),
        tool=tool_words(step),
        spray=spray_hint(step),
    )


def sub_batches(models: int, largest: int) -> tuple[int, ...]:
    """Sizes of the fewest runs of at most ``largest`` models, as even as can be, larger first.

    Even runs, so that no lone model at the end has to wait for its own coat to dry.
    """
    runs = -(-models // largest)
    return tuple(models // runs + (place < models % runs) for place in range(runs))


def technique_words(step: Step) -> str:
    """How the step is done, in trade words: technique, heaviness and passes."""
    layer = step.layer
    if isinstance(layer, Primer):
        return "primer, all over"
    if isinstance(layer, Spray):
        return "sprayed from above"
    if isinstance(layer, Coat):
        words = f"{layer.technique.value}, {heaviness_words(layer)}"
        return words if layer.passes == 1 else f"{words}, {layer.passes} passes"
    return f"{layer.kind.value}, sprayed" if layer.sprayed else layer.kind.value


def where_words(step: Step) -> str:
    """Where the coat goes: over relief, then along the part in percent of its length from the root.

    "" for an even coat and for what is no coat.
    """
    if step.coat is None:
        return ""
    relief, along = step.coat.placement.relief, step.coat.placement.along
    words = [] if relief.kind is ReliefKind.EVEN else [relief.kind.value]
    if not along.is_even:
        words.append(f"from {along.start:.0%} to {along.end:.0%} of the length")
        ends = [
            f"{end} over {length:.0%}"
            for end, length in (("start", along.feather_start), ("end", along.feather_end))
            if length
        ]
        if ends:
            words.append(f"feather the {' and the '.join(ends)}")
    return ", ".join(words)
