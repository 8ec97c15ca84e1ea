"""Files at the window: new, open, recent, save, save as, revert, drop, and what to ask first."""

from pathlib import Path

from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import QApplication, QFileDialog, QMessageBox, QWidget

from schemeforge.desk import Session
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.file_names import plain_name
from schemeforge.resources import asset
from schemeforge.scheme import Project
from schemeforge.scheme.project_file import SUFFIX, load

DEMO = ("demo", f"saltmarsh_wardens{SUFFIX}")
_PICTURE = b"\x89PNG\r\n"


def demo_project() -> Project:
    """The demo project that comes with the program."""
    return load(asset(*DEMO))


def open_document(session: Session, path: Path) -> None:
    """Open a project file, or a recipe strip that carries a project; raises SchemeForgeError.

    What a strip carries is new work that no project file holds yet.
    """
    if not _is_picture(path):
        session.open(path)
        return
    from schemeforge.export.recipe_strip import read_strip

    session.begin(read_strip(path), saved=False)


def _is_picture(path: Path) -> bool:
    if path.suffix.lower() == ".png":
        return True
    try:
        if not path.is_file():  # a pipe would keep us waiting
            return False
        with path.open("rb") as stream:
            return stream.read(len(_PICTURE)) == _PICTURE
    except (OSError, ValueError):
        return False  # opening it as a project tells why


class FileActions(QObject):
    """What the File menu does."""

    def __init__(self, bridge: Bridge, window: QWidget) -> None:
        super().__init__(window)
        self.bridge = bridge
        self._window = window

    def new(self) -> None:
        """An empty project with one scheme."""
        if self.may_leave():
            self.bridge.session.begin(self.empty_project())

    def open_demo(self) -> None:
        """The demo project."""
        if self.may_leave():
            self.bridge.attempt(lambda: self.bridge.session.begin(demo_project()))

    def ask_open(self) -> None:
        """Choose a file and open it."""
        name, _ = QFileDialog.getOpenFileName(
            self._window, self.tr("Open a project"), self._folder(), self._filter(strips=True)
        )
        if name:
            self.open(Path(name))

    def open(self, path: Path) -> bool:
        """Open a project, or a recipe strip that carries one; False where that cannot be."""
        if not self.may_leave():
            return False
        return self.bridge.attempt(lambda: open_document(self.bridge.session, path))

    def save(self) -> bool:
        """Save to the project's file, asking for one where there is none."""
        self._take_what_is_typed()
        if self.bridge.state.path is None:
            return self.ask_save_as()
        return self._save(None)

    def ask_save_as(self) -> bool:
        """Choose a file and save there."""
        self._take_what_is_typed()
        state = self.bridge.state
        here = state.path or Path(self._folder()) / f"{plain_name(state.project.name)}{SUFFIX}"
        name, _ = QFileDialog.getSaveFileName(
            self._window, self.tr("Save the project"), str(here), self._filter(strips=False)
        )
        if not name:
            return False
        path = Path(name)
        if not name.endswith(SUFFIX):
            path = Path(name + SUFFIX)  # a name that the dialog did not ask about
            if path.exists() and not self._sure(
                self.tr("Replace the file of that name?"), str(path), self.tr("Replace it")
            ):
                return False
        return self._save(path)

    def revert(self) -> None:
        """Back to what the file holds, after asking."""
        if self.bridge.state.path is None or self._sure(
            self.tr("Go back to the saved file?"),
            self.tr("Everything since the last save is dropped, undo included."),
            self.tr("Go back"),
        ):
            self.bridge.attempt(self.bridge.session.revert)

    def may_leave(self) -> bool:
        """True where nothing unsaved is lost: saved, or the user saves or drops it."""
        self._take_what_is_typed()
        if self.bridge.state.is_saved:
            return True
        box = self._box(self.tr("Save the changes first?"), self.bridge.state.project.name)
        button = QMessageBox.StandardButton
        box.setStandardButtons(button.Save | button.Discard | button.Cancel)
        box.setDefaultButton(button.Save)
        answer = box.exec()
        if answer == button.Save:
            return self.save()
        return answer == button.Discard

    def empty_project(self) -> Project:
        """A project with nothing painted yet, carrying the black, white and medium it needs."""
        from schemeforge.gui.starting import starting_project

        return starting_project(self.bridge.state.document.shelf)

    def _take_what_is_typed(self) -> None:
        """Have the field with the focus hand over what was typed, as if it had been left."""
        focus = QApplication.focusWidget()
        if focus is not None and self._window.isAncestorOf(focus):
            focus.clearFocus()
            if focus.isVisible():
                focus.setFocus()

    def _save(self, path: Path | None) -> bool:
        if self.bridge.session.is_overtaken(path) and not self._sure(
            self.tr("The file was changed meanwhile, by another window or program."),
            self.tr("Saving replaces that version; it is kept beside the file, named .bak."),
            self.tr("Save over it"),
        ):
            return False
        done = self.bridge.attempt(lambda: self.bridge.session.save(path))
        if done:
            self.bridge.told.emit(self.tr("Saved as {0}.").format(self.bridge.state.path))
        return done

    def _sure(self, question: str, why: str, yes: str) -> bool:
        box = self._box(question, why)
        go = box.addButton(yes, QMessageBox.ButtonRole.AcceptRole)
        box.addButton(QMessageBox.StandardButton.Cancel)
        box.exec()
        return box.clickedButton() is go

    def _box(self, question: str, why: str) -> QMessageBox:
        box = QMessageBox(self._window)
        box.setIcon(QMessageBox.Icon.Question)
        box.setTextFormat(Qt.TextFormat.PlainText)
        box.setText(question)
        box.setInformativeText(why)
        return box

    def _folder(self) -> str:
        path = self.bridge.state.path
        return str(path.parent if path else Path.home())

    def _filter(self, *, strips: bool) -> str:
        ours = self.tr("Projects")
        return f"{ours} (*{SUFFIX} *.png)" if strips else f"{ours} (*{SUFFIX})"
