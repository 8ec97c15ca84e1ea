"""How a predicted colour is read: plain words first; hex, Lab and tolerance with Numbers on."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QCoreApplication

from schemeforge import colorimetry
from schemeforge.colorimetry.words import colour_words


@dataclass(frozen=True, slots=True)
class Reading:
    """One colour, ready to be read.

    Args:
        words: Plain words.
        hex_code: ``#rrggbb`` as displayed.
        lab: CIELAB under the light, adapted to D65.
        in_gamut: False where the screen cannot show it and chroma was reduced.
        tolerance: 90 % interval as CIEDE2000, None where it is not worked out.
    """

    words: str
    hex_code: str
    lab: tuple[float, float, float]
    in_gamut: bool
    tolerance: float | None = None

    def text(self, *, numbers: bool) -> str:
        """One line: words, and with numbers hex, Lab and tolerance too."""
        parts = [self.words]
        if numbers:
            L, a, b = self.lab
            parts.append(f"{self.hex_code}  L* {L:z.1f}  a* {a:z.1f}  b* {b:z.1f}")
        if self.tolerance is not None:
            parts.append(sure_words(self.tolerance, numbers=numbers))
        if not self.in_gamut:
            parts.append(tr("more vivid than this screen can show"))
        return "  ·  ".join(parts)


def sure_words(tolerance: float, *, numbers: bool) -> str:
    """How sure a colour is, in words; with numbers the 90 % interval as CIEDE2000 too."""
    words = {
        "unseen": tr("sure: stays unseen"),
        "seen side by side": tr("fairly sure: may show side by side"),
        "shows in the ranks": tr("less sure: may show in the ranks"),
    }.get(
        colorimetry.difference_words(tolerance),
        tr("not sure: paint a test model"),
    )
    return f"{words} (±{tolerance:.1f} dE)" if numbers else words


def tr(text: str) -> str:
    """The text in the user's language, outside any widget class."""
    return QCoreApplication.translate("SchemeForge", text)


def reading_of(xyz: NDArray[Any], tolerance: float | None = None) -> Reading:
    """The reading of one colour, XYZ ``(3,)`` adapted to D65."""
    flat = np.asarray(xyz, dtype=np.float64).reshape(1, 3)
    lab = colorimetry.lab_from_xyz(flat)[0]
    shown = colorimetry.srgb(flat)
    return Reading(
        words=colour_words(lab),
        hex_code=str(colorimetry.hex_codes(flat)[0]),
        lab=(float(lab[0]), float(lab[1]), float(lab[2])),
        in_gamut=bool(np.all(shown.in_gamut)),
        tolerance=tolerance,
    )
