"""The heron-headed warden's own body: head with bill and crest, neck, trunk, arms and legs."""

import numpy as np

from schemeforge.stand_in.fields import (
    Floats,
    Spot,
    away,
    axes,
    ball,
    chain,
    cone,
    ellipsoid,
    length,
    melted,
    step,
    turned,
)
from schemeforge.stand_in.part import Part, Slot
from schemeforge.stand_in.patterns import Detail, feathers, noise

F = np.float32
HEAD: Spot = (1.2, 40.0, 4.0)
GAZE = axes((0.95, -0.2, 0.2))  # a little down and over the shoulder, so that the bill shows
LARGER = 1.14  # heads of miniatures are large for their bodies
NECK: tuple[Spot, ...] = (
    (0.0, 27.5, -0.6),
    (-1.1, 31.0, 1.6),
    (-1.5, 34.2, 1.9),
    (-0.9, 37.3, 1.4),
    (0.6, 39.5, 3.2),
)
HAND: Spot = (-9.6, 22.6, 6.6)


def parts() -> tuple[Part, ...]:
    """All parts of the body."""
    return (
        Part("neck", Slot.HIDE, (-0.1, 32.5, 0.4), 10.0, _neck, _on_neck, 0.7),
        Part("head", Slot.HIDE, HEAD, 4.8, _head, _on_head, 0.5),
        Part("bill", Slot.HIDE, _out(7.2), 7.4, _bill, _on_bill, 0.55),
        Part("crest", Slot.HIDE, _out(-5.4, 1.2), 9.4, _crest, _on_crest, 0.6),
        Part("trunk", Slot.HIDE, (0.0, 20.5, -0.4), 10.5, _trunk, _on_trunk, 0.75),
        Part("left arm", Slot.HIDE, (7.1, 23.6, 2.8), 8.2, _left_arm, _on_left_arm, 0.75),
        Part("right arm", Slot.HIDE, (-6.9, 25.0, 2.8), 7.2, _right_arm, _on_right_arm, 0.75),
        Part("hands", Slot.HIDE, (-2.8, 20.5, 7.2), 9.9, _hands, _on_hands, 0.3),
        Part("thighs", Slot.HIDE, (0.1, 14.4, 0.6), 7.9, _thighs, _on_thighs, 0.75),
        Part("shanks", Slot.HIDE, (0.3, 6.6, 2.2), 9.6, _shanks, _on_shanks, 0.5),
    )


def _out(ahead: float, up: float = 0.0) -> Spot:
    """A spot so far before the head's middle, along the gaze."""
    x, y, z = (
        h + LARGER * (ahead * g + up * u) for h, g, u in zip(HEAD, GAZE[2], GAZE[1], strict=True)
    )
    return (float(x), float(y), float(z))


def _looking(P: Floats) -> Floats:
    return turned(away(P, HEAD), GAZE) * F(1.0 / LARGER)


# Neck: feather rows around a bent tube.
def _neck_tube(P: Floats) -> tuple[Floats, Floats]:
    return chain(P, NECK, (3.5, 2.35, 1.75, 1.5, 1.65), 1.6)


def _neck_pattern(P: Floats, t: Floats) -> Detail:
    bent = np.interp(t, (0.0, 0.33, 0.58, 0.8, 1.0), [s[0] for s in NECK]).astype(F)
    deep = np.interp(t, (0.0, 0.33, 0.58, 0.8, 1.0), [s[2] for s in NECK]).astype(F)
    angle = np.arctan2(P[0] - bent, P[2] - deep)
    return feathers(angle * F(9.0 / (2 * np.pi)), (F(40.0) - P[1]) * F(0.72))


def _neck(P: Floats) -> Floats:
    d, t = _neck_tube(P)
    return np.asarray(d - F(0.3) * _neck_pattern(P, t).height)


def _on_neck(P: Floats) -> Detail:
    _, t = _neck_tube(P)
    made = _neck_pattern(P, t)
    return Detail(made.height, np.clip(0.12 + 0.5 * t + 0.22 * made.along, 0.0, 1.0))


# Head: skull, brow and eye.
def _head(P: Floats) -> Floats:
    Q = _looking(P)
    skull = ellipsoid(Q, (0.0, 0.1, -0.3), (1.45, 1.5, 2.3))
    face = ellipsoid(Q, (0.0, -0.3, 1.9), (0.95, 0.95, 1.7))
    d = melted(skull, face, 1.2)
    side = np.stack([np.abs(Q[0]), Q[1], Q[2]])
    brow, _ = cone(side, (0.75, 1.02, 2.0), (1.18, 0.98, -1.0), (0.24, 0.34))
    d = melted(d, brow, 0.35)
    socket = ball(side, (1.42, 0.28, 0.75), 0.62)
    d = -melted(-d, socket, 0.25)
    eye = ball(side, (1.02, 0.3, 0.78), 0.5)
    fine = 0.07 * np.sin(7.0 * Q[2] + 2.0 * np.sin(3.0 * Q[1])) * step(0.6, -0.6, Q[2])
    return np.asarray(LARGER * np.minimum(d - fine, eye))


def _on_head(P: Floats) -> Detail:
    Q = _looking(P)
    side = np.stack([np.abs(Q[0]), Q[1], Q[2]])
    eye = ball(side, (1.02, 0.3, 0.78), 0.5)
    brow = step(0.45, 0.15, np.abs(Q[1] - 1.1))
    height = np.clip(0.45 + 0.25 * brow + 0.1 * np.sin(7.0 * Q[2]), 0.0, 1.0)
    pupil = ball(side, (1.56, 0.34, 0.92), 0.27)
    height = np.where(eye < 0.05, np.where(pupil < 0.0, 0.02, 0.95), height)
    back = np.clip(0.55 - 0.07 * Q[2] + 0.16 * step(0.2, 1.2, Q[1]), 0.0, 1.0)
    return Detail(height, np.where(eye < 0.05, F(0.05), back))


# Bill: two long halves with a seam, ridged on top.
def _bill(P: Floats) -> Floats:
    Q = _looking(P)
    flat = np.stack([Q[0] * F(1.12), Q[1], Q[2]])
    upper, _ = cone(flat, (0.0, 0.05, 2.4), (0.0, -0.34, 12.4), (0.92, 0.13))
    lower, _ = cone(flat, (0.0, -0.66, 2.2), (0.0, -0.4, 11.2), (0.62, 0.12))
    seam = 0.1 * np.exp(-(((Q[1] + 0.42 + 0.012 * Q[2]) / 0.13) ** 2)) * step(10.5, 8.0, Q[2])
    nostril, _ = cone(
        np.stack([np.abs(Q[0]), Q[1], Q[2]]), (0.78, 0.3, 3.4), (0.62, 0.16, 5.0), (0.14, 0.1)
    )
    return np.asarray(LARGER * np.maximum(melted(upper, lower, 0.12) + seam, -nostril))


def _on_bill(P: Floats) -> Detail:
    Q = _looking(P)
    seam = np.exp(-(((Q[1] + 0.42 + 0.012 * Q[2]) / 0.16) ** 2))
    t = np.clip((Q[2] - 2.0) / 10.3, 0.0, 1.0)
    ridge = step(-0.1, 0.75, Q[1] + 0.06 * (Q[2] - 2.0))
    return Detail(np.clip(0.42 + 0.45 * ridge - 0.45 * seam + 0.1 * t, 0.0, 1.0), 0.55 + 0.45 * t)


# Crest: plumes swept back from the crown.
_PLUMES = (
    ((0.0, 1.2, 1.2), (0.0, 2.55, -1.6), (0.0, 3.0, -5.0), (0.0, 2.5, -8.6), (0.0, 1.0, -12.2)),
    ((0.4, 1.1, 0.4), (0.8, 1.9, -2.0), (1.1, 1.9, -4.8), (1.3, 1.0, -7.6), (1.4, -0.7, -10.2)),
    (
        (-0.4, 1.1, 0.4),
        (-0.8, 1.9, -2.0),
        (-1.1, 1.9, -4.8),
        (-1.3, 1.0, -7.6),
        (-1.4, -0.7, -10.2),
    ),
    ((0.0, 0.6, -1.2), (0.05, 0.9, -2.8), (0.1, 0.6, -4.6), (0.2, -0.5, -6.4), (0.3, -2.2, -8.0)),
)
_PLUME_RADII = (0.42, 0.62, 0.66, 0.46, 0.06)


def _plume(Q: Floats) -> tuple[Floats, Floats]:
    far = t = None
    blade = np.stack([Q[0] * F(1.7), Q[1], Q[2]])  # narrow seen from above, broad from the side
    for spots in _PLUMES:
        narrow = tuple((1.7 * x, y, z) for x, y, z in spots)
        d, along = chain(blade, narrow, _PLUME_RADII, 0.9)
        if far is None or t is None:
            far, t = d, along
            continue
        t = np.where(d < far, along, t)
        far = np.minimum(far, d)
    assert far is not None  # noqa: S101 - there are plumes
    assert t is not None  # noqa: S101
    return far, t


def _barbs(Q: Floats, t: Floats) -> Floats:
    return np.asarray(0.5 + 0.5 * np.cos(8.5 * (Q[2] + 0.55 * Q[1])) * step(0.0, 0.2, t))


def _crest(P: Floats) -> Floats:
    Q = _looking(P)
    d, t = _plume(Q)
    return np.asarray(0.6 * LARGER * (d - F(0.05) * _barbs(Q, t)))  # blades are 1.7 times nearer


def _on_crest(P: Floats) -> Detail:
    Q = _looking(P)
    _, t = _plume(Q)
    return Detail(np.clip(0.2 + 0.45 * _barbs(Q, t) + 0.35 * t, 0.0, 1.0), 0.4 + 0.6 * t)


# Trunk: a barrel of feathers, mostly under plates and cloak.
def trunk_form(P: Floats) -> Floats:
    """The trunk without feathers, on which plates lie."""
    breast = ellipsoid(P, (0.0, 23.6, 0.0), (5.6, 6.0, 4.7))
    belly = ellipsoid(P, (0.0, 17.2, 0.2), (4.9, 4.6, 4.2))
    return melted(breast, belly, 2.5)


def _trunk_pattern(P: Floats) -> Detail:
    angle = np.arctan2(P[0], P[2])
    return feathers(angle * F(17.0 / (2 * np.pi)), (F(30.0) - P[1]) * F(0.62))


def _trunk(P: Floats) -> Floats:
    return np.asarray(trunk_form(P) - F(0.42) * _trunk_pattern(P).height)


def _on_trunk(P: Floats) -> Detail:
    made = _trunk_pattern(P)
    down = np.clip((29.0 - P[1]) / 17.0, 0.0, 1.0)
    return Detail(made.height, np.clip(0.05 + 0.45 * down + 0.3 * made.along, 0.0, 1.0))


# Arms: the right one holds the staff, the left one rests on the belt.
_RIGHT: tuple[Spot, ...] = ((-5.4, 27.0, 0.2), (-8.4, 22.8, 2.0), HAND)
_LEFT: tuple[Spot, ...] = ((5.4, 27.0, 0.2), (9.0, 21.4, 1.4), (5.4, 19.0, 6.6))
_ARM_RADII = (2.3, 1.8, 1.15)


def _arm(P: Floats, spots: tuple[Spot, ...]) -> tuple[Floats, Detail]:
    d, t = chain(P, spots, _ARM_RADII, 1.2)
    elbow = np.array(spots[1])
    angle = np.arctan2(P[2] - elbow[2], (P[0] - elbow[0]) * np.sign(elbow[0]) + F(3.0))
    made = feathers(angle.astype(F) * F(3.4), t * F(8.5))
    cuff = step(0.86, 0.93, t)
    made = Detail(made.height * (1 - cuff) + 0.35 * cuff, made.along)
    return np.asarray(d - F(0.38) * made.height), Detail(
        made.height, np.clip(0.15 + 0.5 * t + 0.25 * made.along, 0.0, 1.0)
    )


def _right_arm(P: Floats) -> Floats:
    return _arm(P, _RIGHT)[0]


def _on_right_arm(P: Floats) -> Detail:
    return _arm(P, _RIGHT)[1]


def _left_arm(P: Floats) -> Floats:
    return _arm(P, _LEFT)[0]


def _on_left_arm(P: Floats) -> Detail:
    return _arm(P, _LEFT)[1]


def _fist(P: Floats, middle: Spot, ahead: Spot) -> Floats:
    Q = turned(away(P, middle), axes(ahead))
    palm = ellipsoid(Q, (0.0, 0.0, -0.2), (1.05, 1.25, 1.1))
    d = palm
    for n in range(4):
        y = 1.05 - 0.7 * n
        finger, _ = cone(Q, (0.75, y, -0.2), (-0.55, y - 0.1, 1.05), (0.34, 0.36))
        d = melted(d, finger, 0.18)
    thumb, _ = cone(Q, (-0.85, 0.5, -0.4), (-0.25, 1.25, 0.95), (0.36, 0.28))
    return melted(d, thumb, 0.2)


_LEFT_HAND: Spot = (4.7, 18.7, 7.4)


def _hands(P: Floats) -> Floats:
    right = _fist(P, (-10.1, 22.5, 7.3), (-0.35, 0.05, 1.0))
    return np.minimum(right, _fist(P, _LEFT_HAND, (-0.5, -0.2, 1.0)))


def _on_hands(P: Floats) -> Detail:
    height = 0.35 + 0.5 * noise(2.4 * P[0], 2.4 * P[1], 2.4 * P[2])
    return Detail(np.clip(height, 0.0, 1.0), np.full(P.shape[1], 0.62, F))


# Legs: feathered thighs, scaled shanks, long toes on the mud.
_HIPS: tuple[Spot, Spot] = ((-2.5, 17.0, 0.2), (2.6, 17.0, 0.4))
_KNEES: tuple[Spot, Spot] = ((-3.5, 10.2, 1.6), (3.9, 10.6, 2.4))
_HEELS: tuple[Spot, Spot] = ((-3.7, 4.6, 0.4), (4.4, 4.6, 1.6))
_AHEAD = (-8.0, 24.0)  # degrees outwards that the feet point


def _thigh(P: Floats) -> tuple[Floats, Floats, Floats]:
    a, s = cone(P, _HIPS[0], _KNEES[0], (2.9, 1.35))
    b, t = cone(P, _HIPS[1], _KNEES[1], (2.9, 1.35))
    left = b < a
    middle_x = np.where(left, 2.6 + 1.3 * t, -2.5 - 1.0 * s)
    return np.minimum(a, b), np.where(left, t, s), (P[0] - middle_x).astype(F)


def _thigh_pattern(P: Floats, t: Floats, x: Floats) -> Detail:
    return feathers(np.arctan2(x, P[2] - F(1.0)) * F(9.0 / (2 * np.pi)), t * F(6.5))


def _thighs(P: Floats) -> Floats:
    d, t, x = _thigh(P)
    return np.asarray(d - F(0.36) * _thigh_pattern(P, t, x).height)


def _on_thighs(P: Floats) -> Detail:
    _, t, x = _thigh(P)
    made = _thigh_pattern(P, t, x)
    return Detail(made.height, np.clip(0.25 + 0.4 * t + 0.3 * made.along, 0.0, 1.0))


def _shanks(P: Floats) -> Floats:
    d: Floats | None = None
    for knee, heel, ahead in zip(_KNEES, _HEELS, _AHEAD, strict=True):
        shank, t = cone(P, knee, heel, (0.98, 0.68))
        shank = shank - F(0.1) * np.cos(F(34.0) * t)
        leg = melted(shank, ball(P, knee, 1.1), 0.4)
        for turn, reach in ((ahead - 32, 4.2), (ahead, 5.0), (ahead + 32, 4.2), (ahead + 180, 2.4)):
            angle = np.radians(turn)
            tip = (heel[0] + reach * np.sin(angle), 3.95, heel[2] + reach * np.cos(angle))
            toe, s = cone(P, (heel[0], 4.3, heel[2]), tip, (0.66, 0.3))
            leg = melted(leg, toe - F(0.07) * np.cos(F(20.0) * s), 0.3)
        d = leg if d is None else np.minimum(d, leg)
    assert d is not None  # noqa: S101 - there are two
    return d


def _on_shanks(P: Floats) -> Detail:
    down = np.clip((10.8 - P[1]) / 7.0, 0.0, 1.0)
    bands = 0.5 + 0.35 * np.cos(F(34.0 / 6.0) * (P[1] - 4.6) + 0.6 * np.sin(2.0 * P[0]))
    out = np.clip(length(away(P, (0.3, 4.0, 1.0))) / 10.0, 0.0, 1.0)
    return Detail(np.clip(bands, 0.0, 1.0), np.clip(0.5 + 0.35 * down + 0.15 * out, 0.0, 1.0))
