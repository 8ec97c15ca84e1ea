"""``placing`` for many runs at once: every number of a task is an array over the runs.

Most tasks end in the sitting in which they begin, in every run; that way is short. Runs in which
one does not are picked out and taken from sitting to sitting.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from schemeforge.plan.job import Job
from schemeforge.plan.tasks import lag_of

Floats = NDArray[np.float64]
Indices = NDArray[np.intp]
_TINY = 1e-6
_NOBODY = -1


class Runs:
    """Places tasks in a given order, each run with its own minutes.

    The rules are those of ``placing.Placer``, and with the minutes of the plan in every run the
    ends are the plan's.
    """

    def __init__(self, job: Job, runs: int) -> None:
        self._job = job
        self._runs = np.arange(runs)
        self._starts, self._stops = np.zeros(0), np.zeros(0)
        self._know_windows(0)
        shape = (job.hands, runs)
        self._free = np.full(shape, self._starts[0])
        self._stop = np.full(shape, self._stops[0])
        self._window = np.zeros(shape, np.intp)
        self._since = np.zeros(shape)
        self._fresh = np.ones(shape, bool)
        self._step = np.full(shape, _NOBODY)
        self._mix = np.full(shape, _NOBODY)
        self._set_up_in = np.full((job.steps, *shape), _NOBODY)
        self._mixed: set[int] = set()

    def run(
        self, order: Sequence[int], each: Sequence[Floats]
    ) -> tuple[list[Floats], list[Indices]]:
        """Ends of all tasks, and the windows in which they end.

        Args:
            order: The tasks in the order of placing.
            each: For every task its minutes a model, ``(runs,)``.
        """
        ends = [np.zeros(0)] * len(each)
        windows = [np.zeros(0, np.intp)] * len(each)
        for task in order:
            ready = self._ready(task, ends, each)
            ends[task], windows[task] = self._place(task, ready, each[task])
        return ends, windows

    def _ready(self, task: int, ends: Sequence[Floats], each: Sequence[Floats]) -> Floats:
        tasks = self._job.tasks
        ready = np.full(len(self._runs), self._job.release[task])
        for after in tasks[task].after:
            earlier = after.task
            dry = ends[earlier]
            if after.wait:
                dry = dry + lag_of(after, tasks[earlier].models, each[earlier], each[task])
            np.maximum(ready, dry, out=ready)
        return ready

    def _place(self, task: int, ready: Floats, each: Floats) -> tuple[Floats, Indices]:
        hands = self._hands(task, ready)
        at = (0,) if self._job.hands == 1 else (hands, self._runs)
        free, window, since = self._free[at], self._window[at], self._since[at]
        stop, fresh = self._stop[at], self._fresh[at]
        late = stop <= ready + _TINY
        if late.any():
            self._skip(np.flatnonzero(late), hands, ready)
            free, window, since = self._free[at], self._window[at], self._since[at]
            stop, fresh = self._stop[at], self._fresh[at]
        set_up = self._set_up(task, hands)
        if fresh.any():
            set_up = np.where(fresh, np.minimum(set_up, 0.5 * (stop - free)), set_up)
        start, rested = self._prepared(free, since, set_up, ready, fresh)
        rested_then, minutes = self._worked(rested, self._job.models[task] * each)
        end = start + minutes
        through = end <= stop + _TINY
        if not through.all():
            whole = fresh & (start <= free + set_up + _TINY)
            rest = np.flatnonzero(~through)
            state = (start[rest], rested[rest], each[rest], whole[rest])
            self._go_on(task, rest, state, (end, window, rested_then, stop))
        self._free[at], self._window[at], self._since[at] = end, window, rested_then
        self._stop[at], self._fresh[at] = stop, False
        self._step[at], self._mix[at] = self._job.step[task], self._job.mix[task]
        self._set_up_in[self._job.step[task]][at] = window
        self._mixed.add(self._job.mix[task])
        return end, window.copy()

    def _hands(self, task: int, ready: Floats) -> Indices:
        """Whose hands take the task in each run: those that can begin first."""
        alone = np.zeros(len(self._runs), np.intp)
        if self._job.hands == 1:
            return alone
        begins = [
            np.maximum(self._free[h] + self._set_up(task, alone + h), ready)
            for h in range(self._job.hands)
        ]
        soonest: Indices = np.argmin(begins, axis=0)
        return soonest

    def _set_up(self, task: int, hands: Indices) -> Floats:
        job = self._job
        step, mix = job.step[task], job.mix[task]
        at = (0,) if job.hands == 1 else (hands, self._runs)
        same = self._step[at] == step
        if mix >= 0:
            same |= self._mix[at] == mix
        again = np.where(same, 0.0, job.change[task])
        is_up = self._set_up_in[step][at] == self._window[at]
        minutes = np.where(is_up, again, job.set_up[task])
        return minutes if mix in self._mixed else minutes + job.mixing[task]

    def _skip(self, late: Indices, hands: Indices, ready: Floats) -> None:
        """Leaves sittings that end before the task is ready."""
        at = (hands[late], late)
        window, wanted = self._window[at], ready[late] + _TINY
        while (behind := self._stops[window] <= wanted).any():
            window[behind] += 1
            self._know_windows(int(window.max()))
        self._window[at] = window
        self._free[at], self._stop[at] = self._starts[window], self._stops[window]
        self._since[at], self._fresh[at] = 0.0, True
        self._step[at] = self._mix[at] = _NOBODY

    def _prepared(
        self, free: Floats, since: Floats, set_up: Floats, ready: Floats, fresh: NDArray[np.bool_]
    ) -> tuple[Floats, Floats]:
        """When work at the models begins, and minutes worked then since the last break."""
        rested, minutes = self._worked(since, set_up)
        start = free + minutes
        if fresh.any():
            start = np.where(fresh, free + set_up, start)
            rested = np.where(fresh, 0.0, rested)
        rest = self._job.break_minutes
        if rest:
            rested = np.where(ready - start >= rest, 0.0, rested)
        return np.maximum(start, ready), rested

    def _go_on(
        self,
        task: int,
        rest: Indices,
        state: tuple[Floats, Floats, Floats, NDArray[np.bool_]],
        into: tuple[Floats, Indices, Floats, Floats],
    ) -> None:
        """Takes the runs that do not get through from sitting to sitting.

        Args:
            task: The task.
            rest: Which runs.
            state: Of those: when they begin, minutes since a break, minutes a model, and whether
                a model may be put down half done.
            into: Arrays of all runs to write into: end, window, minutes since a break, and when
                the sitting ends.
        """
        job = self._job
        start, rested, each, whole = state
        end, window, rested_then, stop = into
        left = np.full(len(rest), float(job.models[task]))
        here = window[rest]
        mixing = 0.0 if job.mix[task] in self._mixed else job.mixing[task]
        while True:
            room = self._fitting(rested, self._stops[here] - start)
            through = left * each <= room + _TINY
            done = rest[through]
            rested_then[done], minutes = self._worked(rested[through], (left * each)[through])
            end[done] = start[through] + minutes
            window[done], stop[done] = here[through], self._stops[here[through]]
            if through.all():
                return
            more = ~through
            rest, room, each, left, here = (
                rest[more],
                room[more],
                each[more],
                left[more],
                here[more],
            )
            fit = room / each
            models = np.floor(fit + _TINY)
            models = np.where((models < 1.0) & whole[more], fit, models)
            left = left - np.where(room > _TINY, models, 0.0)
            here = here + 1
            self._know_windows(int(here.max()))
            free, length = self._starts[here], self._stops[here] - self._starts[here]
            full = job.set_up[task] + np.where(left < job.models[task], 0.0, mixing)
            start = free + np.minimum(full, 0.5 * length)
            rested = np.zeros(len(rest))
            whole = np.ones(len(rest), bool)

    def _worked(self, since: Floats, minutes: Floats) -> tuple[Floats, Floats]:
        """As ``placing._worked``."""
        total = since + minutes
        every = self._job.break_every
        if np.isinf(every):
            return total, minutes
        breaks = np.trunc(total * (1.0 / every) - _TINY)
        return total - breaks * every, minutes + breaks * self._job.break_minutes

    def _fitting(self, since: Floats, room: Floats) -> Floats:
        """As ``placing._fitting``."""
        every, rest = self._job.break_every, self._job.break_minutes
        if np.isinf(every):
            return room
        first = every - since
        rounds, more = np.divmod(room - first, every + rest)
        fitting: Floats = np.where(
            room <= first, room, first + rounds * every + np.maximum(0.0, more - rest)
        )
        return fitting

    def _know_windows(self, number: int) -> None:
        while len(self._starts) <= number:
            window = self._job.axis.window(len(self._starts))
            self._starts = np.append(self._starts, window.start)
            self._stops = np.append(self._stops, window.end)
