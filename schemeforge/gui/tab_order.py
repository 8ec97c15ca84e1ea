"""The order in which the Tab key visits a window: as one reads it, container by container.

Qt's own order is that in which widgets were made; rows that come and go with the document would
be visited last.
"""

from collections.abc import Iterator

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QAbstractSpinBox, QComboBox, QWidget

# Their inner parts are theirs to walk through.
_WHOLE = (QAbstractItemView, QAbstractSpinBox, QComboBox)


def reading_order(root: QWidget) -> list[QWidget]:
    """Shown widgets below that take the Tab key: rows from the top, each from the left."""
    return [widget for widget in _walk(root) if _takes_tab(widget)]


def next_in(order: list[QWidget], widget: QWidget, *, forward: bool) -> QWidget | None:
    """The widget after (or before) one, round the end; None where that one is not in order."""
    at = next((n for n, known in enumerate(order) if known is widget), None)
    if at is None:
        return None
    return order[(at + (1 if forward else -1)) % len(order)]


def _walk(widget: QWidget) -> Iterator[QWidget]:
    yield widget
    if not isinstance(widget, _WHOLE):
        for row in _rows(widget):
            for child in row:
                yield from _walk(child)


def _rows(widget: QWidget) -> list[list[QWidget]]:
    """Shown children in rows: one is in a row where its middle lies within the row's first."""
    children = [
        child
        for child in widget.children()
        if isinstance(child, QWidget) and not child.isWindow() and not child.isHidden()
    ]
    rows: list[list[QWidget]] = []
    for child in sorted(children, key=lambda c: (c.y(), c.x())):
        first = rows[-1][0].geometry() if rows else None
        if first is not None and first.top() <= child.geometry().center().y() <= first.bottom():
            rows[-1].append(child)
        else:
            rows.append([child])
    return [sorted(row, key=lambda c: (c.x(), c.y())) for row in rows]


def _takes_tab(widget: QWidget) -> bool:
    policy = Qt.FocusPolicy.TabFocus
    return (
        widget.focusPolicy() & policy == policy
        and widget.focusProxy() is None
        and widget.isEnabled()
        and widget.isVisibleTo(widget.window())
    )
