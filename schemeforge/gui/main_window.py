"""The main window: rail, view bar, notice line, and the page picked."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

from PySide6.QtCore import QByteArray, QSettings, Qt, QTimer
from PySide6.QtGui import (
    QAction,
    QCloseEvent,
    QDragEnterEvent,
    QDropEvent,
    QKeySequence,
)
from PySide6.QtWidgets import (
    QApplication,
    QHBoxLayout,
    QMainWindow,
    QMenu,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from schemeforge.desk import DeskState, Page, Surround
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.files import FileActions
from schemeforge.gui.page import PageView
from schemeforge.gui.pages import make_page
from schemeforge.gui.rail import Rail
from schemeforge.gui.theme import GAP, GAP_PAGE, apply_theme
from schemeforge.gui.view_bar import ViewBar
from schemeforge.gui.widgets.notice import NoticeLine


class MainWindow(QMainWindow):
    """Assembles the parts; pages are made when first shown.

    Args:
        bridge: The session joined to Qt.
        settings: Where geometry and page are kept; None keeps nothing.
    """

    def __init__(self, bridge: Bridge, settings: QSettings | None = None) -> None:
        super().__init__()
        self.bridge = bridge
        self._settings = settings
        self.files = FileActions(bridge, self)
        self.setMinimumSize(1100, 640)
        self.resize(1360, 860)
        self.setAcceptDrops(True)
        self.notice = NoticeLine()
        self.view_bar = ViewBar(bridge)
        self.rail = Rail(bridge)
        self._stack = QStackedWidget()
        self._pages: dict[Page, PageView] = {}
        self._undo = QAction(self)
        self._redo = QAction(self)
        self._recent = QMenu(self.tr("Open recent"), self)
        self._assemble()
        self._make_menus()
        bridge.changed.connect(self._show)
        bridge.problem.connect(self.notice.show_problem)
        bridge.told.connect(self.notice.show_note)
        self._restore()
        self._show(None, bridge.state)
        self.page(bridge.state.selection.page).focus_first().setFocus()

    def page(self, page: Page) -> PageView:
        """The view of a page, made now where it was not shown yet."""
        if page not in self._pages:
            view = make_page(page, self.bridge)
            self._pages[page] = view
            self._stack.addWidget(view)
        return self._pages[page]

    def _assemble(self) -> None:
        middle = QWidget()
        column = QVBoxLayout()
        column.setContentsMargins(GAP_PAGE, 0, GAP_PAGE, GAP)
        column.setSpacing(GAP)
        column.addWidget(self.view_bar)
        column.addWidget(self.notice)
        column.addWidget(self._stack, 1)
        row = QHBoxLayout(middle)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self.rail)
        row.addLayout(column, 1)
        self.setCentralWidget(middle)

    def _make_menus(self) -> None:
        files, key = self.files, QKeySequence.StandardKey
        project = self.menuBar().addMenu(self.tr("&Project"))
        self._add(project, self.tr("&New"), files.new, key.New)
        self._add(project, self.tr("&Open..."), files.ask_open, key.Open)
        project.addMenu(self._recent)
        self._add(project, self.tr("Open the &demo"), files.open_demo, None)
        project.addSeparator()
        self._add(project, self.tr("&Save"), files.save, key.Save)
        self._add(project, self.tr("Save &as..."), files.ask_save_as, "Ctrl+Shift+S")
        self._add(project, self.tr("&Go back to the saved file"), files.revert, None)
        project.addSeparator()
        self._add(project, self.tr("&Quit"), self.close, key.Quit)
        edit = self.menuBar().addMenu(self.tr("&Edit"))
        self._undo.triggered.connect(self.bridge.session.undo)
        self._undo.setShortcuts(key.Undo)
        self._redo.triggered.connect(self.bridge.session.redo)
        self._redo.setShortcuts([QKeySequence("Ctrl+Shift+Z"), QKeySequence("Ctrl+Y")])
        edit.addActions([self._undo, self._redo])
        self._make_view_menu()

    def _make_view_menu(self) -> None:
        view = self.menuBar().addMenu(self.tr("&View"))
        for number, page in enumerate(Page, 1):
            label = self.rail.buttons[page].text()
            self._add(view, label, partial(self._go, page), f"Ctrl+{number}")
        view.addSeparator()
        self._add(view, self.tr("&Numbers on or off"), self._toggle_numbers, "Ctrl+Shift+N")
        for surround, label in (
            (Surround.GREY, self.tr("&Grey surround")),
            (Surround.DARK, self.tr("&Dark surround")),
            (Surround.LIGHT, self.tr("&Light surround")),
        ):
            self._add(view, label, partial(self._surround, surround), None)

    def _add(
        self,
        menu: QMenu,
        label: str,
        do: Callable[[], object],
        keys: QKeySequence.StandardKey | str | None,
    ) -> QAction:
        action = QAction(label, self)
        action.triggered.connect(lambda _on=False: do())
        if keys is not None:
            action.setShortcut(QKeySequence(keys))
        menu.addAction(action)
        return action

    def _go(self, page: Page) -> None:
        self.bridge.session.select(page=page)

    def _toggle_numbers(self) -> None:
        on = self.bridge.state.preferences.numbers
        self.bridge.session.prefer(numbers=not on)

    def _surround(self, surround: Surround) -> None:
        self.bridge.session.prefer(surround=surround)

    def _show(self, old: DeskState | None, new: DeskState) -> None:
        if old is None or old.preferences.surround is not new.preferences.surround:
            app = QApplication.instance()
            if isinstance(app, QApplication):
                apply_theme(app, new.preferences.surround)
        if old is None or old.selection.page is not new.selection.page:
            self._stack.setCurrentWidget(self.page(new.selection.page))
            self.view_bar.scheme.setVisible(new.selection.page not in {Page.PAINTS, Page.SCHEMES})
        if old is None or (old.undo_label, old.redo_label) != (new.undo_label, new.redo_label):
            self._show_undo(new.undo_label, new.redo_label)
        if old is None or old.recent is not new.recent:
            self._fill_recent(new.recent)
        named = (new.path, new.project.name, new.is_saved)
        if old is None or named != (old.path, old.project.name, old.is_saved):
            name = new.path.name if new.path else new.project.name
            self.setWindowTitle(f"{name}[*] – SchemeForge")
            self.setWindowModified(not new.is_saved)

    def _show_undo(self, undo: str, redo: str) -> None:
        self._undo.setText(self.tr("Undo: {0}").format(undo) if undo else self.tr("Undo"))
        self._redo.setText(self.tr("Redo: {0}").format(redo) if redo else self.tr("Redo"))
        self._undo.setEnabled(bool(undo))
        self._redo.setEnabled(bool(redo))

    def _fill_recent(self, recent: tuple[Path, ...]) -> None:
        self._recent.clear()
        for path in recent:
            action = self._recent.addAction(str(path).replace("&", "&&"))
            action.triggered.connect(lambda _on=False, p=path: self.files.open(p))
        self._recent.setEnabled(bool(recent))

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take one local file at a time."""
        urls = event.mimeData().urls()
        if len(urls) == 1 and urls[0].isLocalFile():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Open what was dropped, once the drop itself is over."""
        path = Path(event.mimeData().urls()[0].toLocalFile())
        event.acceptProposedAction()
        QTimer.singleShot(0, self, lambda: self.files.open(path))

    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask about unsaved work, then keep geometry and page."""
        if not self.files.may_leave():
            event.ignore()
            return
        if self._settings is not None:
            self._settings.setValue("geometry", self.saveGeometry())
            self._settings.setValue("page", self.bridge.state.selection.page.value)
        self.bridge.close()
        self.bridge.session.close()
        event.accept()

    def _restore(self) -> None:
        if self._settings is None:
            return
        geometry = self._settings.value("geometry")
        if isinstance(geometry, QByteArray):
            self.restoreGeometry(geometry)
        page = self._settings.value("page")
        if page in {p.value for p in Page}:
            self.bridge.session.select(page=Page(page))
        if self.windowState() & Qt.WindowState.WindowMinimized:
            self.setWindowState(Qt.WindowState.WindowNoState)
