"""How near any fit could come: errors of one that knew how the truths are made.

Run ``python tests/benchmarks/calibration_limit.py [--seed N] [--truths N] [--steps N]``. The truths
are the synthetic spectra of `calibration_truths`, whose every parameter is drawn evenly. For each,
all spectra of that make that agree with its noisy patches are visited by a Markov chain
[Metropolis1953], with steps along differences of walkers [terBraak2006]; the mean of their
predictions is what a fitter could say at best that knew the make, which no fitter can. Walkers
start at the truth itself, so that chains cut short flatter the limit rather than the fit.
"""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import argparse
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

import numpy as np

from schemeforge import colorimetry
from schemeforge.calibration import Patch, fit_patches
from schemeforge.calibration.patches import PHOTO_NOISE
from tests.benchmarks.calibration_plans import PLAIN, Plan, as_suggested
from tests.benchmarks.calibration_truths import (
    APART,
    FILM_UM,
    NM,
    SURFACE,
    Floats,
    Truth,
    labs,
    linear,
    predictions,
    seen,
)

WALKERS = 24
KEPT = 40  # of the second half of a chain, for each walker
# Ends of the ranges that `calibration_truths.synthetic` draws from: the floor of K and its power,
# three bands (place, width, height, power), how many bands, whether an edge, its place, power and
# height, S, its power, its step and the step's place, the log of the film.
LOW = np.array(
    [-3.5, -1.0, *[370, 18, -1.5, 2.5] * 3, 1, 0, 430, 15, -1, -2, -0.5, 0, 420, np.log(0.05)]
)
HIGH = np.array(
    [-1.2, 4.0, *[740, 60, 0.5, 5.0] * 3, 4, 1, 600, 45, 0.5, 0.3, 2.5, 0.5, 680, np.log(8)]
)
EDGES = 0.4


def spectra(u: Floats) -> tuple[Floats, Floats]:
    """K and S per um of parameters ``(..., 24)``, each from 0 to 1."""
    v = (LOW + (HIGH - LOW) * u)[..., None]
    K = 10 ** v[..., 0, :] * (550 / NM) ** v[..., 1, :]
    for band in range(3):
        place, width, height, power = (v[..., 2 + 4 * band + i, :] for i in range(4))
        there = np.floor(v[..., 14, :]) > band
        K = K + there * 10**height / (1 + (np.abs(NM - place) / width) ** power)
    edge = 10 ** v[..., 18, :] / (1 + (NM / v[..., 16, :]) ** v[..., 17, :])
    K = K + (v[..., 15, :] < EDGES) * edge
    S = 10 ** v[..., 19, :] * (550 / NM) ** v[..., 20, :]
    S = S * (1 + v[..., 21, :] * np.tanh((NM - v[..., 22, :]) / 30))
    X = np.exp(v[..., 23, :]) / FILM_UM
    return X * K, X * S


def look(pair: tuple[Floats, Floats], ground: Floats, coats: Floats) -> Floats:
    """Encoded colours of films ``(truths, walkers, patches, 3)`` by each truth's own plan."""
    K, S = (part[..., None, :] for part in pair)
    film = FILM_UM * coats[:, None, :, None]
    shown = linear(seen(film * K, film * S, 1.0, ground[:, None]))
    return np.asarray(colorimetry.encode(shown))


def one_coat(pair: tuple[Floats, Floats]) -> Floats:
    """Encoded colours of one coat over black and white, ``(truths, walkers, 2, 3)``."""
    grounds = np.array([ground for ground, _ in PLAIN[:2]])
    count = len(pair[0])
    return look(pair, np.repeat(grounds[None], count, axis=0), np.ones((count, 2)))


def drawn(pair: tuple[Floats, Floats]) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
    """Whether the table would take such a truth: films that show, colours in gamut."""
    encoded = one_coat(pair)
    both = labs(np.asarray(colorimetry.decode(encoded)))
    apart = colorimetry.ciede2000(both[..., 0, :], both[..., 1, :])
    inside = ((encoded > 0) & (encoded < 1)).all(axis=(-1, -2))
    return np.asarray((apart > APART[0]) & (apart < APART[1]) & inside)


def draw(count: int, rng: np.random.Generator) -> Floats:
    """Parameters of truths, ``(count, 24)``."""
    found: list[Floats] = []
    while len(found) < count:
        u = rng.random(24)
        for _ in range(60):
            u[23] = rng.random()
            if drawn(spectra(u[None, None]))[0, 0]:
                found.append(u.copy())
                break
    return np.array(found)


class Chain:
    """Walkers of every truth, which visit the parameters that its patches allow."""

    def __init__(self, truth: Floats, ground: Floats, coats: Floats, patches: Floats) -> None:
        self._ground, self._coats, self._patches = ground, coats, patches
        self.u = np.repeat(truth[:, None], WALKERS, axis=1)
        self._log = self._probable(self.u)

    def _probable(self, u: Floats) -> Floats:
        pair = spectra(np.clip(u, 0, 1))
        off = look(pair, self._ground, self._coats) - self._patches[:, None]
        log = -0.5 * ((off / PHOTO_NOISE) ** 2).sum(axis=(-1, -2))
        possible = ((u >= 0) & (u <= 1)).all(axis=-1) & drawn(pair)
        return np.where(possible, log, -np.inf)

    def step(self, rng: np.random.Generator) -> None:
        """One proposal for every walker."""
        shape = self.u.shape
        some = rng.random(shape) < rng.choice([0.05, 0.2, 0.5])
        kind = rng.random()
        if kind < 0.5:
            size = 10 ** rng.uniform(-3, -0.3, (*shape[:2], 1))
            trial = self.u + some * size * rng.standard_normal(shape)
        elif kind < 0.9:
            one, other = (rng.integers(WALKERS, size=shape[:2]) for _ in range(2))
            row = np.arange(shape[0])[:, None]
            along = rng.choice([0.3, 0.6, 1.0]) * (self.u[row, one] - self.u[row, other])
            trial = self.u + some * (along + 1e-4 * rng.standard_normal(shape))
        else:
            first, last = ((2, 6), (6, 10), (10, 14), (14, 19))[rng.integers(4)]
            trial = self.u.copy()
            trial[..., first:last] = rng.random((*shape[:2], last - first))
        log = self._probable(trial)
        go = np.log(rng.random(shape[:2])) < log - self._log
        self.u = np.where(go[..., None], trial, self.u)
        self._log = np.where(go, log, self._log)


def limit(
    truth: Floats, plans: list[Plan], steps: int, rng: np.random.Generator
) -> tuple[Floats, Floats]:
    """CIEDE2000 of the fit, and of what knowing the make would give, on the same patches."""
    ground = np.array([[g for g, _ in plan] for plan in plans])
    coats = np.array([[n for _, n in plan] for plan in plans])
    exact = look(spectra(truth[:, None]), ground, coats)[:, 0]
    patches = exact + PHOTO_NOISE * rng.standard_normal(exact.shape)
    chain = Chain(truth, ground, coats, patches)
    visited = []
    for turn in range(steps):
        chain.step(rng)
        if turn >= steps // 2 and turn % max(steps // 2 // KEPT, 1) == 0:
            visited.append(chain.u.copy())
    best, ours = [], []
    for row, (u, plan) in enumerate(zip(truth, plans, strict=True)):
        wanted = predictions(*spectra(u))
        known = np.concatenate([held[row] for held in visited])[::3]
        best.append(colorimetry.ciede2000(predictions(*spectra(known)).mean(axis=0), wanted))
        fit = fit_patches(_patches(plan, patches[row]), surface=SURFACE)
        ours.append(colorimetry.ciede2000(predictions(fit.absorption, fit.scattering), wanted))
    return np.array(ours), np.array(best)


def _patches(plan: Plan, encoded: Floats) -> list[Patch]:
    found = []
    for (ground, coats), colour in zip(plan, np.asarray(colorimetry.decode(encoded)), strict=True):
        red, green, blue = (float(value) for value in colour)
        found.append(
            Patch(
                name=f"{coats:g} coats",
                ground=ground,
                film_um=FILM_UM * coats,
                colour=(red, green, blue),
                hand=0.0,
            )
        )
    return found


def main() -> None:
    """Prints the fit's errors beside the limit."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--truths", type=int, default=60)
    parser.add_argument("--steps", type=int, default=8000)
    arguments = parser.parse_args()
    rng = np.random.default_rng(arguments.seed)
    truth = draw(arguments.truths, rng)
    pairs = [spectra(u) for u in truth]
    some = [Truth(name="made", K=K, S=S, synthetic=True) for K, S in pairs]
    print(f"{arguments.truths} truths; CIEDE2000, median / 95th percentile")
    print(f"{'patches with noise 1.5/255':32} {'fit':>13} {'make known':>13}")
    for count in (2, 3, 4):
        rows: dict[str, list[Plan]] = {
            "one coat first": [PLAIN[:count] for _ in some],
            "as suggested": [as_suggested(one, count, rng) for one in some],
        }
        for how, plans in rows.items():
            both = limit(truth, plans, arguments.steps, rng)
            cells = [f"{np.median(v):5.2f} /{np.percentile(v, 95):6.2f}" for v in both]
            print(f"{f'{count} patches {how}':32} {cells[0]:>13} {cells[1]:>13}", flush=True)


if __name__ == "__main__":
    main()
