"""The ground that coats lie on: primer, and the off-white sprayed over it, at each tone."""

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from schemeforge import optics
from schemeforge.appearance.kept import Kept
from schemeforge.appearance.pots import PotSpectra, pot_spectra
from schemeforge.scheme import Primer, Project, Scheme, Spray, Step

# Bare model plastic where a zone has no primer, a neutral mid grey (rule of thumb, no source).
BARE_PLASTIC = 0.35
# Sprays of more droplets than optics tells apart are computed as the smooth film that they tend
# to. At a deposit of x = S film the two differ by half the variance times the curvature, which
# for white over black is S droplet_um x/(1 + x)^3: at most 0.15 S droplet_um, here below 0.006.
SMOOTH_FROM_DROPLETS = 5000.0
# So many grounds are cheaper taken as they are than put into four.
_FEW_DROPLETS = 25.0


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

    @property
    def is_idle(self) -> bool:
        """True where tone makes no difference."""
        return self.reflectance.ndim == 2

    def at(self, places: NDArray[np.intp] | slice) -> "Grounds":
        """Those of some of the tones, which stand in one row."""
        if self.is_idle:
            return self
        R, weights, weighted = (
            np.ascontiguousarray(array[:, places])
            for array in (self.reflectance, self.weights, self.weighted)
        )
        return Grounds(R, weights, weighted, self.spread_n)

    def shaped(self, shape: tuple[int, ...]) -> "Grounds":
        """With the row of tones in that shape."""
        if self.is_idle:
            return self
        wide = (-1, *shape, optics.bands.COUNT)
        R, weights, weighted = (
            array.reshape(wide) for array in (self.reflectance, self.weights, self.weighted)
        )
        return Grounds(R, weights, weighted, self.spread_n)

    def laid_out(self, points: int, dtype: type[np.floating[Any]]) -> "Grounds":
        """With all bands of all points in one row, ``(grounds, points x 36)``."""
        arrays: tuple[NDArray[Any], ...] = (self.reflectance, self.weights, self.weighted)
        if self.is_idle:
            wide = (len(self.reflectance), points, optics.bands.COUNT)
            arrays = tuple(np.broadcast_to(a[:, np.newaxis], wide) for a in arrays)
        R, weights, weighted = (
            array.reshape(len(array), -1).astype(dtype, copy=False) for array in arrays
        )
        return Grounds(R, weights, weighted, self.spread_n)


_MASSTONES: Kept[NDArray[np.float64]] = Kept(256)
_SPRAYED: Kept[Grounds] = Kept(64)


def single(reflectance: NDArray[Any]) -> Grounds:
    """One ground, the same all over or a smooth film, ``(..., 36)``."""
    one = reflectance[np.newaxis]
    return Grounds(one, np.ones_like(one), one, 1.0)


class Undercoat(NamedTuple):
    """What lies below the coats: an opaque ground, and what is sprayed on it, if anything.

    Args:
        ground: Internal reflectance of primer or bare plastic, ``(36,)``.
        pot: The mix that is sprayed.
        spray: How it is sprayed.
        milk: Extra scattering per um of the spray where it is still wet.
    """

    ground: NDArray[np.float64]
    pot: PotSpectra | None = None
    spray: Spray | None = None
    milk: float = 0.0

    def spots(self, tones: NDArray[np.float64]) -> Grounds:
        """The grounds at a row of tones, each with its own share where there are few.

        Then they are ``(grounds, 1, 36)`` with weights ``(grounds, tones, 1)``.
        """
        pot, spray = self.pot, self.spray
        if pot is None or spray is None or spray.peak_um > _FEW_DROPLETS * spray.droplet_um:
            return self.grounds([tones])[0]

        def make() -> Grounds:
            K, S = pot.absorption, pot.scattering + self.milk
            weights = optics.poisson_weights(tones, spray.peak_um, spray.droplet_um).T
            at = optics.droplet_grounds(self.ground, K, S, spray.droplet_um, len(weights))
            R, shares = at[:, np.newaxis], weights[..., np.newaxis]
            return Grounds(R, shares, R * shares, spray.spread_n)

        plain = ("spots", spray.peak_um, spray.droplet_um, spray.spread_n, self.milk)
        return _SPRAYED.get((self.ground, pot), (*plain, tones.tobytes()), make)

    def grounds(self, rows: list[NDArray[np.float64]], *, keep: bool = True) -> list[Grounds]:
        """The grounds at several rows of tones; whatever is not kept is made in one go."""
        pot, spray = self.pot, self.spray
        if pot is None or spray is None:
            return [single(self.ground)] * len(rows)
        plain = (spray.peak_um, spray.droplet_um, spray.spread_n, self.milk)
        held: dict[bytes, Grounds] = {}
        new: dict[bytes, NDArray[np.float64]] = {}
        for row in rows:
            found = _SPRAYED.find((self.ground, pot), (*plain, row.tobytes()))
            if found is None:
                new[row.tobytes()] = row
            else:
                held[row.tobytes()] = found
        if new:
            made = _sprayed(self.ground, pot, spray, self.milk, np.concatenate([*new.values()]))
            first = 0
            for key, row in new.items():
                held[key] = made.at(slice(first, first + len(row)))
                first += len(row)
                if keep:
                    _SPRAYED.keep((self.ground, pot), (*plain, key), held[key])
        return [held[row.tobytes()] for row in rows]


def undercoat_of(
    project: Project, scheme: Scheme, steps: tuple[Step, ...], milk_per_um: float = 0.0
) -> Undercoat:
    """The undercoat that these steps give, primer then spray, either of which may be missing.

    ``milk_per_um`` is the extra scattering of the last of them where it is still wet.
    """
    primer = next((s.layer for s in steps if isinstance(s.layer, Primer)), None)
    spray = next((s.layer for s in steps if isinstance(s.layer, Spray)), None)
    below = None if primer is None else pot_spectra(project, scheme.mix(primer.mix_id))
    R = _masstone(below, milk_per_um if spray is None else 0.0)
    if spray is None:
        return Undercoat(R)
    pot = pot_spectra(project, scheme.mix(spray.mix_id))
    return Undercoat(R, pot, spray, milk_per_um * pot.binder)


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
    undercoat = undercoat_of(project, scheme, steps, milk_per_um)
    flat = np.ascontiguousarray(tone, dtype=np.float64).reshape(-1)
    return undercoat.grounds([flat])[0].shaped(np.shape(tone))


def _masstone(pot: PotSpectra | None, milk: float) -> NDArray[np.float64]:
    """Internal reflectance of an opaque layer, or of bare plastic; the same object every time."""

    def make() -> NDArray[np.float64]:
        if pot is None:
            R = np.full(optics.bands.COUNT, BARE_PLASTIC)
        else:
            R = optics.r_infinity(pot.absorption, pot.scattering + milk * pot.binder)
        R.setflags(write=False)
        return R

    return _MASSTONES.get((pot,), (milk,), make)


def _sprayed(
    R: NDArray[np.float64], pot: PotSpectra, spray: Spray, milk: float, tone: NDArray[np.float64]
) -> Grounds:
    """Grounds ``(grounds, tones, 36)``."""
    K, S = pot.absorption, pot.scattering + milk
    if spray.peak_um / spray.droplet_um > SMOOTH_FROM_DROPLETS:
        at = optics.smooth_grounds(tone, R, K, S, spray.peak_um)[np.newaxis]
        weights = np.ones_like(at)
    else:
        by_tone = optics.reduced_grounds(tone, R, K, S, spray.peak_um, spray.droplet_um)
        at, weights = (np.moveaxis(array, 1, 0) for array in by_tone)
    return Grounds(at, weights, at * weights, spray.spread_n)
