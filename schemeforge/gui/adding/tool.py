"""What the holder of a bench offers to draw on its picture. No Qt."""

from typing import NamedTuple


class Tool(NamedTuple):
    """What dragging on the picture makes.

    Args:
        value: A role, or a name of the holder's own.
        label: On its button.
        key: The letter that makes one in the middle of what is in view.
        tip: What it is for.
        name: What its marks are called, the label where "".
    """

    value: str
    label: str
    key: str
    tip: str
    name: str = ""
