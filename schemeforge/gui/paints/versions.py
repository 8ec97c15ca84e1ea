"""Tells by name where the shelf and the project have other versions of a paint, and asks which."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from schemeforge.desk import DeskState
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.paints import shelf_order
from schemeforge.gui.paints.decision import DecisionBar
from schemeforge.gui.paints.words import difference_words
from schemeforge.paint import Paint
from schemeforge.scheme import Project, edits

# More names than these in one sentence are not read; the cards carry the mark as well.
_MOST_NAMED = 6


class VersionsBar(DecisionBar):
    """Asks about paints that differ, then about paints that only the project has.

    Args:
        bridge: The session joined to Qt.
        take: Puts paints on the shelf.
    """

    def __init__(
        self,
        bridge: Bridge,
        take: Callable[[tuple[Paint, ...]], object],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._take = take
        # Pairs that the painter chose to keep apart; any other change is another question.
        self._kept_apart: set[tuple[Paint, Paint]] = set()
        self.answered.connect(lambda: self.show_state(self.bridge.state))

    def show_state(self, state: DeskState) -> None:
        """Ask what is to be asked now, or nothing."""
        shelf, project = state.document.shelf, state.project
        pairs = [
            pair
            for pair in shelf_order.carried_otherwise(shelf, project)
            if (pair.shelf, pair.project) not in self._kept_apart
        ]
        if pairs:
            first = [
                f"{p.project.name} ({difference_words(p.differs)})" for p in pairs[:_MOST_NAMED]
            ]
            listed = "; ".join(first)
            if len(pairs) > len(first):
                listed += self.tr("; and {0} more, marked on their cards").format(
                    len(pairs) - len(first)
                )
            self.ask(
                self._differ(listed),
                [
                    (self.tr("Use the shelf's"), lambda: self._use_shelf(pairs)),
                    (self.tr("Keep the project's"), lambda: self._keep(pairs)),
                ],
            )
            return
        strangers = shelf_order.not_on_shelf(shelf, project)
        unseen = tuple(p for p in strangers if (p, p) not in self._kept_apart)
        if unseen and shelf:
            names = "; ".join(paint.name for paint in unseen)
            self.ask(
                self.tr("This project brings paints that are not on your shelf: {0}.").format(
                    names
                ),
                [
                    (self.tr("Put them on the shelf"), lambda: self._take(unseen)),
                    (
                        self.tr("Leave them in the project"),
                        lambda: self._kept_apart.update((p, p) for p in unseen),
                    ),
                ],
            )
            return
        self.withdraw()

    def _differ(self, listed: str) -> str:
        return self.tr(
            "The shelf's paint has changed since this project took it: {0}. "
            "The project shows its own until you choose."
        ).format(listed)

    def _use_shelf(self, pairs: list[shelf_order.Carried]) -> None:
        def change(project: Project) -> Project:
            for pair in pairs:
                project = edits.put_paint(project, pair.shelf)
            return project

        self.bridge.edit(self.tr("use the shelf's paints"), change)

    def _keep(self, pairs: list[shelf_order.Carried]) -> None:
        self._kept_apart.update((pair.shelf, pair.project) for pair in pairs)
