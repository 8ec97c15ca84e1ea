"""The menu bar: what concerns the whole window, with its keys."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMainWindow, QMenu

from schemeforge.desk import DeskState, Page, Surround
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.files import FileActions

Keys = QKeySequence.StandardKey | str | None


class Menus(QObject):
    """Project, Edit, View and Help.

    Args:
        window: Gets the menu bar.
        bridge: The session joined to Qt.
        files: What the Project menu does.
        pages: Each page's name on the rail.
        helps: Labels, keys and what they do, for the Help menu.
        find_recipe: Asks what to mix for the picked zone or a colour typed.
    """

    def __init__(
        self,
        window: QMainWindow,
        bridge: Bridge,
        files: FileActions,
        pages: dict[Page, str],
        helps: list[tuple[str, Keys, Callable[[], object]]],
        find_recipe: Callable[[], object],
    ) -> None:
        super().__init__(window)
        self._window = window
        self.bridge = bridge
        self.files = files
        self.undo = QAction(window)
        self.redo = QAction(window)
        self.numbers = QAction(self.tr("&Numbers"), window)
        self.recent = QMenu(self.tr("Open &recent"), window)
        self.pages: dict[Page, QAction] = {}
        self.surrounds: dict[Surround, QAction] = {}
        self._lists: list[tuple[QMenu, list[QAction]]] = []
        self._project_menu()
        self._edit_menu(find_recipe)
        self._view_menu(pages)
        self._menu(self.tr("&Help"))
        for label, keys, do in helps:
            self._add(label, do, keys)

    def listed(self) -> list[tuple[str, list[QAction]]]:
        """Each menu's name and its actions, in order."""
        return [(menu.title().replace("&", ""), actions) for menu, actions in self._lists]

    def show_state(self, old: DeskState | None, new: DeskState) -> None:
        """Name what undo and redo would do, list the recent files, tick what is on."""
        undo, redo = (label.replace("&", "&&") for label in (new.undo_label, new.redo_label))
        self.undo.setText(self.tr("&Undo: {0}").format(undo) if undo else self.tr("&Undo"))
        self.redo.setText(self.tr("&Redo: {0}").format(redo) if redo else self.tr("&Redo"))
        self.undo.setEnabled(bool(undo))
        self.redo.setEnabled(bool(redo))
        self.revert.setEnabled(new.path is not None)
        self.numbers.setChecked(new.preferences.numbers)
        self.surrounds[new.preferences.surround].setChecked(True)
        self.pages[new.selection.page].setChecked(True)
        if old is None or old.recent is not new.recent:
            self._list_recent(new.recent)

    def ask_name(self) -> None:
        """Another name for the project, and a note on it."""
        from schemeforge.gui.project_dialog import ProjectDialog

        ProjectDialog(self.bridge, self._window).exec()

    def look(self) -> None:
        """At the models, in a window of its own."""
        from schemeforge.gui.looking.room import look

        look(self.bridge, self._window)

    def _project_menu(self) -> None:
        files, key = self.files, QKeySequence.StandardKey
        menu = self._menu(self.tr("&Project"))
        self._add(self.tr("&New"), files.new, key.New)
        self._add(self.tr("&Open..."), files.ask_open, key.Open)
        menu.addMenu(self.recent)
        self._add(self.tr("Open the &demo"), files.open_demo)
        menu.addSeparator()
        self._add(self.tr("&Save"), files.save, key.Save)
        self._add(self.tr("Save &as..."), files.ask_save_as, "Ctrl+Shift+S")
        self.revert = self._add(self.tr("&Go back to the saved file"), files.revert)
        menu.addSeparator()
        self._add(self.tr("Na&me and note..."), self.ask_name, "Shift+F2")
        menu.addSeparator()
        self._add(self.tr("&Quit"), self._window.close, key.Quit)

    def _edit_menu(self, find_recipe: Callable[[], object]) -> None:
        menu = self._menu(self.tr("&Edit"))
        session = self.bridge.session
        self.undo.triggered.connect(lambda: self.bridge.attempt(session.undo))
        self.undo.setShortcuts(QKeySequence.StandardKey.Undo)
        self.redo.triggered.connect(lambda: self.bridge.attempt(session.redo))
        self.redo.setShortcuts([QKeySequence("Ctrl+Shift+Z"), QKeySequence("Ctrl+Y")])
        self._take(self.undo)
        self._take(self.redo)
        menu.addSeparator()
        self._add(self.tr("&Find a recipe..."), find_recipe, "Ctrl+R")

    def _view_menu(self, pages: dict[Page, str]) -> None:
        menu = self._menu(self.tr("&View"))
        session = self.bridge.session
        group = QActionGroup(self)
        for number, (page, name) in enumerate(pages.items(), 1):
            action = self._add(name, partial(session.select, page=page), f"Ctrl+{number}")
            self.pages[page] = self._checkable(action, group)
        menu.addSeparator()
        self._add(self.tr("&Look at the models..."), self.look, "Ctrl+L")
        self.numbers.setCheckable(True)
        self.numbers.setShortcut(QKeySequence("Ctrl+Shift+N"))
        self.numbers.triggered.connect(lambda on: session.prefer(numbers=on))
        self._take(self.numbers)
        menu.addSeparator()
        group = QActionGroup(self)
        for surround, label in (
            (Surround.GREY, self.tr("&Grey surround")),
            (Surround.DARK, self.tr("&Dark surround")),
            (Surround.LIGHT, self.tr("&Light surround")),
        ):
            action = self._add(label, partial(session.prefer, surround=surround))
            self.surrounds[surround] = self._checkable(action, group)

    def _menu(self, title: str) -> QMenu:
        menu = self._window.menuBar().addMenu(title)
        self._lists.append((menu, []))
        return menu

    def _add(self, label: str, do: Callable[[], object], keys: Keys = None) -> QAction:
        action = QAction(label, self._window)
        action.triggered.connect(lambda _on=False: do())
        if keys is not None:
            action.setShortcut(QKeySequence(keys))
        return self._take(action)

    def _take(self, action: QAction) -> QAction:
        menu, actions = self._lists[-1]
        menu.addAction(action)
        actions.append(action)
        return action

    @staticmethod
    def _checkable(action: QAction, group: QActionGroup) -> QAction:
        action.setCheckable(True)
        group.addAction(action)
        return action

    def _list_recent(self, recent: tuple[Path, ...]) -> None:
        self.recent.clear()
        for path in recent:
            action = self.recent.addAction(str(path).replace("&", "&&"))
            action.triggered.connect(lambda _on=False, p=path: self.files.open(p))
        self.recent.setEnabled(bool(recent))
