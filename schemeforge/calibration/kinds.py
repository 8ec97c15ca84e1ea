"""What kind of paint a calibrated one is likely to be."""

from typing import Final

import numpy as np

from schemeforge.calibration.outcome import Outcome
from schemeforge.paint import PaintKind

_HIDES: Final = 0.7  # scattering depth of one coat, from which it is called opaque


def likely_kind(outcome: Outcome, film_um: float) -> PaintKind:
    """Opaque where one coat scatters much, else translucent: a rule of thumb (no source).

    Args:
        outcome: The calibrated paint.
        film_um: Wet film of one coat in um, above 0.
    """
    depth = film_um * float(np.median(outcome.fit.scattering))
    return PaintKind.OPAQUE if depth > _HIDES else PaintKind.TRANSLUCENT
