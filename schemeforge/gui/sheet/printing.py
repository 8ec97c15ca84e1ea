"""Prints sides of the sheet, true to size, on a printer of this computer."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QMarginsF, QRectF
from PySide6.QtGui import QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QWidget

from schemeforge.errors import FileError, InputError
from schemeforge.export.options import SheetOptions
from schemeforge.export.png import image_of
from schemeforge.export.sheet import Sheet
from schemeforge.gui.sheet.drawing import MM_PER_INCH, qt_image

# Finer than this nobody sees on paper, and a page would take more than 100 MB.
FINEST_DPI = 600
# Papers whose edges differ by less than this are the same.
_SAME_MM = 2.0
_PAPERS = {"A4": QPageSize.PageSizeId.A4, "Letter": QPageSize.PageSizeId.Letter}


def printer_for(options: SheetOptions, title: str) -> QPrinter:
    """A printer set to the sheet's paper, without margins of its own."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setDocName(title)
    printer.setCreator("SchemeForge")
    way = QPageLayout.Orientation
    printer.setPageLayout(
        QPageLayout(
            QPageSize(_PAPERS[options.paper]),
            way.Landscape if options.landscape else way.Portrait,
            QMarginsF(0.0, 0.0, 0.0, 0.0),
        )
    )
    printer.setFullPage(True)
    return printer


def ask_printer(parent: QWidget, printer: QPrinter, count: int) -> bool:
    """Let the system's dialog set the printer up; False where the user thinks better of it."""
    dialog = QPrintDialog(printer, parent)
    dialog.setMinMax(1, count)
    dialog.setOption(QPrintDialog.PrintDialogOption.PrintPageRange)
    dialog.setOption(QPrintDialog.PrintDialogOption.PrintCurrentPage)
    accepted = dialog.exec() == QPrintDialog.DialogCode.Accepted
    dialog.deleteLater()
    return accepted


def chosen_sides(printer: QPrinter, count: int, on_top: int) -> tuple[int, ...]:
    """Sides to print, from 0, in the printer's order, copies included where it makes none."""
    if printer.printRange() is QPrinter.PrintRange.CurrentPage:
        sides = [on_top]
    elif printer.printRange() is QPrinter.PrintRange.PageRange and printer.fromPage():
        last = min(printer.toPage() or count, count)
        sides = list(range(printer.fromPage() - 1, last))
    else:
        sides = list(range(count))
    if printer.pageOrder() is QPrinter.PageOrder.LastPageFirst:
        sides.reverse()
    copies = 1 if printer.supportsMultipleCopies() else printer.copyCount()
    if printer.collateCopies():
        return tuple(sides * copies)
    return tuple(side for side in sides for _ in range(copies))


def check_paper(printer: QPrinter, sheet: Sheet, options: SheetOptions) -> None:
    """Refuse paper on which the sheet would be cut or turned.

    Raises:
        InputError: Where the printer's paper is another than the sheet's.
    """
    page = sheet.pages[0]
    paper = printer.pageLayout().fullRect(QPageLayout.Unit.Millimeter)
    off = max(abs(paper.width() - page.width), abs(paper.height() - page.height))
    if off > _SAME_MM:
        way = "across" if options.landscape else "upright"
        raise InputError(
            f"The printer is set to paper of {paper.width():.0f} x {paper.height():.0f} mm, but "
            f"the sheet is laid out for {options.paper} {way}",
            remedy="choose the same paper for both",
        )


def print_sides(
    printer: QPrinter, sheet: Sheet, sides: Sequence[int], watch: Callable[[float], None]
) -> None:
    """Print those sides at true size; may run beside the window.

    Args:
        printer: Set up, and used by nobody else meanwhile.
        sheet: What is printed.
        sides: Numbers from 0, in order.
        watch: Told the share that is done; what it raises takes the print back where the printer
            still can.

    Raises:
        FileError: Where the printer does not take the sheet.
    """
    painter = QPainter()
    if not painter.begin(printer):
        raise _refused()
    try:
        painter.setRenderHint(QPainter.RenderHint.LosslessImageRendering)
        dots = printer.resolution()
        for place, number in enumerate(sides):
            watch(place / len(sides))
            if place:
                _begin_page(printer)
            page = sheet.pages[number]
            image = qt_image(image_of(sheet.pdf.data, number, min(dots, FINEST_DPI)))
            inch = dots / MM_PER_INCH
            painter.drawImage(QRectF(0.0, 0.0, page.width * inch, page.height * inch), image)
        watch(1.0)
    except BaseException:
        printer.abort()
        raise
    finally:
        painter.end()


def _begin_page(printer: QPrinter) -> None:
    if not printer.newPage():
        raise _refused()


def _refused() -> FileError:
    return FileError(
        "The printer does not take the sheet",
        remedy="check that it is on, or write a PDF and print that",
    )
