"""Paints from spectra: films read over two grounds, or a ladder of films over any."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry, optics
from schemeforge.calibration.colours import OPAQUE, missed
from schemeforge.calibration.fitter import fit_patches
from schemeforge.calibration.outcome import Outcome, nm_where
from schemeforge.calibration.patches import HAND, Patch
from schemeforge.calibration.prior import OF_SPECTRA
from schemeforge.errors import InputError
from schemeforge.optics import bands
from schemeforge.paint import Basis

NOISE: Final = 0.002  # standard error of a hand-held instrument's reflectance on painted card
# What Kubelka-Munk itself misses of real films, as a share of the reflectance (reasoned from the
# 0.4 CIEDE2000 by which it misses radiative transfer).
MODEL_RATIO: Final = 0.02
DRAWN: Final = 0.05  # log-normal spread of a drawn-down film about what the applicator says
_UNSETTLED: Final = 0.5  # standard error of log K or log S from which a band is flagged
_MISSED: Final = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Read:
    """A reflectance as an instrument read it, on the 36 bands.

    Args:
        reflectance: As read, 36 bands.
        unsure_nm: Bands that the instrument did not reach.
    """

    reflectance: tuple[float, ...]
    unsure_nm: tuple[int, ...] = ()

    def __post_init__(self) -> None:
        if len(self.reflectance) != bands.COUNT:
            raise InputError(f"The reading has {len(self.reflectance)} bands, not {bands.COUNT}")


def from_drawdown(
    over_dark: Read,
    over_light: Read,
    dark: Read,
    light: Read,
    *,
    film_um: float,
    surface: optics.Surface,
    noise: float = NOISE,
) -> Outcome:
    """A paint from one film read over a dark and over a light ground.

    The closed form of `optics.film_from_two_grounds` checks the readings band by band and tells
    which bands it does not resolve; the fit then lets neighbouring bands help one another.

    Args:
        over_dark: The film over the dark ground.
        over_light: The same film over the light ground.
        dark: The bare dark ground.
        light: The bare light ground.
        film_um: Wet film in um.
        surface: The instrument's geometry: specular included, excluded, or 45/0.
        noise: Standard error of a reading.

    Raises:
        ReadingError: For readings that no film or surface can give; names the band.
        InputError: For a film so opaque that it reads alike over both.
    """
    inside = [
        optics.internal(np.array(read.reflectance), surface)
        for read in (over_dark, over_light, dark, light)
    ]
    reading = optics.film_from_two_grounds(*inside, noise=2 * noise)
    unsure = np.isin(bands.wavelengths_nm(), _unsure(over_dark, over_light, dark, light))
    resolved = reading.resolved & ~unsure
    labs = [colorimetry.lab(np.array(read.reflectance)) for read in (over_dark, over_light)]
    if float(colorimetry.ciede2000(*labs)) < OPAQUE:
        raise InputError(
            "The film reads alike over dark and over light, so that nothing is known of thin films",
            remedy="paint a thinner swatch",
        )
    patches = [
        _patch("over dark", over_dark, dark, film_um, noise, hand=DRAWN, stroke="drawdown"),
        _patch("over light", over_light, light, film_um, noise, hand=DRAWN, stroke="drawdown"),
    ]
    return from_spectra(patches, surface=surface, resolved=resolved)


def from_spectra(
    patches: Sequence[Patch],
    *,
    surface: optics.Surface,
    resolved: NDArray[np.bool_] | None = None,
) -> Outcome:
    """A paint from any films read as spectra over known grounds.

    Args:
        patches: Spectra with their grounds and films.
        surface: The instrument's geometry.
        resolved: Bands that a closed form resolves; by default what the fit itself is sure of.

    Raises:
        InputError: For no patch, too many, or a colour among them.
    """
    fit = fit_patches(patches, surface=surface, prior=OF_SPECTRA)
    errors = fit.errors.reshape(2, bands.COUNT)
    unsettled = np.asarray((errors > _UNSETTLED).any(axis=0))
    if resolved is not None:
        unsettled |= ~resolved
    kept = tuple(patches)
    return Outcome(
        fit=fit,
        patches=kept,
        surface=surface,
        basis=Basis.MEASURED,
        flagged_nm=nm_where(unsettled),
        findings=tuple(missed(kept, [float(r) for r in fit.residual], _MISSED)),
    )


def spectrum_patch(
    name: str, read: Read, ground: Read, *, film_um: float, hand: float = HAND, noise: float = NOISE
) -> Patch:
    """A patch of a ladder: a film of its own, read over a ground."""
    return _patch(name, read, ground, film_um, noise, hand=hand)


def _patch(
    name: str,
    read: Read,
    ground: Read,
    film_um: float,
    noise: float,
    *,
    hand: float,
    stroke: str = "",
) -> Patch:
    return Patch(
        name=name,
        ground=ground.reflectance,
        film_um=film_um,
        reflectance=read.reflectance,
        stroke=stroke,
        hand=hand,
        noise=noise,
        noise_ratio=MODEL_RATIO,
        unsure_nm=_unsure(read, ground),
    )


def _unsure(*reads: Read) -> tuple[int, ...]:
    return tuple(sorted({nm for read in reads for nm in read.unsure_nm}))
