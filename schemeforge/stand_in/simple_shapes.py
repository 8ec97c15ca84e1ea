"""Simple stand-ins: one surface each, of the kinds that zones are made of."""

import numpy as np

from schemeforge.stand_in.fields import (
    Floats,
    Spot,
    ball,
    box,
    chain,
    drum,
    ellipsoid,
    melted,
    step,
)
from schemeforge.stand_in.part import Part, Slot
from schemeforge.stand_in.patterns import Detail, feathers, noise, ripples

F = np.float32


# A limb: an arm from shoulder to clawed hand, standing upright, feathered on its upper half.
_ARM: tuple[Spot, ...] = ((-3.0, 34.0, 0.0), (2.4, 20.5, 1.0), (-1.2, 7.0, 2.0), (-2.0, 3.5, 2.4))
_ARM_RADII = (5.0, 3.9, 2.5, 2.7)
_FINGERS: tuple[tuple[Spot, Spot, Spot], ...] = (
    ((-4.2, 3.6, 3.0), (-6.4, 0.0, 4.2), (-6.0, -4.2, 5.4)),
    ((-2.6, 2.6, 4.2), (-3.2, -1.8, 5.8), (-2.6, -6.0, 6.6)),
    ((-0.4, 2.8, 4.0), (0.6, -1.4, 5.4), (0.8, -5.4, 6.2)),
    ((0.4, 4.6, 1.6), (3.0, 1.8, 2.6), (3.6, -1.4, 3.6)),
)


def _limb_form(P: Floats) -> tuple[Floats, Floats]:
    arm, t = chain(P, _ARM, _ARM_RADII, 3.0)
    muscle = ellipsoid(P, (-2.2, 28.6, 1.8), (4.2, 6.2, 4.0))
    d = melted(arm, muscle, 2.0)
    for spots in _FINGERS:
        finger, _ = chain(P, spots, (1.25, 1.0, 0.22), 0.5)
        d = melted(d, finger, 0.8)
    return d, t


def _limb_pattern(P: Floats, t: Floats) -> Detail:
    middle = np.interp(P[1], (3.5, 7.0, 20.5, 34.0), (-2.0, -1.2, 2.4, -3.0)).astype(F)
    angle = np.arctan2(P[0] - middle, P[2] - F(1.0))
    rows = feathers(angle * F(12.0 / (2 * np.pi)), t * F(11.0))
    skin = 0.45 + 0.4 * noise(0.8 * P[0], 1.5 * P[1], 0.8 * P[2])
    bare = step(0.52, 0.62, t)
    return Detail(np.clip(rows.height * (1 - bare) + skin * bare, 0, 1), rows.along)


def _limb(P: Floats) -> Floats:
    d, t = _limb_form(P)
    depth = 0.5 - 0.25 * step(0.52, 0.62, t)
    return np.asarray(d - depth * _limb_pattern(P, t).height)


def _on_limb(P: Floats) -> Detail:
    made = _limb_pattern(P, _limb_form(P)[1])
    return Detail(made.height, np.clip((38.0 - P[1]) / 44.0, 0, 1))


# A ribbed plate: bent like a shoulder guard, with ribs and a rolled edge.
def _plate_ribs(P: Floats) -> Floats:
    across = P[0] * F(0.42)
    return np.asarray(0.5 + 0.5 * np.cos(2 * np.pi * across))


def _plate_height(P: Floats) -> Floats:
    border = np.maximum(np.abs(P[0]) - 10.4, np.abs(P[1] - 16.0) - 12.4)
    rolled = np.exp(-((border / 0.75) ** 2))
    inside = step(-0.8, -1.8, border)
    ribs = _plate_ribs(P) ** 1.5
    return np.asarray(np.clip(0.15 + 0.55 * ribs * inside + 0.85 * rolled, 0, 1))


def _ribbed(P: Floats) -> Floats:
    bow = 7.0 - 0.05 * P[0] ** 2 - 0.016 * (P[1] - F(16.0)) ** 2
    sheet = np.abs(P[2] - bow + F(4.0)) - 0.7 - F(0.85) * _plate_height(P)
    outline = box(
        np.stack([P[0], P[1], np.zeros_like(P[0])]), (0.0, 16.0, 0.0), (11.2, 13.2, 1.0), 1.0
    )
    return np.asarray(0.62 * np.maximum(sheet, outline))


def _on_ribbed(P: Floats) -> Detail:
    return Detail(_plate_height(P), np.clip((29.2 - P[1]) / 26.4, 0, 1))


# A flat shield: one smooth panel with a raised border and a boss.
def _shield_outline(P: Floats) -> Floats:
    x, y = np.abs(P[0]), P[1] - F(18.0)
    upper = np.maximum(x - 10.5, y - 11.0 - 0.06 * x)
    lower = np.hypot(x + 10.5, np.minimum(y + 1.0, 0.0)) - 21.0
    return np.asarray(np.maximum(upper, lower))


def _shield_height(P: Floats) -> Floats:
    out = _shield_outline(P)
    border = step(-1.5, -1.2, out)
    boss = np.hypot(P[0], P[1] - F(19.0))
    groove = np.exp(-(((boss - 3.9) / 0.3) ** 2))
    scratches = 0.06 * noise(0.7 * P[0], 0.7 * P[1], 0 * P[0])
    return np.asarray(
        np.clip(0.36 + 0.5 * border + 0.5 * step(3.6, 2.6, boss) - 0.32 * groove + scratches, 0, 1)
    )


def _shield(P: Floats) -> Floats:
    bow = 1.6 - 0.018 * P[0] ** 2
    boss = np.hypot(P[0], P[1] - F(19.0))
    dome = 1.5 * np.sqrt(np.clip(1.0 - (boss / 3.4) ** 2, 0, 1))
    raised = 0.9 * step(-1.5, -1.2, _shield_outline(P)) + dome
    sheet = np.maximum(P[2] - bow - raised, -P[2] + bow - 1.4)
    return np.asarray(0.6 * np.maximum(sheet, 0.95 * _shield_outline(P)))


def _on_shield(P: Floats) -> Detail:
    return Detail(_shield_height(P), np.clip((29.5 - P[1]) / 32.0, 0, 1))


# A cloak: a hanging cloth whose folds deepen from collar to hem.
def _cloth(P: Floats) -> tuple[Floats, Floats, Floats]:
    down = np.clip((F(34.0) - P[1]) / F(32.0), -0.05, 1.05)
    k = 0.62 * P[0] * (1.15 - 0.4 * down) + 0.5 * np.sin(3.0 * down)
    fold = np.abs(np.cos(k)) ** 0.8
    cross = 0.18 * np.sin(0.35 * P[1] + 0.4 * P[0])
    deep = 0.5 + 3.4 * np.maximum(down, 0.0) ** 0.9
    middle = 1.5 - 0.03 * P[0] ** 2 * (1.0 - 0.4 * down) + deep * (fold - 0.6) + cross
    return np.asarray(middle), np.asarray(fold), np.asarray(down)


def _cloak(P: Floats) -> Floats:
    middle, _, down = _cloth(P)
    sheet = np.abs(P[2] - middle) - 0.5
    side = np.abs(P[0]) - (7.5 + 4.5 * down + 0.3 * np.sin(0.8 * P[1]))
    hem = F(2.0) + 0.5 * np.sin(0.9 * P[0]) - P[1]
    return np.asarray(0.4 * np.maximum(sheet, np.maximum(side, np.maximum(hem, P[1] - 34.0))))


def _on_cloak(P: Floats) -> Detail:
    middle, fold, down = _cloth(P)
    front = middle < P[2]
    weave = 0.04 * np.sin(9.0 * P[1]) * np.sin(9.0 * P[0])
    height = np.where(front, fold, 1.0 - fold) ** 2.2 * 0.9 + 0.05 + weave
    return Detail(np.clip(height, 0, 1), np.clip(down, 0, 1))


# A sphere, with no detail at all.
def _sphere(P: Floats) -> Floats:
    return ball(P, (0.0, 16.0, 0.0), 15.0)


def _on_sphere(P: Floats) -> Detail:
    up = np.clip((P[1] - 1.0) / 30.0, 0, 1)
    return Detail(np.asarray(0.12 + 0.76 * up), np.asarray(1.0 - up))


# A round base with texture.
def _ground(P: Floats) -> Floats:
    out = np.hypot(P[0], P[2])
    top = F(3.4) + F(0.9) * _texture(P) - 1.0 * step(13.6, 16.2, out)
    return np.asarray(0.72 * np.maximum(np.maximum(P[1] - top, out - 15.4), 2.0 - P[1]))


def _texture(P: Floats) -> Floats:
    lumps = noise(0.5 * P[0], 0 * P[0], 0.5 * P[2])
    grit = noise(2.1 * P[0], 0 * P[0], 2.3 * P[2])
    return np.asarray(np.clip(0.5 * ripples(P[0], P[2]) + 0.35 * lumps + 0.3 * grit - 0.05, 0, 1))


def _on_ground(P: Floats) -> Detail:
    return Detail(_texture(P), np.clip(np.hypot(P[0], P[2]) / 15.4, 0, 1))


def _base_rim(P: Floats) -> Floats:
    return drum(P, (0.0, 1.65, 0.0), 16.0, 1.65, 0.32)


def _on_base_rim(P: Floats) -> Detail:
    tall = np.clip(P[1] / 3.3, 0, 1)
    return Detail(np.clip(0.4 + 0.55 * step(0.82, 0.98, tall), 0, 1), tall)


LIMB = (Part("limb", Slot.HIDE, (-0.5, 16.5, 2.0), 25.0, _limb, _on_limb, 0.65),)
PLATE = (Part("ribbed plate", Slot.PLATES, (0.0, 16.0, 0.0), 20.0, _ribbed, _on_ribbed, 0.8),)
SHIELD = (Part("shield", Slot.PLATES, (0.0, 15.5, 1.5), 19.5, _shield, _on_shield, 0.7),)
CLOAK = (Part("cloak", Slot.CLOAK, (0.0, 18.0, 1.0), 22.5, _cloak, _on_cloak, 0.8),)
SPHERE = (Part("sphere", Slot.HIDE, (0.0, 16.0, 0.0), 15.2, _sphere, _on_sphere, 1.0),)
BASE = (
    Part("ground", Slot.BASE, (0.0, 3.4, 0.0), 16.4, _ground, _on_ground, 0.75),
    Part("rim", Slot.RIM, (0.0, 1.7, 0.0), 16.6, _base_rim, _on_base_rim, 0.35),
)
