"""A paint dragged from its card into a mix: what the drag carries, and how to read it."""

from PySide6.QtCore import QMimeData

from schemeforge.paint import Paint

PAINT_MIME = "application/x-schemeforge-paint"
_LONGEST_ID = 64


def paint_mime(paint: Paint) -> QMimeData:
    """What a drag of that paint carries: its id for us, its name for other programs."""
    mime = QMimeData()
    mime.setData(PAINT_MIME, paint.id.encode())
    mime.setText(paint.name)
    return mime


def paint_id_from(mime: QMimeData) -> str:
    """The id of the paint that a drag carries, "" where it carries none."""
    data = bytes(mime.data(PAINT_MIME).data()) if mime.hasFormat(PAINT_MIME) else b""
    if len(data) > _LONGEST_ID:
        return ""
    try:
        return data.decode("ascii")
    except UnicodeDecodeError:
        return ""
