"""The physics of paint films: numpy arrays in, numpy arrays out, no colour science.

Spectra stand on one band set (`bands`), 380 to 730 nm in steps of 10. Functions keep the float
type that they are given: float64 for every number shown or stored, float32 where only pixels
result.
"""

from schemeforge.optics import bands
from schemeforge.optics.droplets import (
    BRIGHT,
    COARSE_CAN,
    DUSTED,
    FINE_AIRBRUSH,
    NORMAL,
    SMOOTH_BELOW_UM,
    droplet_count,
    droplet_grounds,
    murray_davies,
    poisson_weights,
    reduced_mean,
    smooth_grounds,
    yule_nielsen_mean,
)
from schemeforge.optics.inverse import READING_NOISE, FilmReading, film_from_two_grounds
from schemeforge.optics.kubelka_munk import (
    film_over,
    film_terms,
    k_over_s,
    r0_and_transmittance,
    r_infinity,
    reflectance_over,
)
from schemeforge.optics.mixture import MILK_PER_UM, deposits, mix, wet_scattering
from schemeforge.optics.mobius import MobiusMap, apply, compose, film_map
from schemeforge.optics.reduction import reduced_grounds
from schemeforge.optics.stack import stack_over
from schemeforge.optics.surface import (
    FORTY_FIVE_ZERO,
    GLOSS,
    MATT,
    SATIN,
    SPECULAR_EXCLUDED,
    SPECULAR_INCLUDED,
    UNVARNISHED,
    DiffuseConstants,
    Surface,
    diffuse_constants,
    forty_five_zero_factor,
    internal,
    seen,
    surface_map,
)

__all__ = [
    "BRIGHT",
    "COARSE_CAN",
    "DUSTED",
    "FINE_AIRBRUSH",
    "FORTY_FIVE_ZERO",
    "GLOSS",
    "MATT",
    "MILK_PER_UM",
    "NORMAL",
    "READING_NOISE",
    "SATIN",
    "SMOOTH_BELOW_UM",
    "SPECULAR_EXCLUDED",
    "SPECULAR_INCLUDED",
    "UNVARNISHED",
    "DiffuseConstants",
    "FilmReading",
    "MobiusMap",
    "Surface",
    "apply",
    "bands",
    "compose",
    "deposits",
    "diffuse_constants",
    "droplet_count",
    "droplet_grounds",
    "film_from_two_grounds",
    "film_map",
    "film_over",
    "film_terms",
    "forty_five_zero_factor",
    "internal",
    "k_over_s",
    "mix",
    "murray_davies",
    "poisson_weights",
    "r0_and_transmittance",
    "r_infinity",
    "reduced_grounds",
    "reduced_mean",
    "reflectance_over",
    "seen",
    "smooth_grounds",
    "stack_over",
    "surface_map",
    "wet_scattering",
    "yule_nielsen_mean",
]
