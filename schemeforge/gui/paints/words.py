"""What a card says of a paint, in the user's language."""

from PySide6.QtCore import QCoreApplication

from schemeforge import colorimetry
from schemeforge.gui.paints.shelf_order import Difference
from schemeforge.gui.paints.swatches import coat_tolerance
from schemeforge.paint import Basis, Paint, PaintKind, Stock


def tr(text: str) -> str:
    """The text in the user's language."""
    return QCoreApplication.translate("Paints", text)


def kind_words(kind: PaintKind) -> str:
    """The kind as a painter says it."""
    return {
        PaintKind.OPAQUE: tr("opaque"),
        PaintKind.TRANSLUCENT: tr("translucent"),
        PaintKind.WASH: tr("wash"),
        PaintKind.INK: tr("ink"),
        PaintKind.PRIMER: tr("primer"),
        PaintKind.MEDIUM: tr("medium"),
        PaintKind.WATER: tr("water"),
    }[kind]


def basis_words(basis: Basis) -> str:
    """Where the data come from."""
    return {
        Basis.MEASURED: tr("measured over two grounds"),
        Basis.PHOTOGRAPHED: tr("from a photographed swatch"),
        Basis.TWO_COLOURS: tr("from its colour over black and over white"),
        Basis.ONE_COLOUR: tr("from one colour and its kind"),
        Basis.TYPICAL: tr("typical, not measured"),
    }[basis]


def sure_words(paint: Paint, *, numbers: bool) -> str:
    """How surely the colour of one coat is known; with numbers also the 90 % interval."""
    off = coat_tolerance(paint)
    if off == 0.0:
        return tr("taken as exact")
    words = {
        "unseen": tr("well known"),
        "seen side by side": tr("fairly well known"),
        "shows in the ranks": tr("roughly known"),
    }.get(colorimetry.difference_words(off), tr("hardly known"))
    return tr("{0} (±{1:.1f} dE)").format(words, off) if numbers else words


def stock_words(stock: Stock) -> str:
    """The bottle and what is left."""
    if stock.left_ml is None:
        return tr("bottle {0:g} ml").format(stock.bottle_ml)
    return tr("{0:g} ml left, bottle {1:g} ml").format(stock.left_ml, stock.bottle_ml)


def difference_words(kinds: tuple[Difference, ...]) -> str:
    """In what two versions of a paint differ, as a list."""
    words = {
        Difference.COLOUR: tr("colour"),
        Difference.CERTAINTY: tr("how sure it is"),
        Difference.BODY: tr("solids or density"),
        Difference.STOCK: tr("what is left or its price"),
        Difference.WORDS: tr("name, kind or note"),
    }
    return ", ".join(words[kind] for kind in kinds)
