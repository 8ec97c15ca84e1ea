"""The ground that coats lie on: primer, and the off-white sprayed over it, at each tone."""

from functools import lru_cache
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from schemeforge import optics
from schemeforge.appearance.pots import pot_spectra, spectra_of
from schemeforge.paint import Paint
from schemeforge.scheme import Mix, Primer, Project, Scheme, Spray, Step

# Bare model plastic where a zone has no primer, a neutral mid grey (rule of thumb, no source).
BARE_PLASTIC = 0.35
# From this many droplets on average the speckle's spread of film is under 5 % and its effect on
# the mean reflectance under 0.001: computed as the smooth film that it tends to.
_SMOOTH_FROM_DROPLETS = 500.0


class Grounds(NamedTuple):
    """A handful of grounds and how much of the area each takes.

    Args:
        reflectance: Internal, ``(grounds, *tone shape, 36)`` or ``(1, 36)`` where tone is idle.
        weights: Broadcasting against it, summing to 1 over grounds.
        weighted: Their product.
        spread_n: Yule-Nielsen n.
    """

    reflectance: NDArray[Any]
    weights: NDArray[Any]
    weighted: NDArray[Any]
    spread_n: float

    def rows(self, rows: slice, rank: int) -> "Grounds":
        """The grounds of some rows of the points, whose shape has that rank."""
        if rank == 0 or self.reflectance.ndim != rank + 2 or self.reflectance.shape[1] == 1:
            return self
        return Grounds(
            self.reflectance[:, rows], self.weights[:, rows], self.weighted[:, rows], self.spread_n
        )


def single(reflectance: NDArray[Any]) -> Grounds:
    """One ground, the same all over or a smooth film, ``(..., 36)``."""
    one = reflectance[np.newaxis]
    return Grounds(one, np.ones((1,) * one.ndim), one, 1.0)


def zone_grounds(
    project: Project,
    scheme: Scheme,
    steps: tuple[Step, ...],
    tone: NDArray[np.float64],
    milk_per_um: float = 0.0,
) -> Grounds:
    """The grounds that a zone's undercoat steps give at the tones, ``tone`` of any shape.

    Args:
        project: Carries the paints.
        scheme: Carries the mixes.
        steps: Undercoat steps of the zone, primer then spray, either of which may be missing.
        tone: 0 to 1.
        milk_per_um: Extra scattering of the last of them where it is still wet.
    """
    primer = next((s.layer for s in steps if isinstance(s.layer, Primer)), None)
    spray = next((s.layer for s in steps if isinstance(s.layer, Spray)), None)
    below = None if primer is None else scheme.mix(primer.mix_id)
    wet_primer = milk_per_um if spray is None else 0.0
    R = _masstone(below, _paints(project, below), wet_primer)
    if spray is None:
        return single(R)
    above = scheme.mix(spray.mix_id)
    pot = pot_spectra(project, above)
    flat = np.ascontiguousarray(tone, dtype=np.float64)
    spots = _sprayed(
        below,
        _paints(project, below),
        spray,
        above,
        _paints(project, above),
        milk_per_um * pot.binder,
        flat.tobytes(),
    )
    shape = (-1, *flat.shape, optics.bands.COUNT)
    at, weights, weighted = (array.reshape(shape) for array in spots)
    return Grounds(at, weights, weighted, spray.spread_n)


def _paints(project: Project, mix: Mix | None) -> tuple[Paint, ...]:
    return () if mix is None else tuple(project.paint(i.paint_id) for i in mix.ingredients)


@lru_cache(maxsize=256)
def _masstone(mix: Mix | None, paints: tuple[Paint, ...], milk: float) -> NDArray[np.float64]:
    if mix is None:
        R = np.full(optics.bands.COUNT, BARE_PLASTIC)
    else:
        pot = spectra_of(mix, paints)
        R = optics.r_infinity(pot.absorption, pot.scattering + milk * pot.binder)
    R.setflags(write=False)
    return R


@lru_cache(maxsize=256)
def _sprayed(
    below: Mix | None,
    below_paints: tuple[Paint, ...],
    spray: Spray,
    above: Mix,
    above_paints: tuple[Paint, ...],
    milk: float,
    tones: bytes,
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Grounds, weights and their product, ``(grounds, tones, 36)``; cached, read-only."""
    tone = np.frombuffer(tones)
    R = _masstone(below, below_paints, 0.0)
    pot = spectra_of(above, above_paints)
    K, S = pot.absorption, pot.scattering + milk
    if spray.peak_um / spray.droplet_um > _SMOOTH_FROM_DROPLETS:
        at = optics.smooth_grounds(tone, R, K, S, spray.peak_um)[np.newaxis]
        weights = np.ones_like(at)
    else:
        by_tone = optics.reduced_grounds(tone, R, K, S, spray.peak_um, spray.droplet_um)
        at, weights = (np.ascontiguousarray(np.moveaxis(array, 1, 0)) for array in by_tone)
    spots = (at, weights, at * weights)
    for array in spots:
        array.setflags(write=False)
    return spots
