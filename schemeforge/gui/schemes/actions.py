"""What can be done with a candidate: each action is one edit, one click and one key."""

import re
from collections.abc import Callable

from PySide6.QtCore import QObject

from schemeforge.desk import Page
from schemeforge.gui.bridge import Bridge
from schemeforge.scheme import Scheme, edits


class SchemeActions(QObject):
    """Edits of the list of candidates."""

    def __init__(self, bridge: Bridge, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge

    def duplicate(self, scheme_id: str) -> None:
        """A copy right behind it, picked, and on to Coats to vary it."""
        before = {scheme.id for scheme in self.bridge.state.project.schemes}
        name = self._varied(self.bridge.state.project.scheme(scheme_id).name)
        label = self.tr("duplicate a scheme")
        if self.bridge.edit(label, lambda p: edits.duplicate_scheme(p, scheme_id, name)):
            new = next(s.id for s in self.bridge.state.project.schemes if s.id not in before)
            self.vary(new)

    def _varied(self, name: str) -> str:
        """The name of a copy; a copy of a copy is called like its twin, not like a chain."""
        pattern = self.tr("{0}, varied")
        ending = re.escape(pattern.format("").strip())
        return pattern.format(re.sub(rf"{ending}(?: \d+)?$", "", name))

    def vary(self, scheme_id: str) -> None:
        """On to Coats with that scheme picked."""
        self.bridge.session.select(scheme_id=scheme_id, page=Page.COATS)

    def add(self) -> None:
        """An empty candidate at the end, picked."""
        project = self.bridge.state.project
        name = edits.fresh_name(self.tr("New scheme"), (s.name for s in project.schemes))
        scheme = Scheme(id=edits.fresh_id(name, (s.id for s in project.schemes)), name=name)
        if self.bridge.edit(self.tr("add a scheme"), lambda p: edits.add_scheme(p, scheme)):
            self.bridge.session.select(scheme_id=scheme.id)

    def rename(self, scheme_id: str, name: str) -> bool:
        """Another name; False where it cannot be that."""
        wanted = " ".join(name.split())
        if wanted == self.bridge.state.project.scheme(scheme_id).name:
            return True
        label = self.tr("rename a scheme")
        return self.bridge.edit(label, lambda p: edits.rename_scheme(p, scheme_id, wanted))

    def note(self, scheme_id: str, note: str) -> bool:
        """Another note; False where it cannot be that."""
        wanted = note.strip()
        label = self.tr("note on a scheme")
        return self.bridge.edit(label, lambda p: edits.set_scheme_note(p, scheme_id, wanted))

    def remove(self, scheme_id: str) -> None:
        """Without it; undo brings it back."""
        schemes = self.bridge.state.project.schemes
        at = [scheme.id for scheme in schemes].index(scheme_id)
        name = schemes[at].name
        if self.bridge.edit(
            self.tr("remove a scheme"), lambda p: edits.remove_scheme(p, scheme_id)
        ):
            left = self.bridge.state.project.schemes
            self.bridge.session.select(scheme_id=left[min(at, len(left) - 1)].id)
            self.bridge.told.emit(self.tr("Removed {0}; undo brings it back.").format(name))

    def move(self, scheme_id: str, by: int) -> None:
        """So many places to the right, or to the left where negative; stays at the ends."""
        ids = [scheme.id for scheme in self.bridge.state.project.schemes]
        to = ids.index(scheme_id) + by
        if 0 <= to < len(ids):
            label = self.tr("move a scheme")
            self.bridge.edit(label, lambda p: edits.move_scheme(p, scheme_id, to))

    def set_yardstick(self, scheme_id: str) -> None:
        """The scheme that the others are compared with."""
        label = self.tr("set the yardstick")
        self.bridge.edit(label, lambda p: edits.set_yardstick(p, scheme_id))

    def choose(self, scheme_id: str) -> None:
        """The scheme that the batch is painted in."""
        label = self.tr("choose the scheme of the batch")
        self.bridge.edit(label, lambda p: edits.choose_scheme(p, scheme_id))

    def all(self) -> tuple[tuple[str, str, str, str, Callable[[str], None]], ...]:
        """Name, icon, words, key and action of everything that one click does to a scheme."""
        return (
            ("duplicate", "duplicate", self.tr("Duplicate and vary"), "Ctrl+D", self.duplicate),
            ("yardstick", "yardstick", self.tr("Make it the yardstick"), "Y", self.set_yardstick),
            ("choose", "for-batch", self.tr("Paint the batch in it"), "B", self.choose),
            ("left", "left", self.tr("Move left"), "Ctrl+Shift+Left", lambda s: self.move(s, -1)),
            (
                "right",
                "right",
                self.tr("Move right"),
                "Ctrl+Shift+Right",
                lambda s: self.move(s, 1),
            ),
            ("remove", "remove", self.tr("Remove"), "Del", self.remove),
        )
