"""Rows of a list that follow a tuple of the document: made, moved and dropped by their ids."""

from collections.abc import Callable, Sequence
from typing import Generic, TypeVar

from PySide6.QtWidgets import QVBoxLayout, QWidget

from schemeforge.gui.theme import GAP, GAP_WIDE
from schemeforge.gui.widgets.flow import Flow

R = TypeVar("R", bound=QWidget)


class Rows(QWidget, Generic[R]):
    """A column of row widgets, one per id.

    Args:
        make: Makes the row of an id.
        flow: True where small rows stand side by side and wrap.
    """

    def __init__(self, make: Callable[[str], R], *, flow: bool = False) -> None:
        super().__init__()
        self._make = make
        self.rows: dict[str, R] = {}
        self._flow = Flow(gap=GAP_WIDE) if flow else None
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(GAP)
        if self._flow is not None:
            self._column.addWidget(self._flow)

    def follow(self, ids: Sequence[str]) -> None:
        """Have a row for each of the ids, in their order; focus stays on rows that stay."""
        for gone in [row_id for row_id in self.rows if row_id not in set(ids)]:
            row = self.rows.pop(gone)
            self._detach(row)
            # A field that loses the focus on its way out must not edit what is gone.
            for child in row.findChildren(QWidget):
                child.blockSignals(True)  # noqa: FBT003 - Qt's own name and order
            row.hide()
            row.deleteLater()
        if list(self.rows) == list(ids):
            return
        rows = {row_id: self.rows.get(row_id) or self._make(row_id) for row_id in ids}
        previous: QWidget | None = None
        for row in self.rows.values():
            self._detach(row)
        for row in rows.values():
            if self._flow is None:
                self._column.addWidget(row)
            else:
                self._flow.add(row)
            if previous is not None:
                QWidget.setTabOrder(last_stop(previous), first_stop(row))
            previous = row
        self.rows = rows

    def _detach(self, row: R) -> None:
        if self._flow is None:
            self._column.removeWidget(row)
        else:
            self._flow.detach(row)


def _stops(row: QWidget) -> list[QWidget]:
    """The row's children in tab order."""
    found: list[QWidget] = []
    stop = row.nextInFocusChain()
    while stop is not None and stop is not row and row.isAncestorOf(stop):
        found.append(stop)
        stop = stop.nextInFocusChain()
    return found


def first_stop(row: QWidget) -> QWidget:
    """Where Tab enters the row."""
    return next(iter(_stops(row)), row)


def last_stop(row: QWidget) -> QWidget:
    """Where Tab leaves the row."""
    stops = _stops(row)
    return stops[-1] if stops else row
