"""Keys that widgets answer to, told so that the list of keys can be made from them."""

from collections.abc import Iterable
from typing import NamedTuple

from PySide6.QtGui import QAction, QKeySequence, QShortcut
from PySide6.QtWidgets import QWidget

_PROPERTY = "keys_told"


class Key(NamedTuple):
    """Keys and what they do, both in the user's language."""

    keys: str
    meaning: str


def tell_keys(widget: QWidget, *lines: tuple[str, str]) -> None:
    """Note the keys that a widget handles itself: ``(keys, meaning)`` each.

    Shortcuts need no telling but a meaning: set it as the QShortcut's ``whatsThis``.
    """
    widget.setProperty(_PROPERTY, ["\t".join(line) for line in lines])


def told_keys(root: QWidget) -> list[Key]:
    """What the widgets below a widget have told, and the shortcuts among them, each once."""
    found: dict[Key, None] = {}
    for shortcut in root.findChildren(QShortcut):
        if shortcut.whatsThis():
            found[Key(_words(shortcut.keys()), shortcut.whatsThis())] = None
    for widget in (root, *root.findChildren(QWidget)):
        for line in widget.property(_PROPERTY) or ():
            keys, _, meaning = line.partition("\t")
            found[Key(keys, meaning)] = None
    return list(found)


def action_keys(actions: Iterable[QAction]) -> list[Key]:
    """The shortcuts of actions, named as in the menu."""
    return [
        Key(_words(action.shortcuts()), action.text().replace("&", "").rstrip("."))
        for action in actions
        if action.shortcuts()
    ]


def _words(sequences: Iterable[QKeySequence]) -> str:
    native = QKeySequence.SequenceFormat.NativeText
    return ", ".join(dict.fromkeys(sequence.toString(native) for sequence in sequences))
