"""The painter's paints: the starter shelf that comes with the program."""

from schemeforge.shelf.starter import starter_paint, starter_paints

__all__ = ["starter_paint", "starter_paints"]
