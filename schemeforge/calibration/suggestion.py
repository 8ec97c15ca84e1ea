"""Which swatches to paint so that a photograph of few of them says most.

Every patch of a photograph is as noisy as the next, so that it matters what is painted. A film that
nearly hides black tells most about scattering, and a film over white about absorption: a thin one
where the paint is strong, since a channel near black says little in the noise of a camera, a thick
one where it is pale, since its predictions at many coats are asked of it. The numbers of coats were
chosen by trying on the starter paints and on invented spectra, never on published tables.
"""

from dataclasses import dataclass
from typing import Final

from schemeforge import checks
from schemeforge.errors import InputError

# CIEDE2000 between one coat over black and the same over white.
COVERS: Final = 25.0
GLAZES: Final = 50.0
# Least channel, in encoded sRGB, of one coat over white.
STRONG: Final = 0.3
PALE: Final = 0.6
_UNKNOWN_APART: Final = 37.0
_UNKNOWN_LEAST: Final = 0.45


@dataclass(frozen=True, slots=True, kw_only=True)
class Suggested:
    """A swatch to paint: over white or over black, how many coats.

    Half a coat is one coat of the paint with as much water.
    """

    over_white: bool
    coats: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plan:
    """What to paint where it is two swatches, and in which order where it is three or more."""

    two: tuple[Suggested, ...]
    more: tuple[Suggested, ...]


def _plan(two: str, more: str) -> _Plan:
    """A plan from words such as "w0.5 b2": half a coat over white, two coats over black."""

    def read(text: str) -> tuple[Suggested, ...]:
        return tuple(
            Suggested(over_white=word[0] == "w", coats=float(word[1:])) for word in text.split()
        )

    return _Plan(two=read(two), more=read(more))


_COVERING_STRONG: Final = _plan("w0.5 b3", "w0.5 b1 w4 w2 b4 b3")
_COVERING: Final = _plan("w1 b2", "w0.5 b1 w3 b2 w1 b3")
_COVERING_PALE: Final = _plan("w2 b1", "w1 b1 w4 b0.5 b3 w3")
_SHOWING_STRONG: Final = _plan("w1 b3", "w0.5 b2 w2 w4 b3 w1")
_SHOWING: Final = _plan("w1 b3", "w0.5 b4 w3 b2 w1 b3")
_SHOWING_PALE: Final = _plan("w2 b3", "w1 b4 w4 b3 w2 w3")
_GLAZING: Final = _plan("w1 b4", "w1 b4 w4 b2 w2 w0.5")
_GLAZING_PALE: Final = _plan("w3 b4", "w1 b4 w4 w3 b3 w2")
MOST: Final = 6


def suggested(
    count: int, apart: float | None = None, least: float | None = None
) -> tuple[Suggested, ...]:
    """The swatches that say most about a paint.

    Args:
        count: How many, 2 to 6.
        apart: CIEDE2000 between one coat over black and over white, judged by eye; None where
            nothing is known.
        least: Least of the three channels of one coat over white, encoded sRGB from 0 to 1, judged
            by eye: low for what is dark or strongly coloured. None where nothing is known.

    Raises:
        InputError: For another count, or a look that no paint has.
    """
    if not 2 <= count <= MOST:
        raise InputError(f"There is no suggestion for {count} swatches", remedy="ask for 2 to 6")
    if apart is not None:
        checks.number(apart, "What shows of the ground", low=0.0, high=200.0)
    if least is not None:
        checks.number(least, "The least channel of one coat over white", low=0.0, high=1.0)
    plan = _plan_for(
        _UNKNOWN_APART if apart is None else apart,
        _UNKNOWN_LEAST if least is None else least,
    )
    return plan.two if count == len(plan.two) else plan.more[:count]


def _plan_for(apart: float, least: float) -> _Plan:
    strong, pale = least < STRONG, least >= PALE
    if apart > GLAZES:
        return _GLAZING_PALE if pale else _GLAZING
    if apart < COVERS:
        return _COVERING_STRONG if strong else _COVERING_PALE if pale else _COVERING
    return _SHOWING_STRONG if strong else _SHOWING_PALE if pale else _SHOWING
