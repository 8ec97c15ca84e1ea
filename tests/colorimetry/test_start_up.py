"""What importing and using colorimetry does not drag in."""

import subprocess
import sys

import pytest

HEAVY = ("colour", "scipy", "PySide6", "PIL")

IMPORT = "import schemeforge.colorimetry as c"
# Every step from a reflectance to the screen, a difference and a blur, as a window needs them.
USE = (
    IMPORT
    + """
import numpy as np
xyz = c.xyz(np.full((4, 5, 36), 0.4), "FL11", 10)
c.hex_codes(xyz), c.to_srgb8_fast(xyz), c.dither(c.srgb(xyz).rgb)
c.ciede2000(c.lab_from_xyz(xyz), c.lab_from_xyz(c.as_seen_with(xyz, "deutan")))
c.blur_for_distance(xyz, mm_per_pixel=1, distance_m=1), c.oklch(xyz)
"""
)


@pytest.mark.parametrize("code", [IMPORT, USE])
def test_heavy_libraries_stay_away(code: str) -> None:
    check = f"\nimport sys\nprint([name for name in {HEAVY!r} if name in sys.modules])"
    done = subprocess.run(  # noqa: S603 - our own interpreter and our own words
        [sys.executable, "-W", "error", "-c", code + check],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.stderr == ""
    assert done.stdout.strip() == "[]"
