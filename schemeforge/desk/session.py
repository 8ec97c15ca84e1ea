"""The open document: the one door through which anything at the desk changes.

A change makes a new `DeskState`, then tells everyone ``changed(old, new)``. Views compare by
identity what concerns them and never talk to each other.
"""

from collections import deque
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

from schemeforge.desk.file_stamp import stamp_of
from schemeforge.desk.history import History
from schemeforge.desk.journal import Journal, Leftover, leftovers
from schemeforge.desk.places import Places
from schemeforge.desk.preferences import load_preferences, save_preferences
from schemeforge.desk.state import DeskState, Document, Preferences, Selection, mended
from schemeforge.errors import FileError, MissingFileError
from schemeforge.paint import Paint
from schemeforge.scheme import Project
from schemeforge.scheme.project_file import load, save

Changed = Callable[[DeskState, DeskState], None]
ShelfChange = Callable[[tuple[Paint, ...]], tuple[Paint, ...]]
_MOST_RECENT = 10


class Session:
    """Holds the state, the history, the file and the journal.

    ``on_journal_problem`` may be set: it is told, on the journal's thread, once when edits can no
    longer be kept against a crash.

    Args:
        project: The first document.
        shelf: The painter's paints.
        places: Folders for journal and preferences.
        path: The project's file where it came from one.
        shelf_saver: Called with the shelf whenever it changed, to keep it on disk at once.
        shelf_news: What was done to the shelf elsewhere, as a change of it, or None for nothing.
    """

    def __init__(
        self,
        project: Project,
        *,
        places: Places,
        shelf: tuple[Paint, ...] = (),
        path: Path | None = None,
        shelf_saver: Callable[[tuple[Paint, ...]], None] = lambda _paints: None,
        shelf_news: Callable[[], ShelfChange | None] = lambda: None,
    ) -> None:
        self._places = places
        self._shelf_saver = shelf_saver
        self._shelf_news = shelf_news
        self._watchers: list[Changed] = []
        self._untold: deque[tuple[DeskState, DeskState]] = deque()
        self._telling = False
        self.on_journal_problem: Callable[[str], None] = lambda _sentence: None
        self._journal = Journal(places.journals, self._say_problem)
        self._history = History(Document(project=project, shelf=shelf))
        preferences, recent = load_preferences(places.preferences_file)
        self._state = DeskState(
            document=self._history.document,
            selection=mended(Selection(), project),
            preferences=preferences,
            path=None if path is None else path.absolute(),
            recent=recent,
        )
        self._stamp = None if path is None else stamp_of(path)

    @property
    def state(self) -> DeskState:
        """What the window shows now."""
        return self._state

    @property
    def places(self) -> Places:
        """The user's folders."""
        return self._places

    @property
    def project(self) -> Project:
        """The open project."""
        return self._state.project

    @property
    def journal(self) -> Journal:
        """The autosave journal of this run."""
        return self._journal

    def subscribe(self, watcher: Changed) -> Callable[[], None]:
        """Have ``watcher(old, new)`` called after every change; gives the function that ends it."""
        self._watchers.append(watcher)
        return lambda: self._watchers.remove(watcher) if watcher in self._watchers else None

    def edit(self, label: str, change: Callable[[Project], Project], *, merge: str = "") -> None:
        """Change the project by a pure edit, undoable.

        Args:
            label: What it does, as undo will call it.
            change: From ``schemeforge.scheme.edits``; what it raises is passed on and nothing
                changes.
            merge: Edits in a row under one key are one step of undo, as during a drag.
        """
        old = self._history.document
        project = change(old.project)
        if project is old.project or project == old.project:
            return
        self._push(replace(old, project=project), label, merge)

    def edit_shelf(
        self,
        label: str,
        change: ShelfChange,
        *,
        merge: str = "",
    ) -> None:
        """Change the shelf, undoable in the same history as the project."""
        old = self._history.document
        shelf = change(old.shelf)
        if shelf is not old.shelf and shelf != old.shelf:
            self._push(replace(old, shelf=shelf), label, merge)

    def take_up_shelf(self) -> int:
        """Takes up what other windows did to the shelf; how many paints came, went or changed.

        It is no step of undo: undo takes back what was done in this window, and leaves theirs.

        Raises:
            FileError: Where the shelf cannot be read now.
        """
        change = self._shelf_news()
        if change is None:
            return 0
        before = set(self._state.document.shelf)
        self._history.change_shelves(change)
        document = self._history.document
        if document.shelf != self._state.document.shelf:
            self._tell(replace(self._state, document=document))
        return len({paint.id for paint in before ^ set(document.shelf)})

    def end_drag(self) -> None:
        """The hand let go: the next edit is a step of undo of its own."""
        self._history.seal()
        self._journal.settle()

    def undo(self) -> bool:
        """One step back; False at the beginning."""
        done = self._history.undo()
        if done:
            self._adopt()
        return done

    def redo(self) -> bool:
        """One step forward; False at the end."""
        done = self._history.redo()
        if done:
            self._adopt()
        return done

    def select(self, **changes: Any) -> None:
        """Pick something: fields of `Selection`."""
        selection = mended(replace(self._state.selection, **changes), self.project)
        if selection != self._state.selection:
            self._tell(replace(self._state, selection=selection))

    def prefer(self, **changes: Any) -> None:
        """Change how the window looks: fields of `Preferences`; kept on disk."""
        preferences: Preferences = replace(self._state.preferences, **changes)
        if preferences != self._state.preferences:
            self._tell(replace(self._state, preferences=preferences))
            self._keep_preferences()

    def open(self, path: Path) -> None:
        """Open a project file in place of the document; raises FileError and changes nothing.

        A file that is no longer there also leaves the recent ones.
        """
        path = path.absolute()
        try:
            # Looked at first: a file written meanwhile then counts as changed.
            stamp, project = stamp_of(path), load(path)
        except MissingFileError:
            self._forget(path)
            raise
        self.begin(project, path=path)
        self._stamp = stamp
        self._remember(path)

    def begin(self, project: Project, *, path: Path | None = None, saved: bool = True) -> None:
        """Another document with a fresh history; the shelf stays.

        Args:
            project: The document.
            path: Its file, None where it has none yet.
            saved: False for work that no file holds, as after a recovery.
        """
        self._history = History(Document(project=project, shelf=self._state.document.shelf))
        self._stamp = None if path is None else stamp_of(path)
        if saved:
            self._journal.clear()
        else:
            self._history.mark_unsaved()
            self._journal.record(project, path)
        selection = mended(Selection(page=self._state.selection.page), project)
        self._tell(
            replace(
                self._state,
                document=self._history.document,
                selection=selection,
                path=path,
                is_saved=saved,
                undo_label="",
                redo_label="",
            )
        )

    def is_overtaken(self, path: Path | None = None) -> bool:
        """True where saving there would replace what another window or program wrote meanwhile.

        Args:
            path: The target; the project's own file where None. Another file that exists counts
                as overtaken only where it is the project's own.
        """
        own = self._state.path
        target = own if path is None else path.absolute()
        if target is None or target != own:
            return False
        now = stamp_of(target)
        return now is not None and now != self._stamp

    def save(self, path: Path | None = None) -> Path:
        """Save to the project's file, or to another which becomes its file.

        Raises:
            FileError: Where it cannot be written, or there is no file yet and none is named.
        """
        target = path or self._state.path
        if target is None:
            raise FileError("The project has no file yet", remedy='choose one with "Save as"')
        target = target.absolute()
        save(self.project, target)
        self._stamp = stamp_of(target)
        self._history.mark_saved()
        self._journal.clear()
        self._tell(replace(self._state, path=target, is_saved=True))
        self._remember(target)
        return target

    def revert(self) -> None:
        """Back to what the file holds; raises FileError where there is none."""
        if self._state.path is None:
            raise FileError("The project has no file to go back to", remedy="undo instead")
        self.open(self._state.path)

    def leftovers(self) -> tuple[Leftover, ...]:
        """Unsaved work of runs that did not end well."""
        return leftovers(self._places.journals)

    def recover(self, leftover: Leftover) -> None:
        """Take up unsaved work; its journal goes once this run's own holds it."""
        self.begin(leftover.project, path=leftover.path, saved=False)
        if self._journal.flush():
            leftover.discard()

    def close(self, *, keep_journal: bool = False) -> None:
        """End the run; unsaved work is dropped unless its journal is to be kept."""
        if not keep_journal:
            self._journal.clear()
        self._journal.close()

    def _say_problem(self, sentence: str) -> None:
        self.on_journal_problem(sentence)

    def _push(self, document: Document, label: str, merge: str) -> None:
        self._history.push(document, label, merge)
        self._adopt(settled=not merge)

    def _adopt(self, *, settled: bool = True) -> None:
        document, old = self._history.document, self._state
        is_saved = self._history.is_saved
        if is_saved:
            self._journal.clear()
        elif document.project is not old.project:
            self._journal.record(document.project, old.path, settled=settled)
        self._tell(
            replace(
                old,
                document=document,
                selection=mended(old.selection, document.project),
                is_saved=is_saved,
                undo_label=self._history.undo_label,
                redo_label=self._history.redo_label,
            )
        )
        if document.shelf is not old.document.shelf:
            # Last: what it raises leaves history and views agreed.
            self._shelf_saver(document.shelf)

    def _tell(self, new: DeskState) -> None:
        """Everyone hears of every change in the order in which they came.

        A watcher may change something itself: the others then hear of that afterwards.
        """
        self._untold.append((self._state, new))
        self._state = new
        if self._telling:
            return
        self._telling = True
        try:
            while self._untold:
                old, told = self._untold.popleft()
                for watcher in tuple(self._watchers):
                    watcher(old, told)
        finally:
            self._telling = False

    def _remember(self, path: Path) -> None:
        self._set_recent((path, *self._recent_but(path))[:_MOST_RECENT])

    def _forget(self, path: Path) -> None:
        if path in self._state.recent:
            self._set_recent(self._recent_but(path))

    def _recent_but(self, path: Path) -> tuple[Path, ...]:
        """Files opened lately, here or in another window, without one."""
        _, elsewhere = load_preferences(self._places.preferences_file)
        known = dict.fromkeys((*elsewhere, *self._state.recent))
        return tuple(other for other in known if other != path)

    def _set_recent(self, recent: tuple[Path, ...]) -> None:
        if recent != self._state.recent:
            self._tell(replace(self._state, recent=recent))
        self._keep_preferences()

    def _keep_preferences(self) -> None:
        save_preferences(self._places.preferences_file, self._state.preferences, self._state.recent)
