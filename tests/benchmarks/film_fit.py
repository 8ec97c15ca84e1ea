"""Fits pigments to measured films: damped least squares in colour difference and spectrum.

The residuals of a row are its CIEDE2000 (by the local quadratic form at the measured colour) and,
more lightly, the cube roots of its reflectances, which keep the spectra from drifting where the
eye does not look. Curvature of log K and log S along the spectrum, slope of log S, and the
distance of the laying from its usual values are held down as priors; all weights stand in
`Settings` and were fixed before any held-out row was predicted.
"""

from dataclasses import dataclass, replace

import numpy as np
from scipy.linalg import cho_factor, cho_solve

from schemeforge import colorimetry
from tests.benchmarks.film_model import BANDS, Films, Floats, Laying, Paints

_STEP = 1e-5
_DARKEST = 1e-4
_ROOTS = 60 / np.sqrt(BANDS)  # cube roots of reflectance in units near a colour difference


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """Weights of the fit.

    Attributes:
        spectrum: Weight of the spectral residuals beside colour.
        ladders: Weight of all single-pigment rows together, as a share of that of the mixtures.
            Below their number, since their repeated values show that they were made monotone.
        K_curvature: Prior on the second difference of log K.
        S_curvature: Prior on that of log S.
        S_slope: Prior on the first difference of log S.
        pots: Prior on the log strengths per pair (200: a standard error of 7 %).
        rounds: Most iterations.
    """

    spectrum: float = 1.0
    ladders: float = 0.05
    K_curvature: float = 0.1
    S_curvature: float = 10.0
    S_slope: float = 10.0
    pots: float = 200.0
    rounds: int = 25


class _Problem:
    """The rows to fit, with all that does not change from round to round."""

    def __init__(self, films: Films, settings: Settings) -> None:
        self.films = films
        pairs = films.pairs()
        self.known = tuple(sorted({pair for pair in pairs if len(pair) == 2}))
        self.pigments = films.loads.shape[1]
        single = np.array([len(pair) == 1 for pair in pairs])
        self.weight = np.ones(len(films))
        if self.known:
            share = settings.ladders * (~single).sum() / max(int(single.sum()), 1)
            self.weight[single] = np.sqrt(min(share, 1.0))
        self.pots = [
            (np.array([row == pair for row in pairs]), pigment)
            for pair in self.known
            for pigment in pair
        ]
        self.lab: Floats = np.asarray(colorimetry.lab(films.reflectance), np.float64)
        self.metric = _metric(self.lab) * self.weight[:, np.newaxis, np.newaxis]
        self.observer = colorimetry.xyz(np.eye(BANDS))
        heard = np.sqrt(np.sqrt((self.observer**2).sum(axis=1)))
        heard *= settings.spectrum * _ROOTS / np.sqrt((heard**2).mean())
        self.root_weight = self.weight[:, np.newaxis] * heard
        self.roots = np.cbrt(films.reflectance)
        self.usual = Laying.usual(self.pigments, len(self.known))
        hold = self.usual.unflat(np.ones(self.usual.flat().size))
        self.hold = replace(
            hold,
            paper=0.1 * hold.paper,
            crowding=30.0 * hold.crowding,
            pots=settings.pots * hold.pots,
        ).flat()
        self.curvature = _smoothness(settings, self.pigments)

    def residuals(self, seen: Floats) -> tuple[Floats, Floats]:
        """Colour ``(rows, 3)`` and spectral ``(rows, bands)`` residuals."""
        visible = np.clip(seen, _DARKEST, 1)
        colour = np.einsum("nij,nj->ni", self.metric, colorimetry.lab(visible) - self.lab)
        return colour, self.root_weight * (np.cbrt(visible) - self.roots)

    def cost(self, paints: Paints) -> tuple[float, Floats]:
        """What is made small, and the prediction it comes from."""
        seen = paints.predict(self.films.loads)
        colour, roots = self.residuals(seen)
        away = paints.laying.flat() - self.usual.flat()
        logs = np.concatenate([paints.log_K, paints.log_S])
        prior = sum(
            float(x @ H @ x) + float(c * ((x - 1) ** 2).sum())
            for x, (H, c) in zip(logs, self.curvature, strict=True)
        )
        total = (colour**2).sum() + (roots**2).sum() + (self.hold * away**2).sum() + prior
        return float(total), seen


def fit(films: Films, paper: Floats, settings: Settings | None = None) -> Paints:
    """Pigments that explain the films; depends on nothing but its arguments."""
    settings = settings or Settings()
    problem = _Problem(films, settings)
    paints = _start(problem, paper)
    cost, seen = problem.cost(paints)
    damping = 1e-2
    for _ in range(settings.rounds):
        H, slope = _normal_equations(problem, paints, seen)
        for _ in range(6):
            damped = H + damping * np.diag(np.diag(H) + 1e-3)
            step = np.clip(-cho_solve(cho_factor(damped), slope), -1.5, 1.5)
            trial = _moved(paints, step)
            trial_cost, trial_seen = problem.cost(trial)
            if trial_cost < cost:
                break
            damping *= 5
        else:
            break
        gain = (cost - trial_cost) / cost
        paints, cost, seen, damping = trial, trial_cost, trial_seen, max(damping / 4, 1e-7)
        if gain < 2e-5:
            break
    return paints


def _start(problem: _Problem, paper: Floats) -> Paints:
    """K from each pigment's mean reflectance alone on the paper, S flat."""
    films = problem.films
    log_K = np.zeros((problem.pigments, BANDS))
    alone = np.array([len(pair) == 1 for pair in films.pairs()])
    for pigment in range(problem.pigments):
        rows = alone & (films.loads[:, pigment] > 0)
        R = films.reflectance[rows].mean(axis=0)
        log_K[pigment] = np.log(np.maximum(5 * (1 - R) ** 2 / (2 * R), 1e-2))
    log_S = np.full_like(log_K, np.log(5.0))
    return Paints(log_K=log_K, log_S=log_S, laying=problem.usual, known=problem.known, paper=paper)


def _moved(paints: Paints, step: Floats) -> Paints:
    size = paints.log_K.size
    shape = paints.log_K.shape
    return replace(
        paints,
        log_K=np.clip(paints.log_K + step[:size].reshape(shape), -12, 9),
        log_S=np.clip(paints.log_S + step[size : 2 * size].reshape(shape), -12, 9),
        laying=paints.laying.unflat(paints.laying.flat() + step[2 * size :]),
    )


def _slopes(problem: _Problem, paints: Paints, seen: Floats) -> tuple[Floats, Floats]:
    """Slopes of the prediction: by log K and log S of its own band, and by the laying."""
    loads = problem.films.loads
    KX, SX = paints.depths(loads)
    film = paints.films(loads)[:, :, np.newaxis]
    by_KX = (paints.seen(loads, KX * (1 + _STEP), SX) - seen) / (KX * _STEP)
    by_SX = (paints.seen(loads, KX, SX * (1 + _STEP)) - seen) / (SX * _STEP)
    own = np.concatenate(
        [
            by_KX[:, np.newaxis] * film * np.exp(paints.log_K),
            by_SX[:, np.newaxis] * film * np.exp(paints.log_S),
        ],
        axis=1,
    )
    flat = paints.laying.flat()
    common = np.zeros((len(loads), len(flat), BANDS))
    shared = len(flat) - len(problem.pots)
    for i in range(shared):
        nudged = flat.copy()
        nudged[i] += 10 * _STEP
        laid = replace(paints, laying=paints.laying.unflat(nudged))
        common[:, i] = (laid.predict(loads) - seen) / (10 * _STEP)
    for i, (rows, pigment) in enumerate(problem.pots):
        # A stronger pot is more of both K and S.
        common[rows, shared + i] = own[rows, pigment] + own[rows, problem.pigments + pigment]
    return own, common


def _normal_equations(problem: _Problem, paints: Paints, seen: Floats) -> tuple[Floats, Floats]:
    """Gauss-Newton matrix and half gradient of the cost."""
    own, common = _slopes(problem, paints, seen)
    rows, series = own.shape[:2]
    colour, roots = problem.residuals(seen)
    to_colour = _colour_slopes(problem, seen)
    J = np.concatenate(
        [
            np.einsum("nib,npb->nipb", to_colour, own).reshape(rows * 3, series * BANDS),
            np.einsum("nib,ngb->nig", to_colour, common).reshape(rows * 3, -1),
        ],
        axis=1,
    )
    H, slope = J.T @ J, J.T @ colour.ravel()
    to_root = problem.root_weight / (3 * np.cbrt(np.clip(seen, _DARKEST, 1)) ** 2)
    a, b = own * to_root[:, np.newaxis], common * to_root[:, np.newaxis]
    size = series * BANDS
    places = np.arange(size).reshape(series, BANDS)
    for band in range(BANDS):
        at = places[:, band]
        H[np.ix_(at, at)] += a[:, :, band].T @ a[:, :, band]
        cross = a[:, :, band].T @ b[:, :, band]
        H[at, size:] += cross
        H[size:, at] += cross.T
        H[size:, size:] += b[:, :, band].T @ b[:, :, band]
        slope[at] += a[:, :, band].T @ roots[:, band]
        slope[size:] += b[:, :, band].T @ roots[:, band]
    _add_priors(problem, paints, H, slope)
    return H, slope


def _add_priors(problem: _Problem, paints: Paints, H: Floats, slope: Floats) -> None:
    logs = np.concatenate([paints.log_K, paints.log_S])
    for i, (x, (smooth, centre)) in enumerate(zip(logs, problem.curvature, strict=True)):
        at = slice(i * BANDS, (i + 1) * BANDS)
        H[at, at] += smooth + centre * np.eye(BANDS)
        slope[at] += smooth @ x + centre * (x - 1)
    common = np.arange(logs.size, len(slope))
    H[common, common] += problem.hold
    slope[common] += problem.hold * (paints.laying.flat() - problem.usual.flat())


def _colour_slopes(problem: _Problem, seen: Floats) -> Floats:
    """Slopes of the colour residuals by the reflectance of each band, ``(rows, 3, bands)``."""
    xyz = colorimetry.xyz(np.clip(seen, _DARKEST, 1))
    here = colorimetry.lab_from_xyz(xyz)
    step = 1e-6
    by_xyz = [(colorimetry.lab_from_xyz(xyz + step * axis) - here) / step for axis in np.eye(3)]
    lab_by_xyz = np.stack(by_xyz, axis=2)
    return np.asarray(
        np.einsum("nij,njk,bk->nib", problem.metric, lab_by_xyz, problem.observer, optimize=True)
    )


def _metric(lab: Floats) -> Floats:
    """Matrices A with norm(A (Lab - lab)) = CIEDE2000 for small differences, ``(rows, 3, 3)``."""
    axes, step = np.eye(3), 0.3

    def squared(direction: Floats) -> Floats:
        ahead = colorimetry.ciede2000(lab, lab + step * direction) ** 2
        behind = colorimetry.ciede2000(lab, lab - step * direction) ** 2
        return np.asarray((ahead + behind) / (2 * step**2))

    alone = [squared(axis) for axis in axes]
    G = np.zeros((len(lab), 3, 3))
    for i in range(3):
        G[:, i, i] = alone[i]
        for j in range(i):
            both = squared(axes[i] + axes[j])
            G[:, i, j] = G[:, j, i] = (both - alone[i] - alone[j]) / 2
    values, vectors = np.linalg.eigh(G)
    scale = np.sqrt(np.maximum(values, 1e-3))
    return np.asarray(scale[:, :, np.newaxis] * np.swapaxes(vectors, 1, 2))


def _smoothness(settings: Settings, pigments: int) -> list[tuple[Floats, float]]:
    """Per series of logs: the quadratic form of its shape, and the pull of its level to 1."""
    bend, slope = (np.diff(np.eye(BANDS), order, axis=0) for order in (2, 1))
    K = settings.K_curvature * bend.T @ bend
    S = settings.S_curvature * bend.T @ bend + settings.S_slope * slope.T @ slope
    return [(K, 1e-3)] * pigments + [(S, 1e-2)] * pigments
