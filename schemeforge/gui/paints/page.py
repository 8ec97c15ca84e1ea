"""The Paints page: the painter's shelf as swatch cards, searched, sorted, opened and edited."""

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QSignalBlocker, Qt, QTimer
from PySide6.QtGui import QIcon, QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QComboBox,
    QLabel,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from schemeforge.desk import DeskState, Page
from schemeforge.errors import InputError
from schemeforge.gui.adding.place import AddingPlace
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.counting import counted
from schemeforge.gui.icons import icon
from schemeforge.gui.page import PageView
from schemeforge.gui.paints import shelf_order
from schemeforge.gui.paints.card import BANDS_HEIGHT, CardInfo, PaintCard
from schemeforge.gui.paints.details import Change, PaintDetails
from schemeforge.gui.paints.empty import EmptyShelf
from schemeforge.gui.paints.grid import ShelfGrid
from schemeforge.gui.paints.shelf_order import Order
from schemeforge.gui.paints.swatches import SwatchBook
from schemeforge.gui.paints.transfer import Transfer
from schemeforge.gui.paints.versions import VersionsBar
from schemeforge.gui.recipes.offer import offer_paint, offer_reading
from schemeforge.gui.theme import GAP, GAP_WIDE, theme_of
from schemeforge.gui.widgets.field import Field
from schemeforge.gui.widgets.flow import Flow
from schemeforge.paint import Paint
from schemeforge.scheme import Project, edits
from schemeforge.shelf import Clash, starter_paints


class PaintsPage(PageView):
    """The shelf. While another page is shown it only remembers that something changed."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(bridge, parent)
        self._book = SwatchBook()
        self._stale = False
        self.transfer = Transfer(bridge, self)
        self._make_top()
        self.details = PaintDetails()
        self.grid = ShelfGrid(self.details)
        self.area = QScrollArea()
        self.area.setWidgetResizable(True)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.area.setWidget(self.grid)
        self.area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.differs = VersionsBar(bridge, self._take)
        self.empty = EmptyShelf()
        self.shelf = QWidget()
        column = QVBoxLayout(self.shelf)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        column.addWidget(self._top)
        column.addWidget(self.transfer.clash)
        column.addWidget(self.differs)
        column.addWidget(self.empty)
        column.addWidget(self.area, 1)
        self.adding = AddingPlace(bridge, self.shelf)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.adding)
        self._connect()
        self.watch()

    def _make_top(self) -> None:
        self.search = QLineEdit()
        self.search.setClearButtonEnabled(True)
        self.search.setPlaceholderText(self.tr("Name, kind, colour or pigment"))
        words = self.search.placeholderText()
        self.search.setMinimumWidth(self.search.fontMetrics().horizontalAdvance(words) + 80)
        self.search.setToolTip(
            self.tr('For example "wash", "dark brown" or "PBr7" (Ctrl+F); the words add up')
        )
        self._glass = self.search.addAction(QIcon(), QLineEdit.ActionPosition.LeadingPosition)
        self.order = QComboBox()
        for order, label in (
            (Order.SHELF, self.tr("As on the shelf")),
            (Order.HUE, self.tr("Hue")),
            (Order.LIGHTNESS, self.tr("Dark to light")),
            (Order.NAME, self.tr("Name")),
            (Order.KIND, self.tr("Kind")),
        ):
            self.order.addItem(label, order.value)
        self.used_only = QPushButton(self.tr("Only this project's"))
        self.used_only.setCheckable(True)
        self.used_only.setToolTip(self.tr("Show only paints that a mix of this project holds"))
        self.add_paints = QPushButton(self.tr("Add paints"))
        self.add_paints.setProperty("role", "primary")
        self.add_paints.setToolTip(
            self.tr("From a measurement, a photograph, two colours or one (Insert)")
        )
        self.take_in = QPushButton(self.tr("Import..."))
        self.take_in.setToolTip(self.tr("Take paints from a JSON or CSV file onto the shelf"))
        self.hand_out = QPushButton(self.tr("Export..."))
        self.hand_out.setToolTip(self.tr("Write the paints shown to a JSON or CSV file"))
        self.count = QLabel()
        self.count.setProperty("role", "muted")
        self._top = Flow(gap=GAP)
        self._top.add(Field(self.tr("Search the shelf"), self.search))
        self._top.add(Field(self.tr("Sort by"), self.order))
        for caption, button in (
            (self.tr("Show"), self.used_only),
            (self.tr("New"), self.add_paints),
            (self.tr("Files"), self.take_in),
            (" ", self.hand_out),
        ):
            self._top.add(Field(caption, button))
        self._top.add(Field(self.tr("In view"), self.count))
        for button in (self.used_only, self.add_paints, self.take_in, self.hand_out):
            button.setAccessibleName(button.text())

    def _connect(self) -> None:
        self.search.textChanged.connect(lambda: self._refresh(self.bridge.state))
        self.search.returnPressed.connect(lambda: self.grid.focus_card(""))
        self.order.activated.connect(lambda: self._refresh(self.bridge.state))
        self.used_only.toggled.connect(lambda: self._refresh(self.bridge.state))
        self.add_paints.clicked.connect(self.adding.show_ways)
        self.empty.add_first.clicked.connect(self.adding.show_ways)
        self.adding.left.connect(self.add_paints.setFocus)
        self.adding.shelved.connect(self._show_added)
        self.take_in.clicked.connect(self.transfer.ask_import)
        self.empty.import_first.clicked.connect(self.transfer.ask_import)
        self.hand_out.clicked.connect(
            lambda: self.transfer.ask_export(self._shown(self.bridge.state))
        )
        self.empty.clear_search.clicked.connect(self._show_all)
        self.empty.put_starter.clicked.connect(lambda: self._take(starter_paints()))
        self.grid.made.connect(self._offer_recipes)
        self.grid.picked.connect(self._pick)
        self.grid.asked.connect(self._on_asked)
        self.grid.walked.connect(lambda card: self.area.ensureWidgetVisible(card, 0, GAP_WIDE))
        for strip in self.details.strips:
            offer_reading(strip, self.bridge)
        self.details.edited.connect(self._on_edited)
        self.details.asked.connect(lambda what: self._on_asked(what, self._picked_id))
        for key, meaning, do in (
            (QKeySequence(QKeySequence.StandardKey.Find), self.tr("Find a paint"), self._find),
            (QKeySequence("Insert"), self.tr("Add paints"), self.adding.show_ways),
        ):
            shortcut = QShortcut(key, self.shelf)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.setWhatsThis(meaning)
            shortcut.activated.connect(do)

    def _offer_recipes(self, card: PaintCard) -> None:
        """A mix for the card's colour, and what takes its place where it is used."""
        card.setProperty("colourHeight", BANDS_HEIGHT)
        offer_paint(card, self.bridge, lambda: self._paint(card.paint_id))

    @property
    def _picked_id(self) -> str:
        return self.bridge.state.selection.paint_id

    def show_state(self, old: DeskState | None, new: DeskState) -> None:
        """Show what changed, or remember it until the page is shown."""
        if new.selection.page is not Page.PAINTS:
            self._stale = True
            return
        if old is not None and not self._stale and not _concerns(old, new):
            return
        self._stale = False
        self._refresh(new)
        self.adding.show_state(new)

    def _refresh(self, state: DeskState) -> None:
        theme, numbers = theme_of(state.preferences.surround), state.preferences.numbers
        project, shelf = state.project, state.document.shelf
        swatches = self._book.swatches(project, shelf)
        carried = {paint.id: paint for paint in project.paints}
        shown = self._shown(state)
        infos = [
            CardInfo(
                paint=paint,
                xyz=swatches[paint.id].xyz,
                colour=swatches[paint.id].looks.words,
                used=project.is_used(paint.id),
                differs=carried.get(paint.id, paint) != paint,
                numbers=numbers,
            )
            for paint in shown
        ]
        picked = next((p for p in shown if p.id == state.selection.paint_id), None)
        if picked is not None:
            self.details.show_paint(
                picked,
                swatches[picked.id],
                theme,
                numbers=numbers,
                cannot_mix=self._cannot_mix(state),
            )
        self.grid.show_cards(infos, picked.id if picked else "", theme)
        every = counted(len(shelf), self.tr("{0} paint"), self.tr("{0} paints"))
        self.count.setText(self.tr("{0} of {1}").format(len(shown), every))
        self._glass.setIcon(icon("search", theme.muted))
        self.hand_out.setEnabled(bool(shown))
        self.area.setVisible(bool(shown))
        self.empty.show_state(shown=len(shown), held=len(shelf))
        self.differs.show_state(state)

    def _shown(self, state: DeskState) -> tuple[Paint, ...]:
        swatches = self._book.swatches(state.project, state.document.shelf)
        looks = {paint_id: swatch.looks for paint_id, swatch in swatches.items()}
        wanted = self.search.text()
        found = tuple(
            paint
            for paint in state.document.shelf
            if shelf_order.matches(paint, looks[paint.id], wanted)
            and (not self.used_only.isChecked() or state.project.is_used(paint.id))
        )
        return shelf_order.ordered(found, looks, Order(self.order.currentData()))

    def _show_added(self, paint_id: str) -> None:
        """Back to the shelf, with the paint just added opened and in view."""
        self._show_all()
        self._pick(paint_id)
        self.grid.focus_card(paint_id)

    def _take(self, paints: tuple[Paint, ...]) -> None:
        self.transfer.take(paints, Clash.LEAVE)

    def _pick(self, paint_id: str) -> None:
        self.bridge.session.select(paint_id=paint_id)
        # The scroll area learns of the new height only once control is back in the event loop.
        QTimer.singleShot(0, self, lambda: self._bring_into_view(paint_id))

    def _bring_into_view(self, paint_id: str) -> None:
        card = self.grid.card(paint_id)
        if card is not None:
            self.area.ensureWidgetVisible(self.details, 0, GAP_WIDE)
            self.area.ensureWidgetVisible(card, 0, GAP_WIDE)

    def _find(self) -> None:
        self.search.setFocus()
        self.search.selectAll()

    def _show_all(self) -> None:
        with QSignalBlocker(self.search), QSignalBlocker(self.used_only):
            self.search.clear()
            self.used_only.setChecked(False)
        self._refresh(self.bridge.state)

    def _on_asked(self, what: str, paint_id: str) -> None:
        actions: dict[str, Callable[[str], object]] = {
            "mix": self._put_into_mix,
            "remove": self._remove,
            "rename": self._rename,
            "duplicate": self._duplicate,
            "recipe": self._find_mix,
            "close": lambda _paint_id: self._close(),
        }
        actions[what](paint_id)

    def _find_mix(self, paint_id: str) -> None:
        paint = self._paint(paint_id)
        if paint is not None:
            from schemeforge.gui.recipes.sources import paint_choices

            self.bridge.asked.emit(paint_choices(self.bridge.state, paint)[0].asked)

    def _close(self) -> None:
        paint_id = self._picked_id
        self.bridge.session.select(paint_id="")
        self.grid.focus_card(paint_id)

    def _paint(self, paint_id: str) -> Paint | None:
        return next((p for p in self.bridge.state.document.shelf if p.id == paint_id), None)

    def _cannot_mix(self, state: DeskState) -> str:
        step = state.step
        if state.scheme is None or step is None:
            return self.tr("No coat is picked; pick one on the Coats page")
        if step.mix_id is None:
            return self.tr('"{0}" has no mix; pick a coat on the Coats page').format(step.name)
        return ""

    def _put_into_mix(self, paint_id: str) -> None:
        state, paint = self.bridge.state, self._paint(paint_id)
        if paint is None:
            return
        problem = self._cannot_mix(state)
        if problem or state.scheme is None or state.step is None or state.step.mix_id is None:
            self.bridge.problem.emit(problem + ".")
            return
        scheme, mix = state.scheme, state.scheme.mix(state.step.mix_id)

        def change(project: Project) -> Project:
            if mix.parts_of(paint.id):
                raise InputError(
                    f'"{mix.name}" holds "{paint.name}" already',
                    remedy="change its parts on the Coats page",
                )
            if all(held.id != paint.id for held in project.paints):
                project = edits.put_paint(project, paint)
            return edits.set_parts(project, scheme.id, mix.id, paint.id, 1.0)

        if self.bridge.edit(self.tr("put a paint into a mix"), change):
            told = self.tr('1 part of "{0}" is now in "{1}", which serves {2}.').format(
                paint.name,
                mix.name,
                ", ".join(f'"{s.name}"' for s in edits.steps_sharing(scheme, mix.id)),
            )
            self.bridge.told.emit(told)

    def _edit_shelf(
        self,
        label: str,
        change: Callable[[tuple[Paint, ...]], tuple[Paint, ...]],
        *,
        merge: str = "",
    ) -> bool:
        return self.bridge.attempt(
            lambda: self.bridge.session.edit_shelf(label, change, merge=merge)
        )

    def _remove(self, paint_id: str) -> None:
        paint = self._paint(paint_id)
        ids = [card.paint_id for card in self.grid.cards]
        if paint is None:
            return
        place = ids.index(paint_id) if paint_id in ids else 0
        gone = self._edit_shelf(
            self.tr("remove a paint"), lambda shelf: shelf_order.without_paint(shelf, paint_id)
        )
        if gone:
            self.bridge.told.emit(
                self.tr('"{0}" is off the shelf; undo brings it back.').format(paint.name)
            )
            rest = self.grid.cards
            if rest:
                self.grid.focus_card(rest[min(place, len(rest) - 1)].paint_id)

    def _rename(self, paint_id: str) -> None:
        self.bridge.session.select(paint_id=paint_id)
        self.details.rename()

    def _duplicate(self, paint_id: str) -> None:
        paint, shelf = self._paint(paint_id), self.bridge.state.document.shelf
        if paint is None:
            return
        name = edits.fresh_name(self.tr("{0}, copy").format(paint.name), (p.name for p in shelf))
        taken = [*(p.id for p in shelf), *(p.id for p in self.bridge.state.project.paints)]

        def change(held: tuple[Paint, ...]) -> tuple[Paint, ...]:
            twin = replace(paint, id=edits.fresh_id(name, taken), name=name)
            return shelf_order.behind(held, paint_id, twin)

        if self._edit_shelf(self.tr("duplicate a paint"), change):
            twin_id = edits.fresh_id(name, taken)
            self.bridge.session.select(paint_id=twin_id)
            self.grid.focus_card(twin_id)

    def _on_edited(self, label: str, change: Change, merge: str) -> None:
        paint = self._paint(self._picked_id)
        if paint is None:
            return
        key = f"{merge}:{paint.id}" if merge else ""

        def changed(shelf: tuple[Paint, ...]) -> tuple[Paint, ...]:
            return shelf_order.with_paint(shelf, change(paint))

        if not self._edit_shelf(label, changed, merge=key):
            self._refresh(self.bridge.state)


def _concerns(old: DeskState, new: DeskState) -> bool:
    """True where something that the page shows may have changed."""
    return (
        old.document is not new.document
        or old.selection != new.selection
        or old.preferences != new.preferences
    )
