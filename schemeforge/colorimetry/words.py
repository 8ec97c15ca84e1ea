"""Plain words for a colour: lightness, strength and hue, as a painter would say them.

A rule of thumb (no source): hue sectors of CIELAB in everyday names, chroma and lightness in
three or four grades. The words carry what colour alone would, for those who see it otherwise.
"""

import math
from collections.abc import Sequence

_HUES = (
    (20.0, "pink-red"),
    (45.0, "red"),
    (65.0, "orange"),
    (82.0, "amber"),
    (100.0, "yellow"),
    (125.0, "yellow-green"),
    (160.0, "green"),
    (195.0, "sea green"),
    (230.0, "teal"),
    (262.0, "sky blue"),
    (290.0, "blue"),
    (315.0, "violet"),
    (340.0, "purple"),
    (360.0, "magenta"),
)
_BROWN = (20.0, 90.0)


def colour_words(lab: Sequence[float]) -> str:
    """Words such as "dark muted violet" or "pale grey" for CIELAB (D65), L* 0 to 100."""
    lightness, a, b = (float(value) for value in lab)
    chroma = math.hypot(a, b)
    hue = math.degrees(math.atan2(b, a)) % 360.0
    if chroma < 4.0:
        return _grey(lightness)
    name = next(word for limit, word in _HUES if hue <= limit)
    grade = _lightness_word(lightness)
    if _BROWN[0] < hue <= _BROWN[1] and lightness < 50.0 and chroma < 45.0:
        name = "brown" if hue > 45.0 else "red-brown"
    if chroma < 12.0:
        return f"{grade}{name}-grey" if " " not in name else f"{grade}greyish {name}"
    strength = "muted " if chroma < 28.0 else "" if chroma < 60.0 else "strong "
    return f"{grade}{strength}{name}"


def _grey(lightness: float) -> str:
    if lightness < 18.0:
        return "black"
    if lightness > 92.0:
        return "white"
    return f"{_lightness_word(lightness)}grey"


def _lightness_word(lightness: float) -> str:
    if lightness < 22.0:
        return "very dark "
    if lightness < 40.0:
        return "dark "
    if lightness > 84.0:
        return "pale "
    return "light " if lightness > 68.0 else ""
