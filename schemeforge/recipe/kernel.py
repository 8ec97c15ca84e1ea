"""Colours of very many candidate recipes at once: the solver's inner loop.

Arrays run ``(points, tones, bands, sets)``: the sets of paints last, since there are thousands of
them and whatever belongs to a band or a tone alone is then one number along the fastest axis.
"""

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from schemeforge import optics
from schemeforge.appearance import Look
from schemeforge.optics import MobiusMap
from schemeforge.recipe.bed import Bed

Floats = NDArray[Any]


class Kernel:
    """Recipes over one bed, under one look.

    Args:
        absorption: K of the paints per um, ``(paints, 36)``.
        scattering: S likewise.
        thinners: K and S of each layer's thinner, ``(layers, 2, 36)``.
        bed: What lies below and above.
        look: Finish, light, observer.
        slots: Layer of each paint slot, lowest layer first, for example (0, 1, 1).
        some: Bands to work with; all where None.
        matrix: Weights ``(bands, 3)`` from seen reflectance to XYZ; the look's own where None.
        dtype: float32 or float64.
    """

    def __init__(
        self,
        absorption: Floats,
        scattering: Floats,
        thinners: Floats,
        bed: Bed,
        look: Look,
        slots: Sequence[int],
        *,
        some: NDArray[np.intp] | None = None,
        matrix: Floats | None = None,
        dtype: Any = np.float64,
    ) -> None:
        band = np.arange(optics.bands.COUNT) if some is None else some

        def narrow(array: Floats) -> Floats:
            return np.ascontiguousarray(array[..., band], dtype=dtype)

        self.dtype = dtype
        self._K = np.ascontiguousarray(narrow(absorption).T)
        self._S = np.ascontiguousarray(narrow(scattering).T)
        self._thinners = narrow(thinners)[..., np.newaxis]
        self._is_hazy = bool(self._thinners.any())
        self._slots = tuple(slots)
        self._grounds = narrow(bed.reflectance)[..., np.newaxis]
        weighted = narrow(bed.weights * bed.reflectance)[..., np.newaxis]
        self._weights = narrow(bed.weights)[..., np.newaxis]
        self._weighted = weighted
        self._spread_n = bed.spread_n
        self._film: Floats | None = None
        if not np.all(bed.film == 1.0):
            self._film = bed.film.astype(dtype)[:, np.newaxis, np.newaxis]
        surface = optics.surface_map(look.surface)
        top = surface if bed.above is None else optics.compose(surface, bed.above)
        shape = (1 if bed.above is None else bed.tones, optics.bands.COUNT)
        self._top = MobiusMap(
            *(narrow(np.broadcast_to(entry, shape))[..., np.newaxis] for entry in top)
        )
        weights = look.matrix() if matrix is None else matrix
        self._matrix = np.ascontiguousarray(weights.T, dtype=dtype)

    @property
    def matrix(self) -> Floats:
        """Weights from seen reflectance to XYZ, ``(bands, 3)``."""
        return self._matrix.T

    def seen(self, sets: NDArray[np.int16], deposits: Floats, carrier: Floats | None) -> Floats:
        """Seen reflectance, ``(points, tones, bands, sets)``.

        Args:
            sets: Paint in each slot, ``(slots, sets)``.
            deposits: um of neat paint, ``(points, slots, sets)``; the last axis may be 1.
            carrier: um of thinner in each layer, ``(points, layers, sets)`` likewise; None where
                it makes no difference.
        """
        fold: MobiusMap | None = None
        for layer in range(self._slots[-1] + 1):
            K, S = self._layer(layer, sets, deposits, carrier)
            film = optics.film_map(K, S)
            fold = film if fold is None else optics.compose(film, fold)
        assert fold is not None  # noqa: S101 - there is always a slot
        whole = optics.compose(self._top, fold)
        if self._spread_n != 1.0:
            return self._spread(whole)
        total: Floats | None = None
        for ground, share in zip(self._grounds, self._weighted, strict=True):
            part = whole.below * ground
            np.subtract(1, part, out=part)
            np.divide(share, part, out=part)
            total = part if total is None else np.add(total, part, out=total)
        assert total is not None  # noqa: S101 - there is always a ground
        total *= whole.through
        total += whole.above
        return total

    def xyz(
        self, sets: NDArray[np.int16], deposits: Floats, carrier: Floats | None = None
    ) -> Floats:
        """XYZ adapted to D65, ``(points, tones, sets, 3)``, coordinates first in memory."""
        seen = self.seen(sets, deposits, carrier)
        return np.moveaxis(self._matrix @ seen, -2, -1)

    def _layer(
        self, layer: int, sets: NDArray[np.int16], deposits: Floats, carrier: Floats | None
    ) -> tuple[Floats, Floats]:
        """KX and SX of a layer, ``(points, tones or 1, bands, sets)``."""
        K: Floats | None = None
        S: Floats | None = None
        for slot, owner in enumerate(self._slots):
            if owner != layer:
                continue
            film = deposits[:, np.newaxis, slot, np.newaxis].astype(self.dtype, copy=False)
            more_K = film * self._K.take(sets[slot], axis=1)
            more_S = film * self._S.take(sets[slot], axis=1)
            K = more_K if K is None else np.add(K, more_K, out=K)
            S = more_S if S is None else np.add(S, more_S, out=S)
        assert K is not None  # noqa: S101 - every layer has a slot
        assert S is not None  # noqa: S101 - likewise
        if self._is_hazy and carrier is not None:
            thin = carrier[:, np.newaxis, layer, np.newaxis].astype(self.dtype, copy=False)
            K += thin * self._thinners[layer, 0]
            S += thin * self._thinners[layer, 1]
        if self._film is None:
            return K, S
        return K * self._film, S * self._film

    def _spread(self, whole: MobiusMap) -> Floats:
        spots = [
            whole.above + whole.through * ground / (1 - whole.below * ground)
            for ground in self._grounds
        ]
        # Bands last, as optics takes them.
        seen = np.stack([np.moveaxis(spot, -2, -1) for spot in spots], axis=-2)
        weights = np.moveaxis(self._weights[..., 0], 0, 1)[:, np.newaxis]
        mean = optics.reduced_mean(seen, np.broadcast_to(weights, seen.shape), self._spread_n)
        return np.ascontiguousarray(np.moveaxis(mean, -1, -2))
