"""A stack of films whose thickness varies from point to point: the ramp's inner loop."""

import numpy as np

from schemeforge.optics.checks import Floats

# tanh(x)/x is 1 to the last digit for any x so small, in both precisions: a floor of the rate
# keeps the quotients defined where nothing absorbs.
_SMALLEST_RATE = 1e-18

# Points worked on at a time: five arrays of so many points by 36 bands stay in the cache.
_AT_ONCE = 256


def stack_over(ground: Floats, thickness: Floats, absorption: Floats, scattering: Floats) -> Floats:
    """Reflectance of films laid one on another over a ground, unchecked, ``(points, bands)``.

    Args:
        ground: Internal reflectance beneath, ``(points, bands)`` or ``(bands,)``.
        thickness: Of each film at each point, lowest film first, ``(films, points)``.
        absorption: K per unit of thickness, ``(films, bands)``.
        scattering: S likewise.

    The same as `film_over` film after film, in fewer passes: A th = (A/g) tanh(g) of
    [Kubelka1948], and of a mix A/g and SX/g do not depend on the thickness. All arguments of one
    float type. The absolute error is near that of the number format, but grows with the depth of
    films that hardly absorb, by a digit at a depth of 10 and so on.
    """
    rate = np.maximum(np.sqrt(absorption * (absorption + 2 * scattering)), _SMALLEST_RATE)
    terms = np.stack((rate, (absorption + scattering) / rate, scattering / rate))[..., np.newaxis]
    points = thickness.shape[1]
    seen = np.empty((absorption.shape[1], points), dtype=rate.dtype)
    # Bands by points inside: a row is then long, and numpy's passes run at full speed.
    seen[:] = ground.T if ground.ndim == 2 else ground[:, np.newaxis]
    for first in range(0, points, _AT_ONCE):
        some = slice(first, first + _AT_ONCE)
        R = np.ascontiguousarray(seen[:, some])
        t, scattered = np.empty_like(R), np.empty_like(R)
        for film, rate_of, absorbs, scatters in zip(thickness[:, some], *terms, strict=True):
            np.multiply(film, rate_of, out=t)
            np.tanh(t, out=t)
            np.multiply(t, scatters, out=scattered)
            t *= absorbs
            # R becomes (SX th + (1 - A th) R)/(1 + A th - SX th R).
            below = t * R
            np.subtract(R, below, out=below)
            below += scattered
            scattered *= R
            t += 1
            t -= scattered
            np.divide(below, t, out=R)
        seen[:, some] = R
    return seen.T
