"""Undo as a list of documents: nothing is computed backwards."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from schemeforge.desk.state import Document
from schemeforge.paint import Paint


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A document, what led to it, and the key under which further such edits merge into it."""

    document: Document
    label: str
    merge: str = ""


class History:
    """Documents from the beginning to the last edit, and where in them the desk stands.

    Documents share all that did not change, so that hundreds of edits cost little memory.
    """

    def __init__(self, first: Document) -> None:
        self._entries = [Entry(document=first, label="")]
        self._at = 0
        self._saved: Document | None = first

    @property
    def document(self) -> Document:
        """The document as it stands."""
        return self._entries[self._at].document

    @property
    def undo_label(self) -> str:
        """What undo would take back, "" at the beginning."""
        return self._entries[self._at].label if self._at > 0 else ""

    @property
    def redo_label(self) -> str:
        """What redo would bring back, "" at the end."""
        following = self._entries[self._at + 1 :]
        return following[0].label if following else ""

    @property
    def is_saved(self) -> bool:
        """True where the project is the one last saved."""
        return self._saved is not None and (
            self._saved.project is self.document.project
            or self._saved.project == self.document.project
        )

    def push(self, document: Document, label: str, merge: str = "") -> None:
        """A new document; one that carries the last edit's merge key replaces that edit's."""
        last = self._entries[self._at]
        del self._entries[self._at + 1 :]
        if merge and merge == last.merge and self._at > 0:
            self._entries[self._at] = Entry(document=document, label=label, merge=merge)
            return
        self._entries.append(Entry(document=document, label=label, merge=merge))
        self._at += 1

    def seal(self) -> None:
        """Ends merging: the next edit is a step of its own, as when a drag is let go."""
        last = self._entries[self._at]
        self._entries[self._at] = Entry(document=last.document, label=last.label)

    def undo(self) -> bool:
        """One step back; False at the beginning."""
        if self._at == 0:
            return False
        self._at -= 1
        self.seal()
        return True

    def redo(self) -> bool:
        """One step forward; False at the end."""
        if self._at + 1 >= len(self._entries):
            return False
        self._at += 1
        self.seal()
        return True

    def change_shelves(self, change: Callable[[tuple[Paint, ...]], tuple[Paint, ...]]) -> None:
        """Changes the shelf of every document, for what was done to it elsewhere."""
        changed: dict[int, tuple[Paint, ...]] = {}

        def new(document: Document) -> Document:
            key = id(document.shelf)
            if key not in changed:
                changed[key] = change(document.shelf)
            return replace(document, shelf=changed[key])

        self._entries = [replace(entry, document=new(entry.document)) for entry in self._entries]

    def mark_saved(self) -> None:
        """The document as it stands is now in the file."""
        self._saved = self.document
        self.seal()

    def mark_unsaved(self) -> None:
        """No file holds the document, as after a recovery."""
        self._saved = None
