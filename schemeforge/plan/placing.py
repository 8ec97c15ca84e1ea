"""Placing tasks one after the other on the time of one or more pairs of hands.

A task begins when its hands are free, what it waits for is dry, and a sitting is on. Hands set up
and mix while paint dries. What does not fit into a sitting goes on in the next, between two
models; only a model that no sitting has room for is put down half done.
"""

import math
from collections.abc import Iterable
from typing import NamedTuple

from schemeforge.plan.job import Job

_TINY = 1e-6
_NOBODY = -1


class Piece(NamedTuple):
    """A stretch of a task within one sitting.

    Attributes:
        task: Index of the task.
        hands: Whose hands, from 0.
        window: Number of the sitting on the axis.
        begin: When setting up begins.
        start: When work at the models begins.
        end: When it ends, breaks included.
        models: How many models, a fraction where one is put down half done.
        set_up: Minutes of setting up, mixing and turning to it.
        waited: Minutes that hands wait for paint before they start.
        rested: Minutes worked since the last break when work at the models begins.
    """

    task: int
    hands: int
    window: int
    begin: float
    start: float
    end: float
    models: float
    set_up: float
    waited: float
    rested: float


class _Prepared(NamedTuple):
    """How hands come to a task: minutes since the last break, when work begins, how long they wait.

    A wait that is as long as a break is one.
    """

    rested: float
    start: float
    waited: float


class Placer:
    """Places tasks in the order given.

    Attributes:
        ends: End of each task placed, 0 for the others.
        pieces: What was placed, if that is recorded.
        turns: How often hands turned from one step to another.
    """

    def __init__(self, job: Job, *, record: bool = False) -> None:
        self.job = job
        self.ends = [0.0] * len(job.tasks)
        self.pieces: list[Piece] | None = [] if record else None
        self.turns = 0
        self._every, self._rest = job.break_every, job.break_minutes
        hands = range(job.hands)
        self._starts: list[float] = []
        self._stops: list[float] = []
        self._more_windows()
        self.free = [self._starts[0] for _ in hands]
        self.window = [0 for _ in hands]
        self._since_break = [0.0 for _ in hands]
        self._step = [_NOBODY for _ in hands]
        self._mix = [_NOBODY for _ in hands]
        self._set_up_in = [[_NOBODY] * job.steps for _ in hands]
        self._mixed = [False] * (job.mixes + 1)

    def _more_windows(self) -> None:
        window = self.job.axis.window(len(self._starts))
        self._starts.append(window.start)
        self._stops.append(window.end)

    def ready(self, task: int) -> float:
        """When what the task waits for is dry; what it waits for must be placed."""
        ready = self.job.release[task]
        for earlier, wait in self.job.before[task]:
            dry = self.ends[earlier] + wait
            ready = max(ready, dry)
        return ready

    def set_up(self, task: int, hands: int) -> float:
        """Minutes to turn to the task: to set up, to change over, and to mix its pot."""
        job = self.job
        step, mix = job.step[task], job.mix[task]
        if self._set_up_in[hands][step] != self.window[hands]:
            minutes = job.set_up[task]
        elif self._step[hands] == step or (mix >= 0 and self._mix[hands] == mix):
            minutes = 0.0
        else:
            minutes = job.change[task]
        return minutes if self._mixed[mix] else minutes + job.mixing[task]

    def lost(self, task: int, ready: float) -> float:
        """Minutes from when hands are free until work at a task that is dry then would begin."""
        if self.job.hands == 1:
            return max(self.set_up(task, 0), ready - self.free[0])
        return min(
            max(self.set_up(task, hands), ready - self.free[hands])
            for hands in range(self.job.hands)
        )

    def place(self, task: int) -> float:
        """Places the task and gives its end."""
        ready = self.ready(task)
        hands = 0
        if self.job.hands > 1:
            each = range(self.job.hands)
            hands = min(each, key=lambda h: max(self.free[h] + self.set_up(task, h), ready))
        end = self._place(task, hands, ready)
        self.ends[task] = end
        return end

    def run(self, order: Iterable[int]) -> "Placer":
        """Places all tasks in that order."""
        for task in order:
            self.place(task)
        return self

    @property
    def cost(self) -> float:
        """What the search makes small, see ``Job.cost``."""
        return self.job.cost(self.ends, self.turns)

    def _place(self, task: int, hands: int, ready: float) -> float:
        job = self.job
        each, left = job.each[task], float(job.models[task])
        while self._stops[self.window[hands]] <= ready + _TINY:
            self._next_window(hands)
        while True:
            window = self.window[hands]
            free, stop = self.free[hands], self._stops[window]
            fresh = free <= self._starts[window]
            set_up = self.set_up(task, hands)
            if fresh:  # a set-up longer than a sitting must not keep work from ever beginning
                set_up = min(set_up, 0.5 * (stop - free))
            since = 0.0 if fresh else self._since_break[hands]
            prepared = self._prepared(since, free, set_up, ready, fresh=fresh)
            start = prepared.start
            room = _fitting(prepared.rested, stop - start, self._every, self._rest)
            if left * each <= room + _TINY:
                self._work(task, hands, free, prepared, left, set_up)
                return self.free[hands]
            if room > _TINY:
                models = float(math.floor(room / each + _TINY))
                if not models and fresh and start <= free + set_up + _TINY:
                    models = room / each
                if models:
                    self._work(task, hands, free, prepared, models, set_up)
                    left -= models
            self._next_window(hands)

    def _prepared(
        self, since: float, free: float, set_up: float, ready: float, *, fresh: bool
    ) -> _Prepared:
        """The first set-up of a sitting is part of laying out: no break falls into it."""
        rested, minutes = since, set_up
        if not fresh:
            rested, minutes = _worked(since, set_up, self._every, self._rest)
        start = free + minutes
        if ready - start >= self._rest > 0.0:
            rested = 0.0
        return _Prepared(rested, max(start, ready), max(0.0, ready - start))

    def _work(
        self,
        task: int,
        hands: int,
        free: float,
        prepared: _Prepared,
        models: float,
        set_up: float,
    ) -> None:
        job = self.job
        rested, start, waited = prepared
        self._since_break[hands], minutes = _worked(
            rested, models * job.each[task], self._every, self._rest
        )
        self.free[hands] = start + minutes
        window = self.window[hands]
        self._set_up_in[hands][job.step[task]] = window
        if self._step[hands] != job.step[task]:
            self.turns += 1
        self._step[hands], self._mix[hands] = job.step[task], job.mix[task]
        if job.mix[task] >= 0:
            self._mixed[job.mix[task]] = True
        if self.pieces is not None:
            end = self.free[hands]
            self.pieces.append(
                Piece(task, hands, window, free, start, end, models, set_up, waited, rested)
            )

    def _next_window(self, hands: int) -> None:
        self.window[hands] += 1
        if self.window[hands] == len(self._starts):
            self._more_windows()
        self.free[hands] = self._starts[self.window[hands]]
        self._since_break[hands] = 0.0
        self._step[hands] = self._mix[hands] = _NOBODY


def working_time(minutes: float, every: float, rest: float) -> float:
    """Minutes that so much work takes with a break of ``rest`` after each ``every`` minutes."""
    return _worked(0.0, minutes, every, rest)[1]


def _worked(since: float, minutes: float, every: float, rest: float) -> tuple[float, float]:
    """After so much work: minutes since the last break, and minutes that passed with breaks.

    A break comes when ``every`` minutes were worked and there is more to do.
    """
    total = since + minutes
    if total <= every:
        return total, minutes
    breaks = int(total / every - _TINY)
    return total - breaks * every, minutes + breaks * rest


def _fitting(since: float, room: float, every: float, rest: float) -> float:
    """Minutes of work that fit into so much room with its breaks; the inverse of ``_worked``."""
    first = every - since
    if room <= first:
        return room
    rounds, more = divmod(room - first, every + rest)
    return first + rounds * every + max(0.0, more - rest)
