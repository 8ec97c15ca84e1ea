"""How sure a prediction is: a hand that varies, and paints that are not known exactly.

Each coat's film varies log-normally, each paint by the covariance of its log K and log S; the
result is the 90th percentile of the CIEDE2000 difference from the nominal colour. Draws use a
fixed seed, so that the same project always shows the same figures. Meant to be worked out beside
what a hand drags, not within it.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry, optics
from schemeforge.appearance.columns import coat_films
from schemeforge.appearance.folding import Fold, film_of, lay, strength_of, xyz_through
from schemeforge.appearance.look import Look, look_of
from schemeforge.appearance.points import Points
from schemeforge.appearance.undercoat import BARE_PLASTIC, Grounds, single
from schemeforge.paint import Basis, Paint, PaintKind
from schemeforge.scheme import (
    Coat,
    Mix,
    Primer,
    Project,
    Scheme,
    Spray,
    Step,
    Viewing,
    coloured_steps,
)

SEED = 20250
DRAWS = 160
COVERAGE = 0.9
# Finer sprays vary as a smooth film does; nominal and draws are computed alike.
_SMOOTH_FROM_DROPLETS = 8.0


@dataclass(frozen=True, slots=True)
class Tolerance:
    """Half-width of the 90 % interval of a zone's colours after each coat.

    Args:
        delta_e: CIEDE2000, ``(stages, points)``.
        weakest: The least sure basis among the paints used up to each stage.
    """

    delta_e: NDArray[np.float64]
    weakest: tuple[Basis | None, ...]


def zone_tolerance(
    project: Project,
    scheme: Scheme,
    zone_id: str,
    points: Points,
    viewing: Viewing | None = None,
    *,
    group_id: str | None = None,
    draws: int = DRAWS,
    cancelled: Callable[[], bool] = lambda: False,
) -> Tolerance:
    """The 90 % interval of CIEDE2000 to the nominal colour for every stage of a zone.

    Args:
        project: The document; ``habits.hand_sigma`` is the spread of the hand.
        scheme: One of its schemes.
        zone_id: The zone.
        points: One row of places, each array ``(points,)`` or scalar.
        viewing: The project's own where None.
        group_id: As in ``zone_stages``.
        draws: How many variations are drawn.
        cancelled: Asked before each coat; where true the remaining rows are NaN.
    """
    look = look_of(project, viewing)
    steps = coloured_steps(scheme, zone_id, group_id)
    project.zone(zone_id)
    count = points.shape[0] if points.shape else 1
    out = np.full((len(steps), count), np.nan)
    draw = _Draws(project, draws)
    shelf: list[Paint] = []
    weakest: list[Basis | None] = []
    if not steps:
        return Tolerance(np.zeros((1, count)), (None,))
    stack = _Varied(project, scheme, look, points, draw)
    for n, step in enumerate(steps):
        shelf += _pigmented(project, scheme, step)
        weakest.append(max((p.basis for p in shelf), key=list(Basis).index, default=None))
        if cancelled():
            continue
        xyz = stack.lay(step)
        lab = colorimetry.lab_from_xyz(xyz)
        difference = colorimetry.ciede2000(lab[1:], lab[:1])
        out[n] = _upper(difference)
    return Tolerance(out, tuple(weakest))


def _pigmented(project: Project, scheme: Scheme, step: Step) -> list[Paint]:
    ingredients = scheme.mix(step.mix_id).ingredients if step.mix_id else ()
    paints = [project.paint(i.paint_id) for i in ingredients]
    return [paint for paint in paints if not paint.kind.is_clear]


def _upper(difference: NDArray[Any]) -> NDArray[Any]:
    """The quantile of that coverage over the draws, ``(points,)``, by linear interpolation.

    ``numpy.quantile`` would do, but its first call loads masked arrays for a tenth of a second.
    """
    ordered = np.sort(difference, axis=0)
    at = COVERAGE * (len(ordered) - 1)
    low = int(at)
    high = min(low + 1, len(ordered) - 1)
    upper: NDArray[Any] = ordered[low] + (at - low) * (ordered[high] - ordered[low])
    return upper


class _Draws:
    """Varied spectra and films, the first unvaried; a paint varies alike wherever it is used."""

    def __init__(self, project: Project, draws: int) -> None:
        self.project = project
        self.draws = draws
        self._spectra: dict[str, tuple[NDArray[Any], NDArray[Any]]] = {}

    def film(self, step_id: str) -> NDArray[np.float64]:
        """Factors on the film of a step, ``(1 + draws, 1, 1)``."""
        normal = self._normal(f"film {step_id}", 1)  # the first row is 0: the nominal
        return np.exp(self.project.habits.hand_sigma * normal)[:, np.newaxis]

    def pot(self, mix: Mix) -> tuple[NDArray[Any], NDArray[Any], float]:
        """K and S of a mix per um of wet film, ``(1 + draws, 1, 36)``, and its share of binder."""
        total = mix.total_parts
        K = np.zeros((self.draws + 1, 1, optics.bands.COUNT))
        S = np.zeros_like(K)
        binder = 0.0
        for ingredient in mix.ingredients:
            paint = self.project.paint(ingredient.paint_id)
            share = ingredient.parts / total
            paint_K, paint_S = self._paint(paint)
            K[:, 0] += share * paint_K
            S[:, 0] += share * paint_S
            binder += 0.0 if paint.kind is PaintKind.WATER else share
        return K, S, binder

    def _paint(self, paint: Paint) -> tuple[NDArray[Any], NDArray[Any]]:
        if paint.id not in self._spectra:
            factor = paint.uncertainty.factor()
            logs = self._normal(f"paint {paint.id}", factor.shape[0]) @ factor
            half = optics.bands.COUNT
            self._spectra[paint.id] = (
                np.array(paint.absorption) * np.exp(logs[:, :half]),
                np.array(paint.scattering) * np.exp(logs[:, half:]),
            )
        return self._spectra[paint.id]

    def _normal(self, label: str, columns: int) -> NDArray[np.float64]:
        # Seeded by the label, so that adding a coat does not reshuffle the draws of the others.
        rng = np.random.default_rng([SEED, *label.encode()])
        normal = np.zeros((self.draws + 1, columns))
        normal[1:] = rng.standard_normal((self.draws, columns))
        return normal


class _Varied:
    """A zone's stack laid coat by coat in every draw at once."""

    def __init__(
        self, project: Project, scheme: Scheme, look: Look, points: Points, draw: _Draws
    ) -> None:
        self._scheme = scheme
        self._look = look
        self._draw = draw
        self._project = project
        self._points = points
        self._fold: Fold | None = None
        bare = np.full((1, 1, 1, optics.bands.COUNT), BARE_PLASTIC)
        self._grounds = single(bare[0])

    def lay(self, step: Step) -> NDArray[Any]:
        """XYZ after the step, ``(1 + draws, points, 3)``."""
        layer = step.layer
        if isinstance(layer, Coat):
            xyz = self._coat(step, layer)
        else:
            wet = self._undercoat(step, self._look.milk_per_um)
            xyz = xyz_through(None, wet, self._look)
            self._grounds = self._undercoat(step, 0.0)
        return xyz.reshape(self._draw.draws + 1, -1, 3)

    def _coat(self, step: Step, coat: Coat) -> NDArray[Any]:
        K, S, binder = self._draw.pot(self._scheme.mix(coat.mix_id))
        nominal = np.atleast_1d(coat_films(coat, self._points.relief, self._points.along))
        film = self._draw.film(step.id) * nominal[:, np.newaxis]
        strength = strength_of(K, S)
        top = dry = lay(film_of(film * strength.decay, strength), self._fold)
        if self._look.is_wet:
            milky = strength_of(K, S + self._look.milk_per_um * binder)
            top = lay(film_of(film * milky.decay, milky), self._fold)
        self._fold = dry
        return xyz_through(top, self._grounds, self._look)

    def _undercoat(self, step: Step, milk_per_um: float) -> Grounds:
        layer = step.layer
        assert isinstance(layer, Primer | Spray)  # noqa: S101 - coats go another way
        K, S, binder = self._draw.pot(self._scheme.mix(layer.mix_id))
        milky = S + milk_per_um * binder
        if isinstance(layer, Primer):
            return single(optics.r_infinity(K, milky))
        tone = np.atleast_1d(self._points.tone)
        factor = self._draw.film(step.id)
        below = self._grounds.reflectance[0]
        if layer.peak_um > _SMOOTH_FROM_DROPLETS * layer.droplet_um:
            film = layer.peak_um * tone[:, np.newaxis] * factor
            R = optics.kubelka_munk.film_over(below, film * K, film * milky)
            return single(R)
        weights = optics.poisson_weights(tone, layer.peak_um, layer.droplet_um)
        ladder = np.arange(weights.shape[1])[:, np.newaxis, np.newaxis, np.newaxis]
        film = ladder * layer.droplet_um * factor
        R = optics.kubelka_munk.film_over(below, film * K, film * milky)
        shares = np.moveaxis(weights, 1, 0)[:, np.newaxis, :, np.newaxis]
        whole = np.broadcast_to(R, (*R.shape[:2], len(tone), R.shape[-1]))
        return Grounds(whole, shares, whole * shares, layer.spread_n)
