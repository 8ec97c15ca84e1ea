"""Pots put right by what was used: after the first models, the estimate follows the painter."""

from collections.abc import Sequence
from dataclasses import dataclass

from schemeforge.plan.progress import NOTHING_DONE, Progress
from schemeforge.plan.volumes import Pot, film_ml, pots
from schemeforge.plan.who import Grid, grid
from schemeforge.scheme import Project, Scheme, Step
from schemeforge.scheme.techniques import is_sprayed

# Fewer models say more about the first brush-load than about the batch (common practice).
ENOUGH_MODELS = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class PotState:
    """A pot as it stands.

    Args:
        pot: The pot as it was estimated for the whole batch.
        factor: What is used over what was estimated; 1 until enough models are done.
        models_seen: Models that the painter's records of this pot are of.
        needed_ml: What the whole batch takes by that, with what stays in the pot.
        still_ml: What the models that are not done take, with what stays in the pot.
        left_ml: What is left in it by the latest record and by what was done since; None where
            there is no record.
        short_ml: What is missing, 0 where it lasts; None without a record.
        models_left: Models that it lasts for; None without a record or where it lasts.
    """

    pot: Pot
    factor: float
    models_seen: int
    needed_ml: float
    still_ml: float
    left_ml: float | None
    short_ml: float | None
    models_left: int | None

    @property
    def is_reset(self) -> bool:
        """True where the estimate follows what was used."""
        return self.models_seen >= ENOUGH_MODELS

    @property
    def runs_short(self) -> bool:
        """True where what was used says that it does not last."""
        return self.is_reset and bool(self.short_ml)

    @property
    def sentence(self) -> str:
        """How the pot stands, and what to do before it runs short."""
        name = f"Pot {self.pot.letter}, {self.pot.mix.name}"
        if self.left_ml is None or self.short_ml is None:
            return f"{name}: {self.needed_ml:.1f} ml for the batch, by estimate."
        if not self.is_reset:
            return (
                f"{name}: {self.left_ml:.1f} ml left; the estimate is put right after "
                f"{ENOUGH_MODELS} models, {self.models_seen} are recorded."
            )
        head = f"{name}: {self.left_ml:.1f} ml left, {self.still_ml:.1f} ml still needed"
        if not self.short_ml:
            return f"{head}: it lasts."
        return (
            f"{head}: it runs short after {self.models_left} more models; mix {self.short_ml:.1f} "
            "ml before, and stir both together, since a remix shows in the ranks."
        )


def pot_states(
    project: Project,
    scheme: Scheme,
    progress: Progress = NOTHING_DONE,
    *,
    filled: Sequence[Pot] | None = None,
) -> tuple[PotState, ...]:
    """All pots of the scheme that are needed, as they stand.

    Records tell what models of a group, or of all alike, took of what was mixed. All records of a
    pot count; what is left is told by the latest in the list.

    Args:
        project: The document, whose ``pot_uses`` count.
        scheme: The scheme that is painted.
        progress: Where the work stands.
        filled: ``volumes.pots`` of the two where they are at hand.
    """
    cells = grid(project, scheme)
    filled = pots(project, scheme, cells=cells) if filled is None else filled
    return tuple(_state(project, scheme, pot, cells, progress) for pot in filled if pot.ml)


def _state(project: Project, scheme: Scheme, pot: Pot, cells: Grid, progress: Progress) -> PotState:
    habits = project.habits
    uses = [
        use for use in project.pot_uses if (use.scheme_id, use.mix_id) == (scheme.id, pot.mix.id)
    ]
    share = _shares(project, scheme, pot, cells)
    planned = sum(_of_models(project, share, use.group_id, use.models) for use in uses)
    used = sum(use.mixed_ml - use.left_ml for use in uses)
    seen = sum(use.models for use in uses)
    # The film on the models and what misses them is asked of the pot as the painter draws it.
    enough = seen >= ENOUGH_MODELS and planned > 0.0
    factor = used / planned if enough else 1.0
    each = 1.0 if enough else habits.waste
    whole = sum(sum(row.values()) for row in share.values())
    done = _done_ml(project, pot, share, progress)
    still = max(0.0, whole - done) * factor * each
    left = short = models_left = None
    if uses:
        since = max(0.0, done - planned) * factor * each
        left = max(0.0, uses[-1].left_ml - since)
        short = max(0.0, still + habits.stays_in_pot_ml - left) if still else 0.0
        if short:
            models_left = _lasts(project, pot, progress, left - habits.stays_in_pot_ml, still)
    return PotState(
        pot=pot,
        factor=factor,
        models_seen=seen,
        needed_ml=whole * factor * each + habits.stays_in_pot_ml,
        still_ml=still,
        left_ml=left,
        short_ml=short,
        models_left=models_left,
    )


def _shares(project: Project, scheme: Scheme, pot: Pot, cells: Grid) -> dict[str, dict[str, float]]:
    """By step and group id, what the pot gives for the whole group, overspray included, ml."""
    rows: dict[str, dict[str, float]] = {}
    for step_id in pot.step_ids:
        step = scheme.step(step_id)
        rows[step_id] = {}
        for group in project.groups:
            own = [cell for cell in cells[step_id] if cell.group.id == group.id]
            if own:
                rows[step_id][group.id] = film_ml(project, step, own) * _spray_factor(project, step)
    return rows


def _spray_factor(project: Project, step: Step) -> float:
    return 1.0 / (1.0 - project.habits.overspray) if is_sprayed(step) else 1.0


def _of_models(
    project: Project, share: dict[str, dict[str, float]], group_id: str, models: int
) -> float:
    """What so many models of a group, or of all alike, were to take, ml."""
    groups = [g for g in project.groups if g.count and group_id in {"", g.id}]
    count = sum(group.count for group in groups)
    whole = sum(row.get(group.id, 0.0) for row in share.values() for group in groups)
    return whole * models / count if count else 0.0


def _done_ml(
    project: Project, pot: Pot, share: dict[str, dict[str, float]], progress: Progress
) -> float:
    return sum(
        share[step_id].get(group.id, 0.0) * progress.done.get((step_id, group.id), 0) / group.count
        for step_id in pot.step_ids
        for group in project.groups
        if group.count
    )


def _lasts(project: Project, pot: Pot, progress: Progress, left: float, still: float) -> int:
    """For how many of the models still to do the pot lasts."""
    models = max(
        sum(group.count - progress.done.get((step_id, group.id), 0) for group in project.groups)
        for step_id in pot.step_ids
    )
    return int(models * max(0.0, left) / still + 1e-9)
