"""The main window: rail, view bar, notice line, and the page picked."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray, QEvent, QSettings, Qt, QTimer
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import (
    QApplication,
    QHBoxLayout,
    QMainWindow,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)
from shiboken6 import isValid

from schemeforge.desk import DeskState, Page
from schemeforge.errors import SchemeForgeError
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.counting import counted
from schemeforge.gui.files import FileActions
from schemeforge.gui.menus import Keys, Menus
from schemeforge.gui.offers import Offers
from schemeforge.gui.page import PageView
from schemeforge.gui.pages import make_page
from schemeforge.gui.rail import Rail
from schemeforge.gui.tab_order import next_in, reading_order
from schemeforge.gui.theme import GAP, GAP_PAGE, apply_theme
from schemeforge.gui.view_bar import ViewBar
from schemeforge.gui.widgets.notice import NoticeLine

if TYPE_CHECKING:
    from schemeforge.gui.help import KeysDialog
    from schemeforge.gui.recipes.asked import Asked
    from schemeforge.gui.recipes.bench import MixingBench


class MainWindow(QMainWindow):
    """Assembles the parts; pages are made when first shown.

    Args:
        bridge: The session joined to Qt.
        settings: Where geometry and page are kept; None keeps nothing.
    """

    def __init__(self, bridge: Bridge, settings: QSettings | None = None) -> None:
        super().__init__()
        _dress(bridge.state)
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
        self._bench: MixingBench | None = None
        self._asked_from: QWidget | None = None
        self._pages: dict[Page, PageView] = {}
        self._assemble()
        self.offers = Offers(bridge, self.files, self.notice, self._focus_page)
        self.offers.clock_wanted.connect(self._show_clock)
        names = {page: button.text() for page, button in self.rail.buttons.items()}
        self.menus = Menus(self, bridge, self.files, names, self._helps(), self._find_recipe)
        # A dialog opens once the click itself is over.
        self.rail.asked.connect(self.menus.ask_name, Qt.ConnectionType.QueuedConnection)
        bridge.changed.connect(self._show)
        bridge.problem.connect(self.notice.show_problem)
        bridge.told.connect(self.notice.show_note)
        bridge.asked.connect(self._show_bench)
        bridge.judging.connect(self._judge_model)
        self._restore()
        self._show(None, bridge.state)
        self._focus_page()

    def page(self, page: Page) -> PageView:
        """The view of a page, made now where it was not shown yet."""
        if page not in self._pages:
            view = make_page(page, self.bridge)
            self._pages[page] = view
            self._stack.addWidget(view)
        return self._pages[page]

    @property
    def bench(self) -> "MixingBench":
        """The mixing bench, made now where nothing was asked of it yet."""
        if self._bench is None:
            from schemeforge.gui.recipes.bench import MixingBench

            self._bench = MixingBench(self.bridge)
            self._bench.closed.connect(self._put_bench_away)
            self._stack.addWidget(self._bench)
        return self._bench

    def _show_bench(self, asked: "Asked") -> None:
        """Lay the bench over the page, with what is asked on it."""
        bench = self.bench
        if self._stack.currentWidget() is not bench:
            self._asked_from = QApplication.focusWidget()
            self._stack.setCurrentWidget(bench)
        bench.ask(asked)

    def _put_bench_away(self) -> None:
        """Back to the page, and to what had the focus there."""
        if self._bench is None or self._stack.currentWidget() is not self._bench:
            return
        self._bench.put_away()
        self._stack.setCurrentWidget(self.page(self.bridge.state.selection.page))
        before, self._asked_from = self._asked_from, None
        if before is not None and isValid(before) and before.isVisibleTo(self):
            before.setFocus()
        else:
            self._focus_page()

    def _judge_model(self) -> None:
        """Turn to where a painted test model is judged."""
        from schemeforge.gui.paints.page import PaintsPage

        self.bridge.session.select(page=Page.PAINTS)
        page = self.page(Page.PAINTS)
        if isinstance(page, PaintsPage):
            page.adding.judge_model()

    def _find_recipe(self) -> None:
        """What to mix for the picked zone, or for a colour that is typed."""
        from schemeforge.gui.recipes.choice import ZonePlace
        from schemeforge.gui.recipes.sources import zone_choices

        pick = self.bridge.state.selection
        place = ZonePlace(pick.scheme_id, pick.zone_id)
        for choice in zone_choices(self.bridge.state, place):
            self.bridge.asked.emit(choice.asked)
            self.bench.target.typed.setFocus()
            return
        self.bridge.problem.emit(self.tr("There is no zone to paint; add one on the Batch page."))

    def _assemble(self) -> None:
        middle, desk, room = QWidget(), QWidget(), QWidget()
        column = QVBoxLayout(desk)
        column.setContentsMargins(GAP_PAGE, 0, GAP_PAGE, GAP)
        column.setSpacing(GAP)
        column.addWidget(self.view_bar)
        column.addWidget(self._stack, 1)
        column.addWidget(room)
        self.notice.float_over(desk, room)
        row = QHBoxLayout(middle)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self.rail)
        row.addWidget(desk, 1)
        self.setCentralWidget(middle)

    def keys_dialog(self) -> "KeysDialog":
        """Every key of every page, made from what the pages tell."""
        from schemeforge.gui.help import KeysDialog, key_sections

        pages: list[tuple[str, QWidget]] = [
            (button.text(), self.page(page)) for page, button in self.rail.buttons.items()
        ]
        pages.append((self.tr("Mixing bench"), self.bench))
        return KeysDialog(key_sections(self.menus.listed(), pages), self)

    def _show_clock(self) -> None:
        from schemeforge.gui.batch.page import BatchPage

        view = self.page(Page.BATCH)
        if isinstance(view, BatchPage):
            view.show_clock()

    def _helps(self) -> list[tuple[str, Keys, Callable[[], object]]]:
        return [
            (self.tr("&Keys..."), "F1", lambda: self.keys_dialog().exec()),
            (self.tr("What to &try first"), None, self.offers.point_to_first_thing),
            (self.tr("&About SchemeForge..."), None, self._show_about),
        ]

    def _show_about(self) -> None:
        from schemeforge.gui.help import AboutDialog

        AboutDialog(self).exec()

    def _show(self, old: DeskState | None, new: DeskState) -> None:
        if old is not None and old.preferences.surround is not new.preferences.surround:
            _dress(new)
        if old is None or old.selection.page is not new.selection.page:
            self._turn_to(new.selection.page)
        self.menus.show_state(old, new)
        name = new.path.name if new.path else new.project.name
        plain = name.replace("[*]", "[*][*]")  # Qt puts its mark of unsaved work there
        self.setWindowTitle(f"{plain}[*] – SchemeForge")
        self.setWindowModified(not new.is_saved)

    def _turn_to(self, page: Page) -> None:
        """Show a page; where the focus was on the page before, it goes along."""
        self._put_bench_away()
        focus = QApplication.focusWidget()
        goes_along = focus is not None and self._stack.isAncestorOf(focus)
        view = self.page(page)
        self._stack.setCurrentWidget(view)
        self.view_bar.scheme.setVisible(page not in {Page.PAINTS, Page.SCHEMES})
        if goes_along:
            view.focus_first().setFocus()

    def _focus_page(self) -> None:
        self.page(self.bridge.state.selection.page).focus_first().setFocus()

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Tab goes on as one reads."""
        focus = self.focusWidget()
        target = None
        if focus is not None:
            target = next_in(reading_order(self), focus, forward=forward)
        if target is None:
            return super().focusNextPrevChild(forward)
        reason = Qt.FocusReason.TabFocusReason if forward else Qt.FocusReason.BacktabFocusReason
        self.setAttribute(Qt.WidgetAttribute.WA_KeyboardFocusChange)
        target.setFocus(reason)
        return True

    def changeEvent(self, event: QEvent) -> None:
        """Back in front: take up what another window did to the shelf meanwhile."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.ActivationChange and self.isActiveWindow():
            self._take_up_shelf()

    def _take_up_shelf(self) -> None:
        try:
            count = self.bridge.session.take_up_shelf()
        except SchemeForgeError:
            return  # busy or damaged: nothing is lost, and the next save tells of it
        if count:
            one = self.tr("Another window changed one paint of the shelf.")
            many = self.tr("Another window changed {0} paints of the shelf.")
            self.bridge.told.emit(counted(count, one, many))

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take one local file at a time."""
        urls = event.mimeData().urls()
        if len(urls) == 1 and urls[0].isLocalFile():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Open what was dropped, once the drop itself is over."""
        urls = event.mimeData().urls()
        if len(urls) != 1 or not urls[0].isLocalFile():
            return
        path = Path(urls[0].toLocalFile())
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


def _dress(state: DeskState) -> None:
    app = QApplication.instance()
    if isinstance(app, QApplication):
        apply_theme(app, state.preferences.surround)
