"""In time: do now, next, drying, shall we finish, and what each sitting holds."""

from dataclasses import dataclass
from datetime import datetime

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QLabel, QWidget

from schemeforge import plan
from schemeforge.desk import CancelToken, DeskState
from schemeforge.gui.batch.section import Section
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.widgets.labels import words
from schemeforge.scheme import Project, Scheme

_SETTLE_MS = 250
_KEY = "in time"
_NEXT = 3


@dataclass(frozen=True, slots=True)
class _Found:
    """What a job worked out."""

    standing: plan.Standing
    schedule: plan.Schedule
    chance: str


class InTimeSection(Section):
    """The plan in words, worked out beside the hand."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(
            self.tr("In time"),
            self.tr(
                "The steps laid out over the sittings, with drying going on beside the work. "
                "The clock at the desk is not in the window yet."
            ),
            parent,
        )
        self.bridge = bridge
        self.lines: dict[str, QLabel] = {}
        for key in ("now", "next", "drying", "finish", "chance"):
            label = words("", "heading" if key == "now" else "")
            self.lines[key] = label
            self.body.addWidget(label)
        self.sittings = words("")
        self.body.addWidget(self.sittings)
        self._wanted: tuple[Project, Scheme] | None = None
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_SETTLE_MS)
        self._timer.timeout.connect(self._start)

    def show_plan(self, state: DeskState) -> None:
        """Have the plan of the picked scheme worked out once the hand rests."""
        scheme = state.scheme
        self._wanted = None if scheme is None else (state.project, scheme)
        if scheme is None or not state.project.groups:
            self._say("now", self.tr("Nothing to plan yet: add a group and a scheme."))
            for key in ("next", "drying", "finish", "chance"):
                self._say(key, "")
            self.sittings.setText("")
            return
        self._timer.start()

    def _start(self) -> None:
        if self._wanted is None:
            return
        project, scheme = self._wanted
        now = datetime.now().replace(microsecond=0)  # noqa: DTZ005 - the plan is in local time

        def work(_token: CancelToken) -> _Found:
            progress = plan.progress(project, scheme, now)
            schedule = plan.schedule(project, scheme, progress)
            chance = plan.spread(project, scheme, schedule).sentence
            standing = plan.standing(project, scheme, now=now, plan=schedule)
            return _Found(standing, schedule, chance)

        self.bridge.jobs.submit(_KEY, work, self._write)

    def _write(self, found: _Found) -> None:
        standing = found.standing
        self._say("now", self.tr("Do now: {0}").format(standing.do_now_words))
        following = " ".join(todo.sentence for todo in standing.next[:_NEXT])
        self._say("next", self.tr("Next: {0}").format(following) if following else "")
        drying = " ".join(wet.sentence for wet in standing.drying)
        self._say(
            "drying",
            self.tr("Drying: {0}").format(drying) if drying else self.tr("Nothing is drying."),
        )
        self._say("finish", self.tr("Shall we finish? {0}").format(standing.finish))
        self._say("chance", found.chance)
        lines = [self._sitting(sitting) for sitting in found.schedule.sittings]
        self.sittings.setText("\n".join(line for line in lines if line))

    def _sitting(self, sitting: plan.SittingPlan) -> str:
        names = [s.step.name for s in sitting.stretches]
        once = list(dict.fromkeys(names))
        if not once:
            return ""
        title = self.tr("Sitting {0}").format(sitting.number)
        if sitting.sitting is None:
            title = self.tr("Sitting {0} (not planned)").format(sitting.number)
        last = max(s.end for s in sitting.stretches)
        return self.tr("{0}: {1}; {2} of {3} min.").format(
            title, ", ".join(once), f"{last:.0f}", f"{sitting.minutes:.0f}"
        )

    def _say(self, key: str, text: str) -> None:
        self.lines[key].setText(text)
        self.lines[key].setVisible(bool(text))
