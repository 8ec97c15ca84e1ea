"""The sittings laid on one line of minutes, with the nights between them, on which paint dries.

Minute 0 is now where that is known, else the start of the first sitting. Sittings on different
days are taken to begin at the same time of day, those on one day an hour apart; a sitting without
a date is taken to be on the day after the one before it. After the last there are as many more as
the work needs, one a day, marked as not planned.
"""

from dataclasses import dataclass
from datetime import date, timedelta

from schemeforge.plan.progress import NOTHING_DONE, Progress, in_order
from schemeforge.scheme import Project, Sitting

DAY = 1440.0
_BETWEEN = 60.0
# An evening, where the project has no sitting to go by (common practice, no source).
USUAL_MINUTES = 180.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """A sitting on the line.

    Args:
        start: When hands can begin: laying out is done. In minutes on the line.
        end: When the sitting ends.
        laying_out: Minutes before ``start`` that go to laying out and packing up.
        day: Days after day 0.
        sitting: The sitting; None where it is not planned.
    """

    start: float
    end: float
    laying_out: float
    day: int
    sitting: Sitting | None

    @property
    def length(self) -> float:
        """Minutes for work."""
        return self.end - self.start


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """All windows that are still to come, in order, and what follows them.

    Args:
        windows: Those planned.
        first_day: The date of day 0, None where no date is known.
        usual_minutes: Length of a sitting that is not planned.
        laying_out: Minutes that laying out and packing up take.
    """

    windows: tuple[Window, ...]
    first_day: date | None
    usual_minutes: float
    laying_out: float

    def window(self, number: int) -> Window:
        """The window of that number, counted from 0, planned or not."""
        if number < len(self.windows):
            return self.windows[number]
        more = number - len(self.windows)
        day = self.windows[-1].day + 1 if self.windows else 0
        begin = (day + more) * DAY
        return Window(
            start=begin + self.laying_out,
            end=begin + self.laying_out + self.usual_minutes,
            laying_out=self.laying_out,
            day=day + more,
            sitting=None,
        )

    @property
    def last_planned_end(self) -> float:
        """When the last planned sitting ends; 0 where none is planned."""
        return self.windows[-1].end if self.windows else 0.0

    def date_of(self, minute: float) -> date | None:
        """The date of that minute, None where no date is known."""
        if self.first_day is None:
            return None
        return self.first_day + timedelta(days=int(minute // DAY))

    def deadline(self, needed_by: str) -> float | None:
        """The minute by which something needed on that ISO date must be ready; None without."""
        if not needed_by or self.first_day is None:
            return None
        return ((date.fromisoformat(needed_by) - self.first_day).days + 1) * DAY

    @property
    def minutes(self) -> float:
        """Minutes for work over all planned windows, one pair of hands."""
        return sum(window.length for window in self.windows)


def axis_of(project: Project, progress: Progress = NOTHING_DONE) -> Axis:
    """The sittings that are still to come on their line.

    Args:
        project: The document.
        progress: Where the work stands; says what is left of each sitting.
    """
    sittings = [s for s in in_order(project.sittings) if progress.left.get(s.id, s.minutes) > 0.0]
    first = _first_day(sittings, progress)
    laying_out = project.habits.sitting_minutes
    windows: list[Window] = []
    day, at = -1, 0.0
    for sitting in sittings:
        on = day + 1
        if sitting.day and first is not None:
            on = max((date.fromisoformat(sitting.day) - first).days, 0)
        if on <= day:  # another one on the same day
            on, begin = day, at + _BETWEEN
        else:
            begin = on * DAY
        begun = sitting.id in progress.left
        minutes = progress.left.get(sitting.id, sitting.minutes)
        out = 0.0 if begun else min(laying_out, minutes / 2.0)
        at = begin + minutes
        windows.append(Window(start=begin + out, end=at, laying_out=out, day=on, sitting=sitting))
        day = on
    usual = project.sittings[-1].minutes if project.sittings else USUAL_MINUTES
    return Axis(
        windows=tuple(windows),
        first_day=first,
        usual_minutes=max(usual - laying_out, usual / 2.0),
        laying_out=min(laying_out, usual / 2.0),
    )


def _first_day(sittings: list[Sitting], progress: Progress) -> date | None:
    """The date of day 0: today, or the first dated sitting's less the undated ones before it."""
    if progress.now is not None:
        return progress.now.date()
    for n, sitting in enumerate(sittings):
        if sitting.day:
            return date.fromisoformat(sitting.day) - timedelta(days=n)
    return None
