"""A paint as a value: what it does to light, where that is known from, and how surely."""

from schemeforge.paint.basis import Basis, PaintKind
from schemeforge.paint.paint import WATER, WATER_ID, Paint, Stock
from schemeforge.paint.uncertainty import CERTAIN, Uncertainty

__all__ = [
    "CERTAIN",
    "WATER",
    "WATER_ID",
    "Basis",
    "Paint",
    "PaintKind",
    "Stock",
    "Uncertainty",
]
