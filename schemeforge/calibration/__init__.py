"""From painted swatches to paints: K, S and films that explain what was seen, and how surely."""

from schemeforge.calibration.areas import Area, Sample, sample
from schemeforge.calibration.camera import (
    NO_CORRECTION,
    USUAL_REFERENCES,
    Correction,
    Reference,
    correction_of,
)
from schemeforge.calibration.colours import (
    USUAL_UM,
    Opacity,
    Seen,
    colour_of_code,
    from_one_colour,
    from_two_colours,
)
from schemeforge.calibration.drawdown import Read, from_drawdown, from_spectra, spectrum_patch
from schemeforge.calibration.evidence import evidence_of, film_of
from schemeforge.calibration.fitter import Fit, fit_patches
from schemeforge.calibration.grounds import BLACK, GREY, WHITE, card_ground, ground_of_colour
from schemeforge.calibration.kinds import likely_kind
from schemeforge.calibration.outcome import Outcome
from schemeforge.calibration.patches import THICK_UM, Hiding, Patch
from schemeforge.calibration.photograph import Ground, Swatch, from_photograph
from schemeforge.calibration.suggestion import Suggested, suggested
from schemeforge.calibration.test_model import (
    Line,
    Strength,
    Strengths,
    fit_strengths,
    sample_line,
)

__all__ = [
    "BLACK",
    "GREY",
    "NO_CORRECTION",
    "THICK_UM",
    "USUAL_REFERENCES",
    "USUAL_UM",
    "WHITE",
    "Area",
    "Correction",
    "Fit",
    "Ground",
    "Hiding",
    "Line",
    "Opacity",
    "Outcome",
    "Patch",
    "Read",
    "Reference",
    "Sample",
    "Seen",
    "Strength",
    "Strengths",
    "Suggested",
    "Swatch",
    "card_ground",
    "colour_of_code",
    "correction_of",
    "evidence_of",
    "film_of",
    "fit_patches",
    "fit_strengths",
    "from_drawdown",
    "from_one_colour",
    "from_photograph",
    "from_spectra",
    "from_two_colours",
    "ground_of_colour",
    "likely_kind",
    "sample",
    "sample_line",
    "spectrum_patch",
    "suggested",
]
