"""Invented shelves, and the recipes of a request worked out one by one, straight from formulas.

The reference shares the films' and colours' published functions with the package, and nothing of
`recipe` but the request: whole parts, ties and sets are written here once more, as plain loops.
"""

import itertools
import math
from collections.abc import Iterator
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry, optics
from schemeforge.appearance import Look
from schemeforge.optics import bands
from schemeforge.paint import Paint, PaintKind, Stock
from schemeforge.recipe import Bed, Laying, Request, Target, plain_bed
from tests.builders import synthetic_paint

Floats = NDArray[np.float64]
LOOK = Look(optics.MATT, "D65", 2, 0.0)
# Two parts in ten and two coats: small enough to go through one by one.
SMALL = Laying(films_um=(25.0,), coats=(1, 2), most_parts=5, thinned=(0.0, 1.0))


def paint(rng: np.random.Generator, name: str, left_ml: float | None = None) -> Paint:
    """A paint with one or two absorption bands, or an edge, and more or less white in it."""
    nm = bands.wavelengths_nm()
    K = np.full(bands.COUNT, 10.0 ** rng.uniform(-3.8, -2.5))
    top = 10.0 ** rng.uniform(-1.4, -0.5)
    if rng.random() < 0.4:
        K += top / (1.0 + np.exp((nm - rng.uniform(470.0, 610.0)) / rng.uniform(8.0, 25.0)))
    else:
        for _ in range(rng.integers(1, 3)):
            K += top * np.exp(-0.5 * ((nm - rng.uniform(420.0, 690.0)) / rng.uniform(25, 70)) ** 2)
    S = np.full(bands.COUNT, 10.0 ** rng.uniform(-3.5, -0.8))
    made = synthetic_paint(name, absorption=tuple(map(float, K)), scattering=tuple(map(float, S)))
    return replace(made, stock=Stock(left_ml=left_ml))


def shelf(seed: int, count: int) -> tuple[Paint, ...]:
    """So many paints, alike for equal seeds."""
    rng = np.random.default_rng(seed)
    return tuple(paint(rng, f"p{n:02d}") for n in range(count))


def medium() -> Paint:
    """A hazy medium."""
    return synthetic_paint(
        "haze",
        PaintKind.MEDIUM,
        absorption=(0.0005,) * bands.COUNT,
        scattering=(0.002,) * bands.COUNT,
    )


def ramp_bed(tones: int = 3, *, spread_n: float = 1.0) -> Bed:
    """Two grounds a tone, a film that pools, and a coat above."""
    rng = np.random.default_rng(5)
    R = np.stack([np.full((tones, bands.COUNT), 0.04), np.full((tones, bands.COUNT), 0.75)])
    R = R * rng.uniform(0.9, 1.0, R.shape)
    light = np.linspace(0.2, 0.9, tones)[:, np.newaxis] * np.ones(bands.COUNT)
    above = optics.film_map(
        np.full((tones, bands.COUNT), 0.05),
        np.linspace(0.02, 0.1, bands.COUNT) * np.ones((tones, 1)),
    )
    film = np.linspace(1.4, 0.6, tones)
    at = tuple(np.linspace(0.0, 1.0, tones).tolist())
    return Bed(R, np.stack([1.0 - light, light]), film, above, spread_n, at, at)


def request(
    seed: int = 1,
    count: int = 5,
    *,
    lab: tuple[tuple[float, float, float], ...] = ((45.0, 20.0, 15.0),),
    bed: Bed | None = None,
    laying: Laying = SMALL,
    **more: object,
) -> Request:
    """A request for one colour over a grey, of a small shelf."""
    return Request(
        target=Target(lab=lab),
        bed=plain_bed(0.4) if bed is None else bed,
        look=LOOK,
        paints=shelf(seed, count),
        builds=((laying,),),
        **more,  # type: ignore[arg-type]
    )


def mixes(laying: Laying, paints: int) -> Iterator[tuple[tuple[int, ...], int, int, float]]:
    """Parts of the paints, of thinner, coats and film of everything that a laying allows."""
    low, high = laying.thinner_shares
    for parts in itertools.product(range(1, laying.most_parts + 1), repeat=paints):
        for thin in range(laying.most_parts - sum(parts) + 1):
            share = thin / (thin + sum(parts))
            if math.gcd(*parts, thin) == 1 and low - 1e-9 <= share <= high + 1e-9:
                for coats in laying.coats:
                    for film in laying.films:
                        yield parts, thin, coats, film


def depths(
    paints: list[Paint], thinner: Paint, parts: tuple[int, ...], thin: int, film: float
) -> tuple[Floats, Floats]:
    """KX and SX of a mix, straight from `optics.mix`."""
    everything = [*paints, thinner]
    K = np.array([one.absorption for one in everything])
    S = np.array([one.scattering for one in everything])
    KX, SX = optics.mix([*map(float, parts), float(thin)], film, K, S)
    return KX, SX


def seen_lab(layers: list[tuple[Floats, Floats]], bed: Bed, look: Look) -> Floats:
    """CIELAB of films laid one on another, ``(tones, 3)``, tone by tone and ground by ground."""
    rows = []
    for tone in range(bed.tones):
        spots = []
        for ground in bed.reflectance[:, tone]:
            R = ground
            for KX, SX in layers:
                R = optics.reflectance_over(R, bed.film[tone] * KX, bed.film[tone] * SX)
            if bed.above is not None:
                R = optics.apply(type(bed.above)(*(e[tone] for e in bed.above)), R)
            spots.append(optics.seen(np.clip(R, 0.0, 1.0), look.surface))
        shares = bed.weights[:, tone]
        mean = (shares * np.array(spots) ** (1.0 / bed.spread_n)).sum(axis=0) ** bed.spread_n
        rows.append(colorimetry.lab(mean, look.light, look.observer))
    return np.array(rows)


def difference(lab: Floats, target: Floats) -> float:
    """Root mean square of CIEDE2000 over the tones."""
    return float(np.sqrt(np.mean(colorimetry.ciede2000(lab, target) ** 2)))


def best_by_set(
    asked: Request, caps: dict[str, float] | None = None
) -> dict[frozenset[str], float]:
    """The least difference of every set of paints, single mixes only, one recipe at a time."""
    target = asked.target.array
    found: dict[frozenset[str], float] = {}
    for build in asked.builds:
        (laying,) = build
        for count in range(1, laying.most_paints + 1):
            for chosen in itertools.combinations(asked.usable, count):
                ids = frozenset(one.id for one in chosen)
                if not set(asked.must) <= ids:
                    continue
                for parts, thin, coats, film in mixes(laying, count):
                    total = sum(parts) + thin
                    if caps and any(
                        p / total > caps[one.id] + 1e-9
                        for p, one in zip(parts, chosen, strict=True)
                    ):
                        continue
                    depth = depths(list(chosen), asked.thinner, parts, thin, coats * film)
                    off = difference(seen_lab([depth], asked.bed, asked.look), target)
                    found[ids] = min(found.get(ids, math.inf), off)
    return found
