"""The warden's lacquered plates: breast, shoulders and skirt; with staff and lantern frame."""

import numpy as np

from schemeforge.stand_in.fields import Floats, Spot, away, ball, chain, cone, step
from schemeforge.stand_in.part import Part, Slot
from schemeforge.stand_in.patterns import Detail, lamellae, wound
from schemeforge.stand_in.warden_body import trunk_form

F = np.float32
LAMP: Spot = (-14.3, 38.9, 7.7)
_STAFF: tuple[Spot, ...] = (
    (-10.5, 3.7, 8.3),
    (-10.1, 15.0, 7.5),
    (-10.1, 26.0, 7.2),
    (-9.9, 41.0, 6.7),
    (-10.2, 44.0, 6.8),
    (-11.5, 46.2, 7.1),
    (-13.2, 46.4, 7.5),
    (-14.3, 45.0, 7.7),
)
_UPRIGHT = tuple(zip(*_STAFF[:5], strict=True))  # x, y and z up to where it bends over
_THICK = (0.62, 0.6, 0.58, 0.55, 0.52, 0.46, 0.4, 0.3)


def parts() -> tuple[Part, ...]:
    """All parts made of plate and lacquered wood."""
    return (
        Part("breastplate", Slot.PLATES, (0.0, 22.6, 2.2), 8.2, _breast, _on_breast, 0.8),
        Part("shoulder plates", Slot.PLATES, (0.0, 25.2, 0.2), 13.2, _lames, _on_lames, 0.75),
        Part("skirt plates", Slot.PLATES, (0.0, 14.0, 1.6), 9.6, _skirt, _on_skirt, 0.8),
        Part("staff", Slot.PLATES, (-10.8, 25.0, 7.4), 22.6, _staff, _on_staff, 0.6),
        Part("lantern frame", Slot.PLATES, (-14.3, 39.6, 7.7), 5.8, _frame, _on_frame, 0.4),
    )


def _breast_pattern(P: Floats) -> Detail:
    angle = np.arctan2(P[0], P[2] + F(1.0))
    return lamellae(angle * F(2.7), (F(27.2) - P[1] - F(0.05) * P[0] ** 2) * F(0.56))


def _breast(P: Floats) -> Floats:
    shell = trunk_form(P) - F(0.55) - F(0.34) * _breast_pattern(P).height
    edge = np.maximum(P[1] - 27.6 + F(0.09) * P[0] ** 2 - 1.4, 17.9 - P[1])
    return np.asarray(np.maximum(np.maximum(shell, edge), -0.4 - P[2]))


def _on_breast(P: Floats) -> Detail:
    return _breast_pattern(P)


# Shoulders: four lames a side, each lapping over the next.
_LAMES = 4


def _lame(Q: Floats, n: int) -> tuple[Floats, Detail]:
    middle = (6.0 + 0.62 * n, 26.6 - 1.75 * n, 0.3)
    half = np.array((3.5 + 0.12 * n, 3.0 - 0.1 * n, 4.1 + 0.2 * n), F)[:, np.newaxis]
    R = away(Q, middle)
    outer = np.sqrt(np.sum((R / half) ** 2, axis=0))
    slope = np.sqrt(np.sum((R / (half * half)) ** 2, axis=0))
    d = outer * (outer - 1.0) / np.maximum(slope, 1e-6)
    top, foot = 2.9 - 0.1 * n, -0.55
    t = np.clip((top - R[1]) / (top - foot), 0.0, 1.0)
    lip = np.exp(-(((t - 0.94) / 0.05) ** 2))
    across = np.arctan2(R[2], R[0] + F(2.0)) * F(5.2)
    lace = np.exp(-(((across - np.round(across)) / 0.2) ** 2) - ((t - 0.74) / 0.07) ** 2)
    ribs = 0.5 + 0.5 * np.cos(2 * np.pi * across)
    height = np.clip(0.2 + 0.4 * t + 0.32 * lip + 0.3 * lace - 0.12 * ribs * (1 - lip), 0, 1)
    d = np.maximum(d - F(0.22) * (lip + 0.8 * lace), foot - R[1])
    return np.asarray(d), Detail(np.asarray(height), np.asarray(t))


def _shoulders(P: Floats) -> tuple[Floats, Detail]:
    Q = np.stack([np.abs(P[0]), P[1], P[2]])
    far, made = _lame(Q, 0)
    for n in range(1, _LAMES):
        d, other = _lame(Q, n)
        nearer = d < far
        far = np.minimum(far, d)
        made = Detail(*(np.where(nearer, b, a) for a, b in zip(made, other, strict=True)))
    return far, made


def _lames(P: Floats) -> Floats:
    return _shoulders(P)[0]


def _on_lames(P: Floats) -> Detail:
    return _shoulders(P)[1]


# Skirt: panels that hang from the belt around the front.
_PANELS = 5
_TURN = 0.66  # radians from one panel to the next


def _panels(P: Floats) -> tuple[Floats, Detail]:
    angle = np.arctan2(P[0], P[2] * F(1.1) + F(0.3))
    ring = np.hypot(P[0], P[2] * F(1.1) + F(0.3))
    panel = np.clip(np.round(angle / _TURN), -(_PANELS // 2), _PANELS // 2)
    off = angle - panel * _TURN
    down = F(18.2) - P[1]
    swing = 5.2 + 0.3 * down + 0.012 * down * down
    made = lamellae(off * F(4.55) + F(0.5), down * F(0.6))
    sheet = np.abs(ring - swing) - 0.3 - F(0.3) * made.height
    side = (np.abs(off) - 0.285) * ring
    long = 7.4 - 0.35 * np.abs(panel) - 0.5 * (off / 0.29) ** 2
    edge = np.maximum(side, np.maximum(down - long, -down))
    return np.asarray(0.9 * np.maximum(sheet, edge)), made


def _skirt(P: Floats) -> Floats:
    return _panels(P)[0]


def _on_skirt(P: Floats) -> Detail:
    return _panels(P)[1]


def _wood(P: Floats, t: Floats) -> Floats:
    x, z = (np.interp(P[1], _UPRIGHT[1], _UPRIGHT[n]).astype(F) for n in (0, 2))
    turn = np.arctan2(P[2] - z, P[0] - x) / F(2 * np.pi)
    grip = step(19.0, 19.4, P[1]) * step(26.4, 26.0, P[1])
    cord = wound(P[1] * F(1.3), turn)
    grain = 0.5 + 0.3 * np.sin(6.0 * turn * 2 * np.pi + 9.0 * np.sin(7.0 * t))
    grain = 0.5 + (grain - 0.5) * step(43.5, 41.0, P[1])  # none where it bends over
    knots = np.exp(-(((P[1] - 32.0) / 0.5) ** 2)) + np.exp(-(((P[1] - 13.5) / 0.5) ** 2))
    return np.asarray(np.clip(grip * (0.5 + 0.5 * cord) + (1 - grip) * (0.4 * grain + knots), 0, 1))


def _staff(P: Floats) -> Floats:
    d, t = chain(P, _STAFF, _THICK, 0.3)
    ring = ball(P, (-14.3, 44.75, 7.7), 0.42)
    return np.asarray(np.minimum(d - F(0.2) * _wood(P, t), ring))


def _on_staff(P: Floats) -> Detail:
    _, t = chain(P, _STAFF, _THICK, 0.3)
    return Detail(0.25 + 0.6 * _wood(P, t), t)


# Lantern frame: roof, rings and six ribs.
def lamp_form(P: Floats, grow: float) -> Floats:
    """The lantern's barrel: six sides that bulge a little, so much larger all around."""
    Q = away(P, LAMP)
    angle = np.arctan2(Q[0], Q[2])
    turn = np.pi / 3
    off = np.abs(angle - turn * np.round(angle / turn))
    across = np.hypot(Q[0], Q[2]) * np.cos(off)
    wide = 2.15 - 0.035 * Q[1] ** 2 + grow
    return np.asarray(0.95 * np.maximum(across - wide, np.abs(Q[1]) - (2.75 + grow)))


def _frame(P: Floats) -> Floats:
    Q = away(P, LAMP)
    angle = np.arctan2(Q[0], Q[2])
    turn = np.pi / 3
    off = angle - turn * (np.floor(angle / turn) + 0.5)
    ring = np.hypot(Q[0], Q[2])
    rib = np.hypot(ring * off, ring - (2.45 - 0.04 * Q[1] ** 2)) - 0.3
    rib = np.maximum(rib, np.abs(Q[1]) - 2.9)
    bands = np.maximum(lamp_form(P, 0.28), 2.3 - np.abs(Q[1]))
    roof, _ = cone(P, (LAMP[0], 41.9, LAMP[2]), (LAMP[0], 44.5, LAMP[2]), (2.5, 0.35))
    eaves = np.maximum(roof, 41.75 - P[1])
    foot, _ = cone(P, (LAMP[0], 35.9, LAMP[2]), (LAMP[0], 34.6, LAMP[2]), (1.1, 0.3))
    whole = np.minimum(np.minimum(rib, bands), np.minimum(eaves, foot))
    return np.asarray(whole)


def _on_frame(P: Floats) -> Detail:
    tall = np.clip((P[1] - 34.2) / 10.6, 0.0, 1.0)
    eaves = np.exp(-(((P[1] - 41.9) / 0.3) ** 2))
    return Detail(np.clip(0.45 + 0.4 * eaves, 0, 1).astype(F), (1.0 - tall).astype(F))
