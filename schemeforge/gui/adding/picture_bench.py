"""A photograph with what is marked on it, what the references tell of light and camera, and tools.

Photographs of cards and of test models both stand on it.
"""

import time
from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

from numpy.typing import NDArray
from PySide6.QtCore import QEvent, Qt, QTimer, Signal
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QKeyEvent, QKeySequence
from PySide6.QtWidgets import (
    QApplication,
    QFileDialog,
    QHBoxLayout,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from schemeforge.calibration import Area
from schemeforge.desk import Surround
from schemeforge.errors import SchemeForgeError
from schemeforge.gui.adding import card as marking
from schemeforge.gui.adding.board import Board
from schemeforge.gui.adding.camera_words import camera_words
from schemeforge.gui.adding.card import Card, Mark, Role
from schemeforge.gui.adding.card_fit import Sight, put_right, sight_of
from schemeforge.gui.adding.card_history import CardHistory
from schemeforge.gui.adding.file_names import by_file_name
from schemeforge.gui.adding.mark_box import MarkBox
from schemeforge.gui.adding.tool import Tool
from schemeforge.gui.adding.waiting import Waiting
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.icons import icon
from schemeforge.gui.theme import GAP, theme_of
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.labels import words
from schemeforge.gui.widgets.segments import Segments
from schemeforge.measurement import Photograph, read_photograph

_SETTLE_MS = 120
_ZOOM = 1.25


class PictureBench(QWidget):
    """The board with its tools and its marks.

    Signals:
        changed: The card, after a change of its marks.
        picked: Id of the mark that has the focus, 0 for none.
        seen: What the marks tell, worked out again.
        loaded: Another photograph lies on the bench.
        drawn: Tool of the holder's own, and the two places of a drag, or None for its key.
        refused: A sentence about a photograph that cannot be used, and the file's whole path where
            the sentence only has its name.
        fields_asked: Go to what is told of the picked mark.
    """

    changed = Signal(object)
    picked = Signal(int)
    seen = Signal(object)
    loaded = Signal(object)
    drawn = Signal(str, object, object)
    refused = Signal(str, str)
    fields_asked = Signal()

    def __init__(
        self, bridge: Bridge, key: str, name: str, tools: Sequence[Tool], card: Card
    ) -> None:
        super().__init__()
        self.bridge = bridge
        self._key = key
        self.tools = tuple(tools)
        self.names = {Role(t.value): t.name or t.label for t in tools if t.value in set(Role)}
        self.card = card
        self.photograph: Photograph | None = None
        self.sight: Sight | None = None
        self.boxes: dict[int, MarkBox] = {}
        self.mark_id = 0
        self._said = ""
        self._history = CardHistory()
        self.setAcceptDrops(True)
        self._make(name)
        self._assemble()
        self._connect()
        self._show_parts()

    def _make(self, name: str) -> None:
        self.board = Board(name)
        self.choose = QPushButton(self.tr("Choose a photograph..."))
        self.waiting = Waiting(self.tr("Reading the photograph"))
        self.title = words("", "muted")
        self.tool = Segments(
            self.tr("Dragging marks"),
            [(t.value, t.label, f"{t.tip} ({t.key})") for t in self.tools],
        )
        self.tool.set_value(self.tools[0].value)
        self.zoom_in, self.zoom_out = QPushButton("+"), QPushButton("−")
        self.whole = QPushButton(self.tr("Whole"))
        for button, said in (
            (self.zoom_in, self.tr("Zoom in (+ on the picture)")),
            (self.zoom_out, self.tr("Zoom out (- on the picture)")),
            (self.whole, self.tr("The whole picture in view (0 on the picture)")),
        ):
            button.setAccessibleName(said)
            button.setToolTip(said)
        self.back = QPushButton(self.tr("Take back"))
        self.back.setToolTip(self.tr("Take back the last change of the marks (Ctrl+Z)"))
        self.again = QPushButton(self.tr("Do again"))
        self.again.setToolTip(self.tr("Do again what was taken back (Ctrl+Shift+Z)"))
        self.right = QPushButton(self.tr("Put right"))
        self.right.setCheckable(True)
        self.right.setToolTip(
            self.tr("Show the picture without the fall of the light and the camera's tint")
        )
        self.light = words("")
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_SETTLE_MS)

    def _assemble(self) -> None:
        top = Flow()
        for widget in (self.choose, self.waiting, self.tool):
            top.add(widget)
        zoom = QWidget()
        row = QHBoxLayout(zoom)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(1)
        for button in (self.zoom_out, self.whole, self.zoom_in):
            row.addWidget(button)
        for part in (zoom, self.back, self.again, self.right):
            top.add(part)
        self.waiting.end()
        self._zoom = zoom
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        column.addWidget(top)
        column.addWidget(self.board, 1)
        column.addWidget(self.title)
        column.addWidget(self.light)

    def _connect(self) -> None:
        self.choose.clicked.connect(self._ask)
        self.waiting.stopped.connect(lambda: self.bridge.jobs.cancel(f"{self._key} picture"))
        self.tool.chosen.connect(self.tool.set_value)
        self.zoom_in.clicked.connect(lambda: self.board.zoom_by(_ZOOM))
        self.zoom_out.clicked.connect(lambda: self.board.zoom_by(1 / _ZOOM))
        self.whole.clicked.connect(self.board.fit)
        self.back.clicked.connect(self.go_back)
        self.again.clicked.connect(self.go_on)
        self.right.toggled.connect(self._show_right)
        self.board.spanned.connect(self._on_spanned)
        self.board.asked.connect(self._on_key)
        self._timer.timeout.connect(self._look)

    def read(self, path: Path) -> None:
        """Read a photograph beside the window; one that cannot be read leaves what is there."""
        self.waiting.begin()
        self.bridge.jobs.submit(
            f"{self._key} picture",
            lambda _token: read_photograph(path),
            self._take,
            failed=partial(self._cannot_read, path),
        )

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take one local file."""
        urls = event.mimeData().urls()
        if len(urls) == 1 and urls[0].isLocalFile():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Read the photograph that was dropped."""
        event.acceptProposedAction()
        self.read(Path(event.mimeData().urls()[0].toLocalFile()))

    def set_card(self, card: Card) -> None:
        """Other marks: boxes follow, and what they tell is worked out again."""
        if card == self.card:
            return
        self._history.record(self.card, card, time.monotonic())
        self._adopt(card)

    def go_back(self) -> None:
        """To the card before the last change."""
        self._go(self._history.back(self.card))

    def go_on(self) -> None:
        """To the card that was gone back from."""
        self._go(self._history.on(self.card))

    def event(self, event: QEvent) -> bool:
        """Undo and redo go through the marks while the focus is here."""
        return self.takes_key(event) or super().event(event)

    def takes_key(self, event: QEvent) -> bool:
        """Takes the keys of undo and redo for the marks; True where it did.

        A holder may ask it about its own events, so that they work beside the picture too.
        """
        kinds = (QEvent.Type.ShortcutOverride, QEvent.Type.KeyPress)
        if not isinstance(event, QKeyEvent) or event.type() not in kinds:
            return False
        back, on = (
            event.matches(key)
            for key in (QKeySequence.StandardKey.Undo, QKeySequence.StandardKey.Redo)
        )
        if self.photograph is None or not (back or on):
            return False
        if event.type() == QEvent.Type.KeyPress:
            (self.go_back if back else self.go_on)()
        event.accept()
        return True

    def _go(self, card: Card | None) -> None:
        if card is None:
            return
        held = QApplication.focusWidget()
        self._adopt(card)
        if held is not None and self.board.isAncestorOf(held) and held.isHidden():
            self.board.setFocus(Qt.FocusReason.OtherFocusReason)

    def _adopt(self, card: Card) -> None:
        shapes_differ = card.marks != self.card.marks
        self.card = card
        for mark in card.marks:
            if mark.id not in self.boxes:
                self.boxes[mark.id] = self._new_box(mark)
            elif self.boxes[mark.id].mark != mark:
                self.boxes[mark.id].show_mark(mark)
        for mark_id in [m for m in self.boxes if card.mark(m) is None]:
            box = self.boxes.pop(mark_id)
            box.hide()
            box.deleteLater()
        if self.card.mark(self.mark_id) is None and self.mark_id:
            self._pick(0)
        if shapes_differ:
            self._timer.start()
        self.back.setEnabled(self._history.can_go_back)
        self.again.setEnabled(self._history.can_go_on)
        self.changed.emit(card)

    def add(self, role: Role, area: Area) -> Mark | None:
        """One more mark, picked; None where there are too many."""
        made: list[tuple[Card, Mark]] = []
        names = {**dict.fromkeys(Role, ""), **self.names}
        if not self.bridge.attempt(
            lambda: made.append(marking.added(self.card, role, area, names))
        ):
            return None
        card, mark = made[0]
        self.set_card(card)
        self.boxes[mark.id].setFocus(Qt.FocusReason.OtherFocusReason)
        return mark

    def dress(self, surround: Surround) -> None:
        """Icons in the surround's ink."""
        self.choose.setIcon(icon("way-photograph", theme_of(surround).text))

    def _new_box(self, mark: Mark) -> MarkBox:
        box = MarkBox(self.board, mark)
        box.picked.connect(self._pick)
        box.shaped.connect(self._on_shaped)
        box.asked.connect(self._on_asked)
        return box

    def _pick(self, mark_id: int) -> None:
        self.mark_id = mark_id
        for known, box in self.boxes.items():
            box.set_picked(known == mark_id)
        self.picked.emit(mark_id)

    def _on_shaped(self, mark_id: int, area: Area) -> None:
        mark = self.card.mark(mark_id)
        if mark is not None:
            self.set_card(marking.with_mark(self.card, replace(mark, area=area)))

    def _on_asked(self, mark_id: int, what: str) -> None:
        if what == "remove":
            self.remove(mark_id)
        elif what == "fields":
            self.fields_asked.emit()
        else:
            self.board.setFocus()

    def remove(self, mark_id: int) -> None:
        """Without a mark; the focus goes to the one before it."""
        ids = [mark.id for mark in self.card.marks]
        place = ids.index(mark_id)
        self.set_card(marking.without_mark(self.card, mark_id))
        rest = [mark.id for mark in self.card.marks]
        if rest:
            self.boxes[rest[max(place - 1, 0)]].setFocus()
        else:
            self.board.setFocus()

    def _on_spanned(self, one: tuple[float, float], other: tuple[float, float]) -> None:
        value = self.tool.value
        if value not in set(Role):
            self.drawn.emit(value, one, other)
            return
        area = marking.spanned(one, other)
        if area is not None:
            self.add(Role(value), area)

    def _on_key(self, key: Qt.Key) -> None:
        if self.photograph is None:
            return
        for tool in self.tools:
            if key == getattr(Qt.Key, f"Key_{tool.key}"):
                self.tool.set_value(tool.value)
                if tool.value in set(Role):
                    self.add(Role(tool.value), marking.usual_area(self.board.view_centre))
                else:
                    self.drawn.emit(tool.value, None, None)

    def _ask(self) -> None:
        name, _ = QFileDialog.getOpenFileName(
            self,
            self.tr("A photograph"),
            "",
            self.tr("Photographs (*.jpg *.jpeg *.png *.tif *.tiff)"),
        )
        if name:
            self.read(Path(name))

    def _cannot_read(self, path: Path, error: Exception) -> None:
        self.waiting.end()
        if not isinstance(error, SchemeForgeError):
            raise error
        self.refused.emit(*by_file_name(error.sentence, [path]))

    def _take(self, photograph: Photograph) -> None:
        self.waiting.end()
        self.photograph = photograph
        self.sight = None
        self.right.setChecked(False)
        self.board.show_picture(photograph.codes)
        self._show_parts()
        self._timer.start()
        self.loaded.emit(photograph)
        self.board.setFocus(Qt.FocusReason.OtherFocusReason)

    def _show_parts(self) -> None:
        photograph = self.photograph
        shown = (self.tool, self._zoom, self.right, self.board, self.light, self.title)
        for part in (*shown, self.back, self.again):
            part.setVisible(photograph is not None)
        self.back.setEnabled(self._history.can_go_back)
        self.again.setEnabled(self._history.can_go_on)
        self.right.setEnabled(self.sight is not None and self.sight.correction is not None)
        if photograph is not None:
            profile = photograph.profile or self.tr("sRGB")
            wide, high = photograph.original_size
            self.title.setText(
                self.tr("{0}, {1} × {2} pixels, colours as {3}").format(
                    photograph.name, wide, high, profile
                )
            )

    def _look(self) -> None:
        """Work out what the marks tell, beside the window."""
        photograph, card = self.photograph, self.card
        if photograph is None:
            return

        def work(_token: object) -> tuple[Sight, NDArray[Any] | None]:
            sight = sight_of(photograph, card)
            picture = None
            if sight.correction is not None:
                picture = put_right(photograph, sight.correction)
            return sight, picture

        self.bridge.jobs.submit(f"{self._key} sight", work, self._show_sight)

    def _show_sight(self, found: tuple[Sight, NDArray[Any] | None]) -> None:
        self.sight, picture = found
        for mark_id, box in self.boxes.items():
            box.show_seen(self.sight.seen.get(mark_id))
        self.board.show_other(picture, shown=self.right.isChecked())
        if picture is None:
            self.right.setChecked(False)
        self.right.setEnabled(picture is not None)
        numbers = self.bridge.state.preferences.numbers
        self.light.setText(camera_words(self.sight, numbers=numbers))
        self._show_light()
        self.seen.emit(self.sight)

    def say_once(self, sentence: str) -> None:
        """What the holder says is not said beneath the picture as well; "" for nothing."""
        self._said = sentence
        self._show_light()

    def _show_light(self) -> None:
        problem = self.sight.problem if self.sight is not None else ""
        said = bool(problem) and problem in self._said
        self.light.setVisible(self.photograph is not None and not said)

    def _show_right(self, on: bool) -> None:
        self.board.shows_other = on
        self.board.update()
