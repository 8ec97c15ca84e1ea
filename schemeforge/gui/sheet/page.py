"""The Sheet page: the paper as it prints on a grey desk, and the checklist beside it."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtGui import QImage, QKeySequence, QShortcut, QShowEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from schemeforge.desk import DeskState, Page
from schemeforge.export.options import Section, SheetOptions
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.page import PageView
from schemeforge.gui.sheet.along import Along
from schemeforge.gui.sheet.checklist import Checklist
from schemeforge.gui.sheet.desk import Desk
from schemeforge.gui.sheet.drawing import Drawing, Side
from schemeforge.gui.sheet.making import Making, Request
from schemeforge.gui.sheet.taking import Taking
from schemeforge.gui.theme import GAP, GAP_WIDE, theme_of
from schemeforge.gui.widgets.labels import words

if TYPE_CHECKING:
    from schemeforge.export.sheet import Sheet


class SheetPage(PageView):
    """The checklist, the desk with the paper on it, and ways to take the sheet along."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(bridge, parent)
        self._stale = True
        self._asked: Request | None = None
        self._shown: tuple[Request, Sheet] | None = None
        self._number = 0
        self._awaits = False
        self.making = Making(bridge, self)
        self.drawing = Drawing(bridge, self)
        self.taking = Taking(bridge, self)
        self.checklist = Checklist()
        self.along = Along()
        self.findings = words("", "caution")
        self.findings.hide()
        self.desk = Desk()
        self._assemble()
        self._connect()
        self.watch()

    @property
    def sheet(self) -> "Sheet | None":
        """The sheet on the desk where it is the one asked for."""
        if self._shown is None or not self._shown[0].is_like(self._asked):
            return None
        return self._shown[1]

    def focus_first(self) -> QWidget:
        """The paper, so that its keys work at once."""
        return self.desk.paper

    def show_state(self, old: DeskState | None, new: DeskState) -> None:
        """Show what changed, or remember it until the page is shown."""
        if old is None or old.preferences.surround is not new.preferences.surround:
            theme = theme_of(new.preferences.surround)
            for part in (self.checklist, self.along, self.desk):
                part.dress(theme)
        changed = (
            old is None
            or old.project is not new.project
            or old.selection.scheme_id != new.selection.scheme_id
        )
        self._stale = self._stale or changed
        if new.selection.page is Page.SHEET and self._stale:
            self._stale = False
            self.checklist.show_project(new.project)
            self._refresh()

    def showEvent(self, event: QShowEvent) -> None:
        """The first picture, once the desk has its size."""
        super().showEvent(event)
        self._draw()

    def _assemble(self) -> None:
        panel = QFrame()
        panel.setProperty("role", "panel")
        inside = QVBoxLayout(panel)
        inside.setContentsMargins(GAP_WIDE, GAP, GAP_WIDE, GAP_WIDE)
        inside.setSpacing(GAP)
        inside.addWidget(self.checklist)
        inside.addWidget(self.findings)
        inside.addSpacing(GAP)
        inside.addWidget(self.along)
        inside.addStretch(1)
        self.column = _Column(panel)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GAP_WIDE)
        row.addWidget(self.column)
        row.addWidget(self.desk, 1)

    def _connect(self) -> None:
        self.checklist.changed.connect(self._refresh)
        self.along.wanted.connect(self._on_wanted)
        self.along.stopped.connect(self.taking.stop)
        self.making.made.connect(self._on_made)
        self.making.failed.connect(self._on_failed)
        self.making.slow.connect(self._on_slow)
        self.making.progress.connect(self.desk.show_progress)
        self.making.stopped.connect(self._on_stopped)
        self.drawing.drawn.connect(self._on_drawn)
        self.drawing.failed.connect(self.bridge.problem)
        self.taking.slow.connect(self.along.show_busy)
        self.taking.progress.connect(self.along.show_progress)
        self.taking.over.connect(self.along.show_quiet)
        self.desk.turned.connect(self._on_turned)
        self.desk.resized.connect(self._draw)
        self.desk.stopped.connect(self.making.stop)
        self.desk.again.connect(self._refresh)
        self.desk.gone.connect(self._on_gone)
        for keys, meaning, do in (
            ("Alt+Left", self.tr("The side before"), lambda: self.desk.paper.turn(-1)),
            ("Alt+Right", self.tr("The side after"), lambda: self.desk.paper.turn(1)),
            ("Ctrl+P", self.tr("Print the sheet"), lambda: self._on_wanted("print")),
            ("Ctrl+E", self.tr("Save the sheet as PDF"), lambda: self._on_wanted("pdf")),
        ):
            shortcut = QShortcut(QKeySequence(keys), self)
            shortcut.setWhatsThis(meaning)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.activated.connect(do)

    def _refresh(self) -> None:
        """Ask for the sheet of the state as it is, or say why there is none."""
        state = self.bridge.state
        scheme = state.scheme
        empty = scheme is None or not scheme.steps
        self.along.setEnabled(not empty)
        if scheme is None or empty:
            self._asked = self._shown = None
            self.making.forget()
            self.drawing.forget()
            self._show_findings(())
            self._say_empty(state)
            return
        options = self.checklist.options()
        self._asked = Request(state.project, scheme.id, options, self._is_pictured(options))
        if self.desk.is_empty:
            self.desk.show_bare()
        self.making.ask(self._asked)

    def _is_pictured(self, options: SheetOptions) -> bool:
        """Whether the model can be shown now; else it is traced, and shown once it is there."""
        from schemeforge.export.portrait import SIZE, is_at_hand

        if not options.shows(Section.PICTURE) or is_at_hand(self.bridge.stand_ins):
            return True
        from schemeforge.stand_in import WARDEN, SprayCone, Turn

        if not self._awaits:
            self._awaits = True
            self.bridge.tracer.arrived.connect(self._on_arrived)
        self.bridge.tracer.ask_view(WARDEN, SIZE, Turn(), SprayCone())
        return False

    def _on_arrived(self) -> None:
        """Some view is there: perhaps the one that the sheet waits for."""
        self._awaits = False
        self.bridge.tracer.arrived.disconnect(self._on_arrived)
        if self.bridge.state.selection.page is Page.SHEET:
            self._refresh()
        else:
            self._stale = True

    def _say_empty(self, state: DeskState) -> None:
        scheme = state.scheme
        if scheme is None:
            self.desk.show_empty(
                self.tr("There is no scheme yet. Add one, and its sheet lies here."),
                self.tr("To the schemes"),
            )
        else:
            said = self.tr('"{0}" has no steps yet. Add a coat, and its sheet lies here.')
            self.desk.show_empty(said.format(scheme.name), self.tr("To the coats"))

    def _on_gone(self) -> None:
        there = Page.SCHEMES if self.bridge.state.scheme is None else Page.COATS
        self.bridge.session.select(page=there)

    def _on_made(self, request: Request, sheet: "Sheet") -> None:
        old = self._shown
        self._shown = (request, sheet)
        other = old is None or old[0].scheme_id != request.scheme_id
        self._number = 0 if other else min(self._number, len(sheet.pages) - 1)
        self.desk.hide_note()
        self._show_findings(sheet.pdf.findings)
        self._show_side()

    def _on_failed(self, sentence: str) -> None:
        self._shown = None
        self.drawing.forget()
        self._show_findings(())
        self.desk.show_bare()
        said = self.tr("There is no sheet: {0}").format(sentence)
        self.desk.show_note(said, stop=False, again=False)
        self.bridge.problem.emit(sentence)

    def _on_slow(self) -> None:
        said = self.tr("The sheet is being laid out…")
        if self._shown is not None:
            said = self.tr("Being laid out anew; this is how it was before the change.")
        self.desk.show_note(said, stop=True, again=False)

    def _on_stopped(self) -> None:
        said = self.tr("Stopped: the last change is not on this sheet.")
        self.desk.show_note(said, stop=False, again=True)

    def _show_findings(self, findings: tuple[str, ...]) -> None:
        self.findings.setText("\n".join(findings))
        self.findings.setVisible(bool(findings))

    def _show_side(self) -> None:
        if self._shown is not None:
            self.desk.show_side(self._shown[1].pages, self._number)
            self._draw()

    def _draw(self) -> None:
        """Have the side on top drawn for the size it has; none while the page is not seen."""
        pixels = self.desk.paper.pixels_across
        if self._shown is not None and pixels and self.isVisible():
            self.drawing.ask(Side(self._shown[1], self._number, pixels))

    def _on_drawn(self, side: Side, image: QImage) -> None:
        if self._shown is not None and side.sheet is self._shown[1]:
            self.desk.paper.show_image(image)

    def _on_turned(self, number: int) -> None:
        self._number = number
        self._show_side()

    def _on_wanted(self, what: str) -> None:
        """Take the sheet as it is asked for now, whether or not it lies on the desk yet."""
        request = self._asked
        if request is None:
            return
        if what == "print":
            self.taking.print(request, self.sheet, self._number)
        elif what == "pdf":
            self.taking.pdf(request, self.sheet)
        elif what == "pictures":
            self.taking.pictures(request, self.sheet, int(self.along.dpi.currentData()))
        elif what == "tables":
            self.taking.tables(request)
        else:
            self.taking.strip(request)


class _Column(QScrollArea):
    """A column as narrow as its widest line, which scrolls where the window is low."""

    def __init__(self, content: QWidget) -> None:
        super().__init__()
        self._content = content
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidget(content)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Expanding)

    def sizeHint(self) -> QSize:
        """Room for the content without scrolling sideways."""
        inner = self._content.minimumSizeHint()
        least = 32 * self.fontMetrics().averageCharWidth()
        bar = self.verticalScrollBar().sizeHint().width()
        return QSize(max(inner.width(), least) + bar, inner.height())

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Other content may want another width."""
        if event.type() is QEvent.Type.LayoutRequest:
            self.updateGeometry()
        return super().eventFilter(watched, event)

    def minimumSizeHint(self) -> QSize:
        """Never narrower."""
        return QSize(self.sizeHint().width(), 200)
