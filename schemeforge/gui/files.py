"""Files at the window: new, open, recent, save, save as, revert, drop, and what to ask first."""

from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QFileDialog, QMessageBox, QWidget

from schemeforge.gui.bridge import Bridge
from schemeforge.resources import asset
from schemeforge.scheme import Project
from schemeforge.scheme.project_file import SUFFIX, load

DEMO = ("demo", f"saltmarsh_wardens{SUFFIX}")


def demo_project() -> Project:
    """The demo project that comes with the program."""
    return load(asset(*DEMO))


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
        if path.suffix.lower() == ".png":
            from schemeforge.export.recipe_strip import read_strip

            return self.bridge.attempt(
                lambda: self.bridge.session.begin(read_strip(path), saved=False)
            )
        return self.bridge.attempt(lambda: self.bridge.session.open(path))

    def save(self) -> bool:
        """Save to the project's file, asking for one where there is none."""
        if self.bridge.state.path is None:
            return self.ask_save_as()
        return self._save(None)

    def ask_save_as(self) -> bool:
        """Choose a file and save there."""
        name, _ = QFileDialog.getSaveFileName(
            self._window, self.tr("Save the project"), self._folder(), self._filter(strips=False)
        )
        if not name:
            return False
        path = Path(name)
        return self._save(path if path.name.endswith(SUFFIX) else Path(name + SUFFIX))

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
        if self.bridge.state.is_saved:
            return True
        box = QMessageBox(self._window)
        box.setIcon(QMessageBox.Icon.Question)
        box.setText(self.tr("Save the changes first?"))
        box.setInformativeText(self.bridge.state.project.name)
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

    def _save(self, path: Path | None) -> bool:
        done = self.bridge.attempt(lambda: self.bridge.session.save(path))
        if done:
            self.bridge.told.emit(self.tr("Saved as {0}.").format(self.bridge.state.path))
        return done

    def _sure(self, question: str, why: str, yes: str) -> bool:
        box = QMessageBox(self._window)
        box.setText(question)
        box.setInformativeText(why)
        go = box.addButton(yes, QMessageBox.ButtonRole.AcceptRole)
        box.addButton(QMessageBox.StandardButton.Cancel)
        box.exec()
        return box.clickedButton() is go

    def _folder(self) -> str:
        path = self.bridge.state.path
        return str(path.parent if path else Path.home())

    def _filter(self, *, strips: bool) -> str:
        ours = self.tr("Projects")
        return f"{ours} (*{SUFFIX} *.png)" if strips else f"{ours} (*{SUFFIX})"
