"""The one fixed set of spectral bands that every spectrum in the program is given on."""

import numpy as np
from numpy.typing import NDArray

FIRST_NM = 380
LAST_NM = 730
STEP_NM = 10
COUNT = (LAST_NM - FIRST_NM) // STEP_NM + 1


def wavelengths_nm() -> NDArray[np.float64]:
    """Centre wavelengths of the bands in nm, shape ``(36,)``, 380 to 730 in steps of 10."""
    return np.arange(FIRST_NM, LAST_NM + STEP_NM, STEP_NM, dtype=np.float64)
