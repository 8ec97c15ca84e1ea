"""One point of one zone worked out in plain floats, straight from the formulas.

Shares nothing with the package but the document's values and the weights of colorimetry: who gets
what, profiles, mixes, films, droplets and surface are written here once more, in other forms.
Films use the hyperbolic solution with its limits [Kubelka1948], one film on what lies below it;
droplets are summed over every number that can occur.
"""

import itertools
import math

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry
from schemeforge.scheme import (
    AlongProfile,
    Coat,
    Finish,
    Mix,
    Primer,
    Project,
    ReliefKind,
    ReliefProfile,
    Scheme,
    ShareKind,
    Spray,
    Step,
    Viewing,
    Work,
)

BANDS = 36
PLASTIC = 0.35
# More droplets than this on average at tone 1 count as a smooth film.
MOST_DROPLETS = 5000.0
# The surface of [Saunderson1942] at n = 1.5, and the share of first reflection seen of a finish.
K1, K2 = 0.04, 0.60
SEEN = {Finish.MATT: 1.0, Finish.UNVARNISHED: 0.8, Finish.SATIN: 0.5, Finish.GLOSS: 0.0}


def stages_at(
    project: Project,
    scheme: Scheme,
    zone_id: str,
    at: tuple[float, float, float],
    viewing: Viewing | None = None,
    group_id: str | None = None,
) -> NDArray[np.float64]:
    """XYZ of every stage at one (tone, relief, along), ``(stages, 3)``."""
    view = project.viewing if viewing is None else viewing
    steps = stack_of(scheme, zone_id, group_id)
    milk = view.milk_per_um if view.wet else 0.0
    w = SEEN[Finish.GLOSS if view.wet else view.finish]
    light = next((light for light in project.lights if light.name == view.light), None)
    source: colorimetry.LightLike = view.light
    if light is not None:
        source = colorimetry.SpectralLight(
            name=light.name, wavelengths_nm=light.wavelengths_nm, power=light.power
        )
    matrix = colorimetry.adapted_matrix(source, view.observer)
    out = []
    for last in range(max(len(steps), 1)):
        spectrum = [
            _band(project, scheme, steps[: last + 1], at, band, milk, w) for band in range(BANDS)
        ]
        out.append(np.array(spectrum) @ matrix)
    return np.array(out)


def stack_of(scheme: Scheme, zone_id: str, group_id: str | None) -> list[Step]:
    """The coloured steps of a group's zone, in order."""
    share = next((s for s in scheme.shares if (s.group_id, s.zone_id) == (group_id, zone_id)), None)
    found = []
    for step in scheme.steps:
        if isinstance(step.layer, Work) or zone_id not in step.zone_ids:
            continue
        gets = not step.by_name_only
        if share is not None and share.kind is ShareKind.NONE:
            gets = False
        elif share is not None and share.kind is ShareKind.SHORT:
            gets = gets and step.id not in share.step_ids
        elif share is not None and share.kind is ShareKind.OWN:
            gets = step.id in share.step_ids
        if gets:
            found.append(step)
    return found


def _band(
    project: Project,
    scheme: Scheme,
    steps: list[Step],
    at: tuple[float, float, float],
    band: int,
    milk: float,
    w: float,
) -> float:
    """Reflectance seen in one band after the last of the steps, which alone is wet."""
    spots = [(1.0, PLASTIC)]
    spread_n = 1.0
    for step in steps:
        layer = step.layer
        assert isinstance(layer, Primer | Spray | Coat)
        K, S = per_um(project, scheme.mix(layer.mix_id), band, milk if step is steps[-1] else 0.0)
        if isinstance(layer, Primer):
            spots = [(1.0, thick(K, S))]
        elif isinstance(layer, Spray):
            spread_n = layer.spread_n
            spots = sprayed(spots[0][1], K, S, layer, at[0])
        else:
            film = film_um(layer, at[1], at[2])
            spots = [(share, over(R, film * K, film * S)) for share, R in spots]
    seen = [(share, w * K1 + (1 - K1) * (1 - K2) * R / (1 - K2 * R)) for share, R in spots]
    mean = math.fsum(share * math.pow(R, 1 / spread_n) for share, R in seen)
    return math.pow(mean, spread_n)


def per_um(project: Project, mix: Mix, band: int, milk: float) -> tuple[float, float]:
    """K and S of a mix per um of wet film, with the milkiness of its share of binder."""
    total = math.fsum(i.parts for i in mix.ingredients)
    K = S = 0.0
    for ingredient in mix.ingredients:
        if ingredient.paint_id == "water":
            continue
        paint = next(p for p in project.paints if p.id == ingredient.paint_id)
        share = ingredient.parts / total
        K += share * paint.absorption[band]
        S += share * (paint.scattering[band] + milk)
    return K, S


def film_um(coat: Coat, relief: float, along: float) -> float:
    """Wet film of a coat at a place."""
    place = coat.placement
    return coat.wet_um * coat.passes * _relief(place.relief, relief) * _along(place.along, along)


def _relief(profile: ReliefProfile, r: float) -> float:
    if profile.kind is ReliefKind.EVEN:
        return 1.0
    if profile.kind is ReliefKind.CURVE:
        knots = sorted({0.0, 1.0, *(x for x, _ in profile.points)})
        mean = math.fsum(
            (b - a) * _polyline(profile.points, (a + b) / 2)  # exact: straight between knots
            for a, b in itertools.pairwise(knots)
        )
        return _polyline(profile.points, r) / mean
    away = 1 - r if profile.kind is ReliefKind.POOLS else r
    pooled = math.pow(away, 1 / profile.reach - 1) / profile.reach
    return (1 - profile.depth) + profile.depth * pooled


def _polyline(points: tuple[tuple[float, float], ...], x: float) -> float:
    for (x0, y0), (x1, y1) in itertools.pairwise(points):
        if x0 <= x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    return points[0][1] if x < points[0][0] else points[-1][1]


def _along(profile: AlongProfile, a: float) -> float:
    if not profile.start <= a <= profile.end:
        return 0.0
    share = 1.0
    for feather, distance in (
        (profile.feather_start, a - profile.start),
        (profile.feather_end, profile.end - a),
    ):
        if distance < feather:
            t = distance / feather
            share *= 3 * t**2 - 2 * t**3
    return share


def thick(K: float, S: float) -> float:
    """Reflectance of an opaque layer, 1 + K/S - sqrt((K/S)^2 + 2 K/S) [Kubelka1948]."""
    ratio = K / S
    return 1 + ratio - math.sqrt(ratio * (ratio + 2))


def over(ground: float, KX: float, SX: float) -> float:
    """Reflectance of a film over a ground, hyperbolic form and its limits [Kubelka1948]."""
    if SX == 0:
        return ground * math.exp(-2 * KX)
    if KX == 0:
        return (ground + (1 - ground) * SX) / (1 + (1 - ground) * SX)
    a = 1 + KX / SX
    b = math.sqrt(KX / SX * (KX / SX + 2))
    coth = 1 / math.tanh(b * SX)
    return (1 - ground * (a - b * coth)) / (a - ground + b * coth)


def sprayed(
    ground: float, K: float, S: float, spray: Spray, tone: float
) -> list[tuple[float, float]]:
    """Share and reflectance of spots with 0, 1, 2, ... droplets; a smooth film of very many."""
    if spray.peak_um / spray.droplet_um > MOST_DROPLETS:
        return [(1.0, over(ground, tone * spray.peak_um * K, tone * spray.peak_um * S))]
    mean = tone * spray.peak_um / spray.droplet_um
    if mean == 0:
        return [(1.0, ground)]
    most = int(mean + 12 * math.sqrt(mean) + 30)
    spots = []
    for k in range(most + 1):
        share = math.exp(k * math.log(mean) - mean - math.lgamma(k + 1))
        film = k * spray.droplet_um
        spots.append((share, over(ground, film * K, film * S)))
    return spots
