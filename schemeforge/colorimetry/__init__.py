"""Colour as people see it: from reflectance to XYZ, CIELAB, OKLab, differences and the screen.

One number per colour everywhere: every page, sheet and command goes through these functions.
"""

from schemeforge.colorimetry.adaptation import adaptation
from schemeforge.colorimetry.difference import cie76, cie94, ciede2000, difference_words
from schemeforge.colorimetry.display import (
    Display,
    decode,
    encode,
    hex_codes,
    linear_rgb_from_xyz,
    srgb,
    srgb_icc_profile,
    to_srgb8_fast,
    xyz_from_linear_rgb,
)
from schemeforge.colorimetry.distance import blur_for_distance
from schemeforge.colorimetry.dither import dither
from schemeforge.colorimetry.sight import Distance, Eyes, Sight, camera_matrix, looked_at
from schemeforge.colorimetry.tables import (
    Light,
    LightLike,
    SpectralLight,
    Weights,
    light_names,
    lights,
    weights,
)
from schemeforge.colorimetry.tristimulus import (
    D65_WHITE,
    adapted_matrix,
    lab,
    lab_from_lch,
    lab_from_xyz,
    lch,
    oklab_from_xyz,
    oklch,
    xyz,
    xyz_from_lab,
    xyz_from_oklab,
)
from schemeforge.colorimetry.vision import DEFICIENCIES, as_seen_with

__all__ = [
    "D65_WHITE",
    "DEFICIENCIES",
    "Display",
    "Distance",
    "Eyes",
    "Light",
    "LightLike",
    "Sight",
    "SpectralLight",
    "Weights",
    "adaptation",
    "adapted_matrix",
    "as_seen_with",
    "blur_for_distance",
    "camera_matrix",
    "cie76",
    "cie94",
    "ciede2000",
    "decode",
    "difference_words",
    "dither",
    "encode",
    "hex_codes",
    "lab",
    "lab_from_lch",
    "lab_from_xyz",
    "lch",
    "light_names",
    "lights",
    "linear_rgb_from_xyz",
    "looked_at",
    "oklab_from_xyz",
    "oklch",
    "srgb",
    "srgb_icc_profile",
    "to_srgb8_fast",
    "weights",
    "xyz",
    "xyz_from_lab",
    "xyz_from_linear_rgb",
    "xyz_from_oklab",
]
