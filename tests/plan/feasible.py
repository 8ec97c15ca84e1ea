"""Holds a plan against the batch, model by model, from what the plan says alone."""

from collections import defaultdict
from itertools import pairwise

from schemeforge.plan import Schedule
from schemeforge.scheme import Project, Scheme, Step, zone_steps
from schemeforge.scheme.techniques import defaults_for

TINY = 1e-5


def check(project: Project, scheme: Scheme, plan: Schedule) -> None:
    """Raises where the plan does something twice, not at all, too early, or out of its sitting.

    Breaks must be off: models are taken to follow each other evenly.
    """
    assert project.habits.break_minutes == 0.0
    times = times_of(plan)
    for group in project.groups:
        for model in range(group.count):
            own = {key[2:]: span for key, span in times.items() if key[:2] == (group.id, model)}
            steps = [s for s in scheme.steps if _gets(project, scheme, group.id, s)]
            assert set(own) == {(s.id, p) for s in steps for p in range(1, _passes(s) + 1)}
            for chain in _chains(project, scheme, group.id, steps):
                for (before, p), (after, q) in pairwise(chain):
                    dry = own[before.id, p][1] + _wait(before)
                    assert own[after.id, q][0] >= dry - TINY, (group.id, model, before.id, after.id)
    _check_hands(plan)


def times_of(plan: Schedule) -> dict[tuple[str, int, str, int], tuple[float, float]]:
    """Begin and end of every model in every step and pass, on the plan's line of minutes."""
    found: dict[tuple[str, int, str, int], tuple[float, float]] = {}
    halves: dict[tuple[str, int, str, int], float] = defaultdict(float)
    pieces: dict[tuple[str, str, int], int] = defaultdict(int)
    for sitting in plan.sittings:
        zero = sitting.begin - sitting.laying_out
        for stretch in sitting.stretches:
            at = zero + stretch.start
            each = (stretch.end - stretch.start) / stretch.count
            for part in stretch.models:
                done, model = part.models, part.first
                pieces[part.group.id, stretch.step.id, stretch.layer_pass] += 1
                key = (part.group.id, model, stretch.step.id, stretch.layer_pass)
                while done > TINY:
                    key = (part.group.id, model, stretch.step.id, stretch.layer_pass)
                    some = min(done, 1.0 - halves[key])
                    halves[key] += some
                    begin = found[key][0] if key in found else at
                    at += some * each
                    found[key] = (begin, at)
                    done -= some
                    model += halves[key] > 1.0 - TINY
    # Each piece may leave up to TINY of a model to the next, where sittings hold less than one.
    for (group, _model, step, layer_pass), share in halves.items():
        assert abs(share - 1.0) < TINY * (1 + pieces[group, step, layer_pass]), (group, step)
    return found


def _check_hands(plan: Schedule) -> None:
    for sitting in plan.sittings:
        for hands in range(plan.hands):
            row = [s for s in sitting.stretches if s.hands == hands]
            free = sitting.laying_out
            for stretch in row:
                assert stretch.begin >= free - TINY
                assert stretch.start >= stretch.begin - TINY
                assert stretch.end >= stretch.start - TINY
                free = stretch.end
            assert free <= sitting.minutes + TINY


def _gets(project: Project, scheme: Scheme, group_id: str, step: Step) -> bool:
    return not step.zone_ids or any(
        step in zone_steps(scheme, zone.id, group_id) for zone in project.zones
    )


def _chains(
    project: Project, scheme: Scheme, group_id: str, steps: list[Step]
) -> list[list[tuple[Step, int]]]:
    """What follows what on each zone, pass by pass; work on the whole model is on every zone."""
    rows = []
    for zone in project.zones:
        on_zone = zone_steps(scheme, zone.id, group_id)
        row = [s for s in steps if not s.zone_ids or s in on_zone]
        rows.append([(s, p) for s in row for p in range(1, _passes(s) + 1)])
    return rows


def _passes(step: Step) -> int:
    return step.coat.passes if step.coat is not None else 1


def _wait(step: Step) -> float:
    return defaults_for(step).wait_minutes if step.wait_minutes is None else step.wait_minutes
