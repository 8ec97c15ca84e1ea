"""What is to be matched: one colour, or the colours of a whole ramp."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from schemeforge import checks, colorimetry
from schemeforge.colorimetry import LightLike
from schemeforge.errors import InputError, shown
from schemeforge.optics import bands

Lab = tuple[float, float, float]

MOST_TONES = 64
# Beyond any colour that a surface can have, so that a slip of the keyboard is told.
_WIDEST = 200.0
_NUMBER = r"\s*([-+]?\d+(?:\.\d*)?|[-+]?\.\d+)\s*"
_NUMBERS = re.compile(f"{_NUMBER}[,;\\s]{_NUMBER}[,;\\s]{_NUMBER}")


@dataclass(frozen=True, slots=True, kw_only=True)
class UnderLight:
    """The target's colours under another light, adapted to D65; one for each tone."""

    light: LightLike
    lab: tuple[Lab, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Target:
    """The colours wanted, from recess to raised edge, or one alone.

    Args:
        lab: CIELAB adapted to D65, one for each tone, 1 to 64 of them.
        name: What it is, in words, or "".
        others: The same target under other lights, where that is known: without them a recipe's
            constancy is judged by itself, not against the target.
    """

    lab: tuple[Lab, ...]
    name: str = ""
    others: tuple[UnderLight, ...] = ()

    def __post_init__(self) -> None:
        if not 1 <= len(self.lab) <= MOST_TONES:
            raise InputError(
                f"The target has {len(self.lab)} tones", remedy=f"give 1 to {MOST_TONES}"
            )
        for colours in (self.lab, *(other.lab for other in self.others)):
            if len(colours) != len(self.lab):
                raise InputError("The target has another number of tones under another light")
            for L, a, b in colours:
                checks.number(L, "L* of the target", low=0.0, high=_WIDEST)
                checks.number(a, "a* of the target", low=-_WIDEST, high=_WIDEST)
                checks.number(b, "b* of the target", low=-_WIDEST, high=_WIDEST)

    @property
    def array(self) -> NDArray[np.float64]:
        """CIELAB, ``(tones, 3)``."""
        return np.array(self.lab)


def colour_target(lab: ArrayLike, name: str = "") -> Target:
    """A target from CIELAB, ``(3,)`` for one colour or ``(tones, 3)`` for a ramp.

    Raises:
        InputError: For another shape, or numbers that no colour has.
    """
    try:
        colours = np.asarray(lab, dtype=np.float64)
    except (TypeError, ValueError):
        colours = np.empty(0)
    if colours.ndim not in {1, 2} or colours.shape[-1] != 3:
        raise InputError("A target is three numbers, L*, a* and b*, for each of its tones")
    return Target(lab=lab_rows(colours), name=name)


def screen_target(code: str, name: str = "") -> Target:
    """A target from a screen colour such as ``#8a5a3c``; the number sign may be left out.

    Raises:
        InputError: Where the text is not six hexadecimal digits.
    """
    digits = code.strip().removeprefix("#")
    if not re.fullmatch("[0-9A-Fa-f]{6}", digits):
        raise InputError(f'"{shown(code)}" is not a screen colour', remedy="write it like #8a5a3c")
    encoded = np.frombuffer(bytes.fromhex(digits), dtype=np.uint8) / 255.0
    XYZ = colorimetry.xyz_from_linear_rgb(colorimetry.decode(encoded))
    return Target(lab=lab_rows(colorimetry.lab_from_xyz(XYZ)), name=name or f"#{digits.lower()}")


def typed_target(text: str) -> Target | None:
    """A target from what was typed: a screen colour, or L*, a* and b*; None where it is neither.

    ``#8a5a3c``, or three numbers with commas, semicolons or spaces between: ``52, 12, -30``.
    A number sign is wanted, since a zone may be named like six hexadecimal digits.

    Raises:
        InputError: For a screen colour of other than six digits, or numbers that no colour has.
    """
    typed = text.strip()
    if typed.startswith("#"):
        return screen_target(typed)
    numbers = _NUMBERS.fullmatch(typed.replace("\N{MINUS SIGN}", "-"))
    if numbers is None:
        return None
    return colour_target([float(number) for number in numbers.groups()], typed)


def chip_target(
    reflectance: ArrayLike,
    *,
    light: LightLike = "D65",
    observer: int = 2,
    lights: Sequence[LightLike] = (),
    name: str = "",
) -> Target:
    """A target from measured reflectance, ``(36,)`` or ``(tones, 36)``, 0 to 1.

    Args:
        reflectance: As seen, surface reflection included as in the chosen finish.
        light: Under which the match is wanted.
        observer: 2 or 10 degrees.
        lights: Under which constancy is judged.
        name: What it is, in words.

    Raises:
        InputError: For another shape, or a reflectance outside 0 to 1.
        UnknownNameError: For a light that does not exist.
    """
    R = np.asarray(reflectance, dtype=np.float64)
    if R.ndim not in {1, 2} or R.shape[-1] != bands.COUNT:
        raise InputError(f"A measured target has {bands.COUNT} bands for each of its tones")
    if not np.all((R >= 0.0) & (R <= 1.0)):
        raise InputError("A reflectance of the target is outside 0 to 1", remedy="give 0 to 1")
    return Target(
        lab=lab_rows(colorimetry.lab(R, light, observer)),
        name=name,
        others=tuple(
            UnderLight(light=other, lab=lab_rows(colorimetry.lab(R, other, observer)))
            for other in lights
        ),
    )


def lab_rows(lab: NDArray[np.floating]) -> tuple[Lab, ...]:
    """CIELAB ``(3,)`` or ``(tones, 3)`` as the tuples that a target holds."""
    return tuple((float(L), float(a), float(b)) for L, a, b in np.atleast_2d(lab))
