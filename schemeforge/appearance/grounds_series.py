"""A mean over many grounds, below any stack, from the stack over a handful of them.

With u = R/(1 - k2 R) of a ground R, a stack under a surface shows through u/(1 - (below - k2) u)
on top of what it reflects itself: a smooth function of u, straight for a bare ground. So it is
worked out at a few Chebyshev points between the darkest and the lightest ground of each band, and
the mean over any mixture of the grounds is a weighted sum of those: the weights are the mixture's
means of the polynomials that are 1 at one point and 0 at the others [Trefethen2013] ch. 3.
"""

from typing import Any, Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from schemeforge import optics
from schemeforge.appearance.folding import Fold
from schemeforge.appearance.kept import Kept
from schemeforge.appearance.look import Look
from schemeforge.appearance.undercoat import Grounds

# Points in u: the pole of the worst stack (below = 1, over grounds up to 0.9) lies so far out that
# each further point takes off a factor of 4 or more; these leave the digits of each precision
# that are of use. A test holds both.
_POINTS: Final = {np.float32: 5, np.float64: 22}
_NARROWEST: Final = 1e-12

_SERIES: Kept["Series"] = Kept(128)


class Series(NamedTuple):
    """What stands for the grounds at a row of tones.

    Args:
        shown: u at the points of each band, ``(points, 36)``.
        shares: Weight of each point, ``(tones, points, 36)``.
    """

    shown: NDArray[Any]
    shares: NDArray[Any]


def series_of(grounds: Grounds, k2: float, dtype: type[np.floating[Any]]) -> Series:
    """The points and weights of grounds ``(grounds, tones, 36)``, or of a single idle one; kept.

    Args:
        grounds: With a Yule-Nielsen n of 1; ``(grounds, 1, 36)`` with weights
            ``(grounds, tones, 1)`` do as well.
        k2: Internal reflectance of the surface, 0 to below 1.
        dtype: float32 or float64.
    """

    def make() -> Series:
        made = _series(grounds, k2, _POINTS[dtype])
        return Series(*(array.astype(dtype) for array in made))

    return _SERIES.get((grounds,), (k2, dtype is np.float32), make)


def _series(grounds: Grounds, k2: float, points: int) -> Series:
    u = grounds.reflectance / (1 - k2 * grounds.reflectance)
    if grounds.is_idle:
        return Series(u, np.ones_like(u)[np.newaxis])
    low, high = u.min(axis=(0, 1)), u.max(axis=(0, 1))
    middle, half = (low + high) / 2, np.maximum((high - low) / 2, _NARROWEST)
    at = np.cos(np.pi * (np.arange(points) + 0.5) / points)
    known = np.polynomial.chebyshev.chebvander(at, points - 1) * (2 / points)
    known[:, 0] /= 2
    x = np.clip((u - middle) / half, -1, 1)
    powers = np.polynomial.chebyshev.chebvander(x, points - 1)
    if grounds.weights.shape[-1] == 1:  # the same grounds at all tones
        flat = grounds.weights[..., 0].T @ powers.reshape(len(powers), -1)
        means = flat.reshape(-1, *powers.shape[2:])
    else:
        means = np.einsum("gtb,gtbk->tbk", grounds.weights, powers)
    return Series(middle + half * at[:, np.newaxis], np.moveaxis(means @ known.T, 2, 1))


def xyz_over_series(fold: Fold | None, series: Series, look: Look) -> NDArray[Any]:
    """XYZ on top of stack and surface, ``(3, tones, *places)``.

    Args:
        fold: The coats, ``(*places, 36)``; none where None.
        series: The grounds.
        look: Surface, light and observer.
    """
    surface, matrix = look.surface, look.matrix()
    body = surface.factor * (1 - surface.k1) * (1 - surface.k2) * matrix
    points, tones = len(series.shown), len(series.shares)
    weights = (series.shares * body.T[:, np.newaxis, np.newaxis]).reshape(3 * tones, -1)
    own = surface.w * surface.k1 * matrix.sum(axis=0)
    if fold is None:
        xyz = weights @ series.shown.reshape(-1, 1)
        return np.asarray(xyz.reshape(3, tones, 1, 1) + own.reshape(3, 1, 1, 1))
    places = fold.over.shape[:-1]
    passed = 1 / (1 - surface.k2 * fold.over)
    through = fold.through * passed
    below = fold.below - surface.k2 + surface.k2 * through
    through *= passed
    shown = below[..., np.newaxis, :] * series.shown
    np.subtract(1, shown, out=shown)
    np.divide(series.shown, shown, out=shown)
    shown *= through[..., np.newaxis, :]
    xyz = weights @ shown.reshape(-1, points * optics.bands.COUNT).T
    passed *= fold.over
    xyz.reshape(3, tones, -1)[...] += ((passed.reshape(-1, optics.bands.COUNT) @ body) + own).T[
        :, np.newaxis
    ]
    return np.asarray(xyz.reshape(3, tones, *places))
