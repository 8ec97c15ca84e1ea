"""The order of tasks: a few rules of thumb tried out, the best of them improved bit by bit.

Every rule takes, among the tasks that nothing but drying holds up, the one that loses least time,
so that it waits a little where that saves a change of colour or of tool; rules differ in how much
they favour tasks with much work and drying behind them, and groups that come first. Then tasks
are moved to other places in the order as long as that helps. Everything is fixed by a seed.
"""

import random
from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from schemeforge.plan.job import TURN_MINUTES, Job
from schemeforge.plan.placing import Placer

_SEED = 20
# Tasks placed while improving, so that large batches cost no more time than small ones.
_PLACINGS = 6_000
_MOST_TRIES = 600
_ENOUGH = 0.01
# Share of the cost that a move may cost more at first.
_THRESHOLD = 0.1
# Above that many tasks the rules alone have to do.
_LARGE = 700
_FAR = 10_000.0
_RANKED = (2.0, 8.0, 30.0, 1000.0)


@dataclass(frozen=True, slots=True)
class Rule:
    """What a rule of thumb favours.

    Attributes:
        critical: Minutes lost that a minute of work and drying behind a task is worth.
        ranked: Minutes lost that it is worth to go on with a group of the next higher priority.
    """

    critical: float
    ranked: float = 0.0


RULES = (
    Rule(0.0),
    Rule(0.02),
    Rule(0.1),
    Rule(0.4),
    Rule(5.0),
)


def best_order(job: Job, *, tries: int | None = None) -> tuple[int, ...]:
    """The order of all tasks that costs least among those tried.

    Args:
        job: The tasks.
        tries: Moves tried; None for as many as the batch's size allows, 0 for the rules alone.
    """
    best: tuple[int, ...] = ()
    least = float("inf")
    for order in _candidates(job):
        cost = Placer(job).run(order).cost
        if cost < least:
            best, least = order, cost
    if tries is None:
        count = len(job.tasks)
        tries = min(_MOST_TRIES, _PLACINGS // count) if 1 < count <= _LARGE else 0
    return _improved(job, best, least, tries)


def _candidates(job: Job) -> Iterator[tuple[int, ...]]:
    yield by_step(job)
    ranks = _ranks(job)
    rules = RULES if len(job.tasks) <= _LARGE else RULES[1:3]
    if len(set(ranks)) > 1:
        rules = (*rules, *(Rule(0.02, ranked=minutes) for minutes in _RANKED))
    for rule in rules:
        yield dispatched(job, rule, ranks)


def by_step(job: Job) -> tuple[int, ...]:
    """First come, first served: each step on all models before the next step begins."""
    return tuple(
        sorted(
            range(len(job.tasks)),
            key=lambda n: (job.tasks[n].number, job.tasks[n].layer_pass, n),
        )
    )


def dispatched(job: Job, rule: Rule, ranks: Sequence[int]) -> tuple[int, ...]:
    """The order in which the rule takes the tasks."""
    placer = Placer(job)
    waiting = [len(row) for row in job.before]
    pinned = _pin_ranks(job)
    bias = [
        pinned[n] * _FAR - rule.critical * job.tail[n] + rule.ranked * ranks[n]
        for n in range(len(job.tasks))
    ]
    # Tasks alike in all but the models become dry in the order in which they are opened, so that
    # only the first of each kind has to be looked at.
    queues: dict[tuple[int, int, int], deque[int]] = {}
    heads: dict[int, float] = {}
    order: list[int] = []

    def open_(task: int) -> None:
        kind = (job.step[task], job.tasks[task].layer_pass, job.group[task])
        queue = queues.setdefault(kind, deque())
        queue.append(task)
        if len(queue) == 1:
            heads[task] = placer.ready(task)

    for n, count in enumerate(waiting):
        if not count:
            open_(n)
    while heads:
        task = min(heads, key=lambda n: (placer.lost(n, heads[n]) + bias[n], n))
        del heads[task]
        queue = queues[job.step[task], job.tasks[task].layer_pass, job.group[task]]
        queue.popleft()
        if queue:
            heads[queue[0]] = placer.ready(queue[0])
        placer.place(task)
        order.append(task)
        for behind in job.behind[task]:
            waiting[behind] -= 1
            if not waiting[behind]:
                open_(behind)
    return tuple(order)


def _pin_ranks(job: Job) -> list[int]:
    """0 for what is pinned or leads up to something pinned, 1 for the rest."""
    ranks = [0 if end < float("inf") else 1 for end in job.pin_end]
    for n in range(len(ranks) - 1, -1, -1):
        if not ranks[n]:
            for earlier, _ in job.before[n]:
                ranks[earlier] = 0
    return ranks


def _ranks(job: Job) -> list[int]:
    """Rank of each task's group: by priority, then by date; groups alike have the same."""
    keys = {}
    for task, group in zip(job.tasks, job.group, strict=True):
        keys[group] = (task.group.priority, job.deadline[group], group if job.by_group else 0)
    order = sorted(set(keys.values()))
    return [order.index(keys[group]) for group in job.group]


def _improved(job: Job, order: tuple[int, ...], least: float, tries: int) -> tuple[int, ...]:
    """The order with tasks moved about as long as that helps.

    Moves that cost a little more are gone along with, at first more readily than at last, so that
    the search gets out of places where every single move costs (threshold accepting).
    """
    chance = random.Random(_SEED)  # noqa: S311 - the same plan for the same batch
    best = here = list(order)
    cost_here = least
    enough = soonest(job) + TURN_MINUTES * job.steps + _ENOUGH
    # Short searches have no time to come back from a detour.
    readiness = _THRESHOLD * least * min(1.0, tries / _MOST_TRIES)
    for n in range(tries):
        if least <= enough:
            break
        moved = _moved(job, here, chance)
        if moved == here:
            continue
        cost = Placer(job).run(moved).cost
        if cost <= cost_here + readiness * max(0.0, 1.0 - 1.5 * n / tries):
            here, cost_here = moved, cost
            if cost <= least:
                best, least = moved, cost
    return tuple(best)


def soonest(job: Job) -> float:
    """A minute before which the work cannot end, for one pair of hands or many.

    Not before all work, each set-up and each pot once, fits into the sittings; not before the
    longest row of tasks and their drying has passed.
    """
    once = {step: job.set_up[n] for n, step in enumerate(job.step)}
    pots = {mix: job.mixing[n] for n, mix in enumerate(job.mix)}
    work = sum(m * each for m, each in zip(job.models, job.each, strict=True))
    left = (work + sum(once.values()) + sum(pots.values())) / job.hands
    number = 0
    while left > (window := job.axis.window(number)).length:
        left -= window.length
        number += 1
    rows = (job.release[n] + job.models[n] * job.each[n] + tail for n, tail in enumerate(job.tail))
    return max(window.start + left, max(rows, default=0.0))


def _moved(job: Job, order: list[int], chance: random.Random) -> list[int]:
    """The order with one task, or a few in a row, at another place where nothing forbids it."""
    count = len(order)
    begin = chance.randrange(count)
    size = min(chance.choice((1, 1, 1, 2, 3)), count - begin)
    part = order[begin : begin + size]
    rest = order[:begin] + order[begin + size :]
    inside = set(part)
    before = {earlier for n in part for earlier, _ in job.before[n]} - inside
    behind = {later for n in part for later in job.behind[n]} - inside
    low = begin
    while low > 0 and rest[low - 1] not in before:
        low -= 1
    high = begin
    while high < len(rest) and rest[high] not in behind:
        high += 1
    to = chance.randint(low, high)
    return rest[:to] + part + rest[to:]
