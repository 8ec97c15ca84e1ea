"""What a slip of the hand, the paints' own uncertainty and another light do to recipes."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry
from schemeforge.colorimetry import LightLike
from schemeforge.optics import bands
from schemeforge.paint import Paint
from schemeforge.recipe.kernel import Kernel
from schemeforge.recipe.recipe import Recipe
from schemeforge.recipe.request import Request, spectra

Floats = NDArray[Any]

# A drop or a brush-tip too much of one paint, and a hand that is heavy (rules of thumb, no
# source).
PART_WRONG = 0.25
HEAVY = 1.15
DRAWS = 64
SEED = 20250
COVERAGE = 0.9
# Lamp, desk light and shop tubes: where models are painted, shown and photographed.
LIGHTS: tuple[LightLike, ...] = ("A", "LED-B3", "FL11")


@dataclass(frozen=True, slots=True, kw_only=True)
class Sturdiness:
    """How far a recipe's colours move from what they should be, CIEDE2000, over the ramp.

    Args:
        quarter_part: With a quarter part too much or too little of the ingredient that matters
            most.
        ingredient_id: Which one that is.
        heavy_coat: With every coat 15 % too heavy.
        unsure: In nine of ten draws of what is not known of the paints it is less.
        light: The light under which it is off most.
        other_light: How far there: from the target where that is known under it, else from the
            recipe's own colours under the light of the match.
    """

    quarter_part: float
    ingredient_id: str
    heavy_coat: float
    unsure: float
    light: str
    other_light: float

    @property
    def slip(self) -> float:
        """The three together, as independent errors add."""
        return float(np.sqrt(self.quarter_part**2 + self.heavy_coat**2 + self.unsure**2))


def sturdiness(
    recipes: Sequence[Recipe], request: Request, lights: Sequence[LightLike] = LIGHTS
) -> tuple[Sturdiness, ...]:
    """The sturdiness of recipes for a request.

    Args:
        recipes: Of the request's paints.
        request: Target, bed, look and paints.
        lights: Under which constancy is judged; that of the match itself is left out.
    """
    return tuple(_one(recipe, request, lights) for recipe in recipes)


@dataclass(frozen=True, slots=True)
class _Slips:
    """Parts, films and draws of one recipe's variants, coat by coat; the first is nominal."""

    parts: tuple[Floats, ...]
    films: tuple[Floats, ...]
    draws: NDArray[np.intp]
    ingredients: tuple[str, ...]


def _one(recipe: Recipe, request: Request, lights: Sequence[LightLike]) -> Sturdiness:
    slips = _slips(recipe)
    colours = Variants(recipe, request, slips.parts, slips.films, slips.draws)
    lab = colours.lab()
    moved = moves(lab, lab[0])
    count = 2 * len(slips.ingredients)
    quarter = moved[1 : 1 + count]
    worst = int(quarter.argmax())
    unsure = np.quantile(moved[2 + count :], COVERAGE)
    light, other = _other_light(colours, request, lab[0], lights)
    return Sturdiness(
        quarter_part=float(quarter[worst]),
        ingredient_id=slips.ingredients[worst // 2],
        heavy_coat=float(moved[1 + count]),
        unsure=float(unsure),
        light=light,
        other_light=other,
    )


def _slips(recipe: Recipe) -> _Slips:
    """Nominal; a quarter part more and less of each ingredient; heavy; draws of the paints."""
    named = [(n, part.paint_id) for n, coat in enumerate(recipe.coats) for part in coat.all_parts]
    count = 2 * len(named)
    total = 2 + count + DRAWS
    parts, films = [], []
    first = 1
    for coat in recipe.coats:
        amounts = np.array([float(part.parts) for part in coat.all_parts])
        table = np.tile(amounts, (total, 1))
        for n in range(len(amounts)):
            table[first, n] += PART_WRONG
            table[first + 1, n] -= PART_WRONG
            first += 2
        film = np.full(total, coat.wet_um * coat.coats)
        film[1 + count] *= HEAVY
        parts.append(table)
        films.append(film)
    draws = np.zeros(total, np.intp)
    draws[2 + count :] = np.arange(1, DRAWS + 1)
    return _Slips(tuple(parts), tuple(films), draws, tuple(name for _, name in named))


class Variants:
    """Colours of variants of one recipe over the request's bed.

    Args:
        recipe: The recipe.
        request: Its paints, bed and look.
        parts: For each coat the parts of its ingredients in each variant, ``(variants, n)``.
        films: For each coat its whole film in um, ``(variants,)``.
        draws: Which draw of the paints' uncertainty each variant takes, 0 for the nominal one.
    """

    def __init__(
        self,
        recipe: Recipe,
        request: Request,
        parts: Sequence[Floats],
        films: Sequence[Floats],
        draws: NDArray[np.intp],
    ) -> None:
        self._request = request
        self._count = len(draws)
        depths = []
        for coat, amounts, film in zip(recipe.coats, parts, films, strict=True):
            shares = amounts / amounts.sum(axis=1, keepdims=True)
            KX = np.zeros((self._count, bands.COUNT))
            SX = np.zeros_like(KX)
            for n, part in enumerate(coat.all_parts):
                K, S = drawn(_paint(request, part.paint_id), int(draws.max()))
                left = (film * shares[:, n])[:, np.newaxis]
                KX += left * K[draws]
                SX += left * S[draws]
            depths.append((KX, SX))
        self._K = np.concatenate([depth[0] for depth in depths])
        self._S = np.concatenate([depth[1] for depth in depths])
        self._layers = len(depths)

    def lab(self, light: LightLike | None = None) -> Floats:
        """CIELAB, ``(variants, tones, 3)``, under the light of the match or another."""
        look = self._request.look
        if light is not None:
            look = replace(look, light=light)
        kernel = Kernel(
            self._K,
            self._S,
            np.zeros((self._layers, 2, bands.COUNT)),
            self._request.bed,
            look,
            range(self._layers),
        )
        # Every variant's film is a paint of its own here, laid one unit thick.
        films = np.arange(self._layers * self._count, dtype=np.int16)
        XYZ = kernel.xyz(films.reshape(self._layers, -1), np.ones((1, self._layers, 1)))
        return np.moveaxis(colorimetry.lab_from_xyz(XYZ[0]), 0, 1)


def moves(lab: Floats, nominal: Floats) -> Floats:
    """CIEDE2000 of ramps ``(variants, tones, 3)`` to one, root mean square, ``(variants,)``."""
    each = colorimetry.ciede2000(lab, nominal)
    return np.asarray(np.sqrt(np.mean(each * each, axis=1)))


def _paint(request: Request, paint_id: str) -> Paint:
    return request.thinner if paint_id == request.thinner_id else request.paint(paint_id)


def drawn(paint: Paint, draws: int) -> tuple[Floats, Floats]:
    """K and S as known and in so many draws, each ``(1 + draws, 36)``; alike for equal ids."""
    K, S = spectra((paint,))
    factor = paint.uncertainty.factor()
    rng = np.random.default_rng([SEED, *paint.id.encode()])
    logs = rng.standard_normal((draws, factor.shape[0])) @ factor
    logs = np.concatenate((np.zeros((1, 2 * bands.COUNT)), logs))
    return K * np.exp(logs[:, : bands.COUNT]), S * np.exp(logs[:, bands.COUNT :])


def _other_light(
    colours: Variants, request: Request, nominal: Floats, lights: Sequence[LightLike]
) -> tuple[str, float]:
    known = {other.light: np.array(other.lab) for other in request.target.others}
    worst = ("", 0.0)
    for light in lights:
        if light == request.look.light:
            continue
        there = colours.lab(light)[:1]
        off = float(moves(there, known.get(light, nominal))[0])
        if off > worst[1] or not worst[0]:
            worst = (light if isinstance(light, str) else light.name, off)
    return worst
