"""The warden's reed cloak, the lantern's panes, and the ground that all stands on."""

import numpy as np

from schemeforge.stand_in.fields import (
    Floats,
    Spot,
    away,
    chain,
    drum,
    ellipsoid,
    melted,
    step,
)
from schemeforge.stand_in.part import Part, Slot
from schemeforge.stand_in.patterns import Detail, hashed, noise, reeds, ripples, wound
from schemeforge.stand_in.warden_plates import LAMP, lamp_form

F = np.float32


def parts() -> tuple[Part, ...]:
    """Cloak, belt, lantern, ground and rim."""
    return (
        Part("cloak", Slot.CLOAK, (1.4, 16.6, -6.4), 18.0, _cloak, _on_cloak, 0.7),
        Part("collar", Slot.CLOAK, (0.0, 28.0, -0.4), 8.6, _collar, _on_collar, 0.75),
        Part("belt", Slot.CLOAK, (0.0, 15.6, 1.1), 8.0, _belt, _on_belt, 0.7),
        Part("lantern", Slot.LANTERN, LAMP, 4.2, _panes, _on_panes, 0.6),
        Part("ground", Slot.BASE, (0.0, 3.4, 0.0), 16.2, _ground, _on_ground, 0.75),
        Part("reed stubs", Slot.BASE, (9.4, 9.8, -8.1), 8.4, _stubs, _on_stubs, 0.5),
        Part("stones", Slot.BASE, (-0.4, 3.5, 2.4), 15.8, _stones, _on_stones, 0.6),
        Part("rim", Slot.RIM, (0.0, 1.7, 0.0), 16.6, _rim, _on_rim, 0.35),
    )


# Cloak: a sheet around the back whose folds deepen towards the hem.
_TOP, _HEM = 28.6, 5.6


def _around(P: Floats) -> tuple[Floats, Floats, Floats]:
    """Angle from straight behind, distance from the cloak's upright, and collar to hem."""
    down = np.clip((F(_TOP) - P[1]) / F(_TOP - _HEM), -0.1, 1.2)
    x = P[0] - F(1.3) * down * down
    z = P[2] + F(0.9) + F(1.7) * down * down
    return np.arctan2(x, -z), np.hypot(x, z), down


def _spread(angle: Floats, down: Floats) -> Floats:
    """Distance of the sheet's middle from the upright."""
    shoulder = 7.3 * (1.0 - np.exp(-((np.maximum(down, 0.0) + 0.05) / 0.075)))
    drape = 1.0 + 2.2 * down + 0.9 * down**3
    k = 4.5 * angle + 0.5 * np.sin(2.0 * angle) + 0.35 * np.sin(5.0 * down)
    ridge = np.abs(np.cos(k)) ** 0.85 - 0.55
    second = 0.35 * np.cos(13.0 * angle + 2.0 * down)
    deep = 0.12 + 1.75 * np.clip(down, 0.0, 1.2) ** 1.35
    return np.asarray(shoulder + drape + deep * (ridge + second * 0.35) - 0.9)


def _cloak_pattern(angle: Floats, down: Floats) -> Detail:
    return reeds(angle * F(10.8), down, 4.6)


def _cloak(P: Floats) -> Floats:
    angle, ring, down = _around(P)
    made = _cloak_pattern(angle, down)
    sheet = np.abs(ring - _spread(angle, down)) - 0.32 - F(0.42) * made.height
    reed = hashed(np.floor(angle * F(10.8)))
    rag = 1.0 * (reed - 0.5) + 0.45 * np.sin(7.0 * angle)
    half = 1.72 + 0.1 * np.sin(6.0 * down) - 0.12 * down
    side = (np.abs(angle) - half) * ring
    edge = np.maximum(np.maximum(P[1] - _TOP, F(_HEM) + rag.astype(F) - P[1]), side)
    return np.asarray(0.72 * np.maximum(sheet, edge))


def _on_cloak(P: Floats) -> Detail:
    angle, ring, down = _around(P)
    made = _cloak_pattern(angle, down)
    k = 4.5 * angle + 0.5 * np.sin(2.0 * angle) + 0.35 * np.sin(5.0 * down)
    fold = np.abs(np.cos(k)) ** 0.85
    deep = np.clip(1.4 * down, 0.0, 1.0)
    inside = ring < _spread(angle, down)
    height = (
        made.height * (1.0 - 0.5 * deep) + 0.5 * deep * np.where(inside, 1.0 - fold, fold) ** 1.8
    )
    return Detail(np.clip(height, 0.0, 1.0), made.along)


# Collar: a short thatch over the shoulders.
def _thatch(P: Floats) -> tuple[Floats, Detail]:
    angle = np.arctan2(P[0], P[2] + F(0.6))
    ring = np.hypot(P[0], (P[2] + F(0.6)) * F(1.08))
    down = (F(30.6) - P[1]) / F(4.2)
    made = reeds(angle * F(7.6), down * 0.5 + 0.02, 4.0)
    wide = 2.7 + 4.3 * np.clip(down, 0.0, 1.1) ** 0.85
    rag = 0.3 * (hashed(np.floor(angle * F(7.6))) - 0.5)
    slab = (ring - wide) * 0.72
    sheet = np.abs(slab) - 0.3 - F(0.34) * made.height
    edge = np.maximum(F(26.9) + F(2.0) * rag + F(0.05) * P[0] ** 2 * 0.35 - P[1], P[1] - 30.5)
    return np.asarray(0.85 * np.maximum(sheet, edge)), Detail(made.height, np.clip(down, 0, 1))


def _collar(P: Floats) -> Floats:
    return _thatch(P)[0]


def _on_collar(P: Floats) -> Detail:
    made = _thatch(P)[1]
    return Detail(made.height, 0.22 * made.along)


def _belt_cord(P: Floats) -> Floats:
    angle = np.arctan2(P[0], P[2])
    return wound(angle * F(28.0 / (2 * np.pi)), P[1] * F(0.5))


def _belt(P: Floats) -> Floats:
    ring = np.hypot(P[0] * F(0.97), P[2] * F(1.1) + F(0.1)) - 5.5
    cords = np.minimum(np.hypot(ring, P[1] - 18.5), np.hypot(ring, P[1] - 17.8))
    knot = ellipsoid(P, (0.6, 18.1, 5.4), (1.1, 0.9, 0.8))
    ends, _ = chain(
        P, ((0.4, 17.9, 5.8), (0.9, 15.4, 6.7), (0.7, 12.9, 7.3)), (0.4, 0.36, 0.5), 0.2
    )
    other, _ = chain(
        P, ((0.9, 17.9, 5.8), (2.0, 15.9, 6.6), (2.4, 14.1, 7.0)), (0.4, 0.34, 0.46), 0.2
    )
    whole = np.minimum(np.minimum(cords - 0.36, knot), np.minimum(ends, other))
    return np.asarray(0.9 * (whole - F(0.14) * _belt_cord(P)))


def _on_belt(P: Floats) -> Detail:
    down = np.clip((18.6 - P[1]) / 6.0, 0.0, 1.0)
    return Detail(0.2 + 0.7 * _belt_cord(P), (0.35 + 0.4 * down).astype(F))


# Lantern: thin horn between ribs, cloudy in streaks.
def _streaks(P: Floats) -> Floats:
    Q = away(P, LAMP)
    return noise(3.2 * Q[0], 0.8 * Q[1], 3.2 * Q[2])


def _panes(P: Floats) -> Floats:
    return np.asarray(lamp_form(P, 0.0) - F(0.06) * _streaks(P))


def _on_panes(P: Floats) -> Detail:
    Q = away(P, LAMP)
    angle = np.arctan2(Q[0], Q[2])
    off = np.abs(angle - np.pi / 3 * np.round(angle / (np.pi / 3))) / (np.pi / 6)
    middle = 1.0 - 0.75 * off**2.2 - 0.35 * np.clip(np.abs(Q[1]) / 2.4, 0, 1) ** 4
    height = np.clip(0.72 * middle + 0.28 * _streaks(P), 0.0, 1.0)
    return Detail(height.astype(F), np.clip((Q[1] + 2.5) / 5.0, 0.0, 1.0))


# Ground: rippled mud on a round base, with stones and broken reeds.
def _mud(P: Floats) -> Floats:
    return ripples(P[0], P[2])


def _ground(P: Floats) -> Floats:
    out = np.hypot(P[0], P[2])
    slope = 0.22 * np.exp(-(((out - 6.0) / 7.0) ** 2)) - 1.2 * step(13.4, 16.4, out)
    top = F(3.25) + slope.astype(F) + F(0.62) * _mud(P)
    return np.asarray(0.8 * np.maximum(np.maximum(P[1] - top, out - 15.45), 2.0 - P[1]))


def _on_ground(P: Floats) -> Detail:
    out = np.hypot(P[0], P[2])
    return Detail(_mud(P), np.clip(out / 15.4, 0.0, 1.0))


_STUBS: tuple[tuple[Spot, Spot, float], ...] = (
    ((8.2, 3.0, -7.0), (9.4, 14.6, -8.4), 0.5),
    ((9.6, 3.0, -6.0), (12.4, 11.0, -6.6), 0.46),
    ((7.2, 3.0, -8.2), (6.6, 10.0, -10.0), 0.44),
    ((10.4, 3.0, -7.4), (11.6, 8.2, -9.0), 0.42),
    ((8.8, 3.0, -8.4), (9.8, 17.0, -10.6), 0.36),
)


def _stub(P: Floats) -> tuple[Floats, Floats]:
    far = np.full(P.shape[1], 1e3, F)
    along = np.zeros(P.shape[1], F)
    for a, b, wide in _STUBS:
        middle = tuple(0.5 * (p + q) for p, q in zip(a, b, strict=True))
        bent = (middle[0] - 0.25, middle[1] + 0.2, middle[2])
        d, t = chain(P, (a, bent, b), (wide, 0.85 * wide, 0.5 * wide), 0.2)
        d = d - 0.12 * np.exp(-(((t - 0.55) / 0.03) ** 2))
        along = np.where(d < far, t, along)
        far = np.minimum(far, d)
    return far, along


def _stubs(P: Floats) -> Floats:
    return _stub(P)[0]


def _on_stubs(P: Floats) -> Detail:
    _, t = _stub(P)
    return Detail(np.clip(0.4 + 0.5 * t, 0, 1), np.clip(0.4 + 0.6 * t, 0, 1))


_STONES: tuple[tuple[Spot, Spot], ...] = (
    ((10.4, 3.6, 4.6), (2.1, 1.5, 1.6)),
    ((8.2, 3.5, 7.6), (1.2, 0.9, 1.3)),
    ((-9.4, 3.6, -6.4), (2.3, 1.5, 1.8)),
    ((-12.2, 3.3, -2.2), (1.1, 0.8, 1.2)),
    ((1.4, 3.5, 12.0), (1.4, 0.9, 1.1)),
)


def _stones(P: Floats) -> Floats:
    d: Floats | None = None
    for middle, half in _STONES:
        stone = ellipsoid(P, middle, half)
        d = stone if d is None else np.minimum(d, stone)
    assert d is not None  # noqa: S101 - there are stones
    rough = noise(1.1 * P[0], 1.3 * P[1], 1.1 * P[2]) + 0.3 * noise(3 * P[0], 3 * P[1], 3 * P[2])
    return np.asarray(0.85 * melted(d - F(0.34) * rough, d + 0.1, 0.1))


def _on_stones(P: Floats) -> Detail:
    rough = noise(3 * P[0], 3 * P[1], 3 * P[2])
    out = np.hypot(P[0], P[2])
    return Detail(np.clip(0.35 + 0.5 * rough, 0, 1), np.clip(out / 15.4, 0.0, 1.0))


def _rim(P: Floats) -> Floats:
    out = np.hypot(P[0], P[2])
    slim = P[1] * F(0.12)
    disc = drum(P, (0.0, 1.65, 0.0), 16.0, 1.65, 0.32)
    cut = out - (F(16.0) - slim)
    return np.asarray(np.maximum(disc, 0.99 * cut))


def _on_rim(P: Floats) -> Detail:
    tall = np.clip(P[1] / 3.3, 0.0, 1.0)
    return Detail(np.clip(0.4 + 0.55 * step(0.82, 0.98, tall), 0, 1), tall)
