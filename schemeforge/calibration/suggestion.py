"""Which swatches to paint so that a photograph of few of them says most.

Every patch of a photograph is as noisy as the next, so that it matters what is painted. A film that
nearly hides black and one thin film over white tell most about scattering and absorption; a glaze
wants several coats, since its predictions at many coats are asked of it, and a paint that covers at
once wants a thinned one. The numbers of coats were chosen by trying on the starter paints and on
the spectra that `shapes` were learned from, never on published tables.
"""

from dataclasses import dataclass
from typing import Final

from schemeforge import checks
from schemeforge.errors import InputError

# CIEDE2000 between one coat over black and the same over white.
COVERS: Final = 25.0
GLAZES: Final = 50.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Suggested:
    """A swatch to paint: over white or over black, how many coats.

    Half a coat is one coat of the paint with as much water.
    """

    over_white: bool
    coats: float


def _plan(*swatches: tuple[str, float]) -> tuple[Suggested, ...]:
    return tuple(Suggested(over_white=over == "w", coats=coats) for over, coats in swatches)


_COVERING: Final = (
    _plan(("w", 1), ("b", 2)),
    _plan(("w", 0.5), ("b", 2), ("w", 2)),
    _plan(("w", 0.5), ("b", 2), ("w", 2), ("b", 1)),
    _plan(("w", 0.5), ("b", 2), ("w", 2), ("b", 1), ("w", 1)),
    _plan(("w", 0.5), ("b", 2), ("w", 2), ("b", 1), ("w", 1), ("b", 0.5)),
)
_ORDINARY: Final = (
    _plan(("w", 1), ("b", 3)),
    _plan(("w", 1), ("b", 3), ("w", 3)),
    _plan(("w", 0.5), ("b", 3), ("w", 3), ("b", 1)),
    _plan(("w", 0.5), ("b", 3), ("w", 3), ("b", 1), ("w", 1)),
    _plan(("w", 0.5), ("b", 3), ("w", 3), ("b", 1), ("w", 1), ("b", 2)),
)
_GLAZING: Final = (
    _plan(("w", 2), ("b", 4)),
    _plan(("w", 1), ("b", 4), ("w", 4)),
    _plan(("w", 1), ("b", 4), ("w", 4), ("w", 2)),
    _plan(("w", 1), ("b", 4), ("w", 4), ("w", 2), ("b", 2)),
    _plan(("w", 1), ("b", 4), ("w", 4), ("w", 2), ("b", 2), ("b", 1)),
)


def suggested(count: int, apart: float | None = None) -> tuple[Suggested, ...]:
    """The swatches that say most about a paint.

    Args:
        count: How many, 2 to 6.
        apart: CIEDE2000 between one coat over black and over white, judged by eye; None where
            nothing is known.

    Raises:
        InputError: For another count.
    """
    if not 2 <= count < 2 + len(_ORDINARY):
        raise InputError(f"There is no suggestion for {count} swatches", remedy="ask for 2 to 6")
    if apart is None:
        return _ORDINARY[count - 2]
    checks.number(apart, "What shows of the ground", low=0.0, high=200.0)
    plans = _COVERING if apart < COVERS else _GLAZING if apart > GLAZES else _ORDINARY
    return plans[count - 2]
