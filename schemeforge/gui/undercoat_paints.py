"""Which paints of the shelf a painter would take for the undercoat. No Qt."""

from collections.abc import Iterable
from functools import lru_cache

from schemeforge import colorimetry, optics
from schemeforge.paint import Paint, PaintKind

# What "off-white" means here: a warm, very pale colour (common practice, no source).
_LIGHTNESS = (88.0, 95.0)
_CHROMA = (3.0, 12.0)
_WARM_HUES = (45.0, 115.0)
# Nothing darker than this is offered as light from above.
_PALE = 80.0


def likely_primer(paints: Iterable[Paint]) -> Paint | None:
    """The darkest primer; None where there is none."""
    primers = (paint for paint in paints if paint.kind is PaintKind.PRIMER)
    return min(primers, key=lightness, default=None)


def likely_white(paints: Iterable[Paint]) -> Paint | None:
    """The paint to spray from above; None where no opaque paint is pale.

    One that is called off-white comes first, then one whose colour is, then the lightest: pure
    white looks cold and chalky under glazes. Of several alike the first on the shelf is taken.
    """
    pale = [p for p in paints if p.kind is PaintKind.OPAQUE and lightness(p) >= _PALE]
    for fits in (_is_called_off_white, _is_off_white):
        for paint in pale:
            if fits(paint):
                return paint
    return max(pale, key=lightness, default=None)


def lightness(paint: Paint) -> float:
    """L* of an opaque layer, matt, in daylight."""
    return _masstone(paint)[0]


def _is_called_off_white(paint: Paint) -> bool:
    return "offwhite" in "".join(filter(str.isalpha, paint.name.casefold()))


def _is_off_white(paint: Paint) -> bool:
    lab = _masstone(paint)
    L, chroma, hue = (float(value) for value in colorimetry.lch(lab))
    return (
        _LIGHTNESS[0] <= L <= _LIGHTNESS[1]
        and _CHROMA[0] <= chroma <= _CHROMA[1]
        and _WARM_HUES[0] <= hue <= _WARM_HUES[1]
    )


@lru_cache(maxsize=512)
def _masstone(paint: Paint) -> tuple[float, float, float]:
    """CIELAB of an opaque layer, matt, in daylight."""
    R = optics.seen(optics.r_infinity(paint.absorption, paint.scattering), optics.MATT)
    L, a, b = colorimetry.lab(R).tolist()
    return L, a, b
