"""The one fit: smooth log K, log S and films of strokes to any set of patches.

Maximum a posteriori by damped Gauss-Newton steps [Levenberg1944] [Marquardt1963] on some thirty
unknowns, under every Gaussian of the prior at once. The inverse of the same matrix is the posterior
covariance, and its determinant tells how probable the patches are under a Gaussian (Laplace's
approximation [MacKay1992]), by which one is chosen; what the others would have given counts as
uncertainty.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from schemeforge import colorimetry, optics
from schemeforge.calibration.patches import Hiding, Patch, check_patches, stroke_of
from schemeforge.calibration.prior import ANY_KIND, OF_SPECTRA, Floats, Prior
from schemeforge.calibration.problem import Problem, Which
from schemeforge.optics import bands

_ROUNDS: Final = 60  # one colour alone takes that many
_DONE: Final = 1e-5  # of the cost
_STUCK: Final = 1e6  # of damping
_SETTLING: Final = 15  # rounds before a Gaussian may be left
_HOPELESS: Final = 28.0  # of cost, a probability of one to a million
_LEAST_SHARE: Final = 1e-3  # of all probability, below which a Gaussian is out of the running


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Fit:
    """What a fit found.

    Args:
        logs: Log K before log S, per um of neat wet paint, ``(72,)``.
        factor: Rows F of the posterior covariance F^T F of the logs, ``(rank, 72)``.
        film_factors: By stroke, what its film was of its nominal.
        predicted: Linear sRGB or reflectance of each patch by the fit, ``(patches, channels)``.
        residual: CIEDE2000 of each patch, measured to fitted, ``(patches,)``.
        misfit: Root mean square of the residuals in standard errors; about 1 where all is well.
        evidence: Log of how probable the patches are under the prior, up to a constant.
    """

    logs: Floats
    factor: Floats
    film_factors: dict[str, float]
    predicted: Floats
    residual: Floats
    misfit: float
    evidence: float

    @property
    def absorption(self) -> Floats:
        """K of each band per um, ``(36,)``."""
        return np.asarray(np.exp(self.logs[: bands.COUNT]))

    @property
    def scattering(self) -> Floats:
        """S of each band per um, ``(36,)``."""
        return np.asarray(np.exp(self.logs[bands.COUNT :]))

    @property
    def errors(self) -> Floats:
        """Standard errors of the logs, ``(72,)``."""
        return np.asarray(np.sqrt((self.factor**2).sum(axis=0)))


def fit_patches(
    patches: Sequence[Patch],
    *,
    surface: optics.Surface = optics.MATT,
    prior: Prior | None = None,
    hiding: Hiding | None = None,
) -> Fit:
    """The most probable paint for the patches.

    Args:
        patches: One or more, all colours or all spectra.
        surface: Finish, or the instrument's geometry, of patches and bare grounds alike.
        prior: What is known beforehand, for example from the kind; by default that of any paint.
        hiding: What is known of the film that hides.

    Raises:
        InputError: For no patch or too many, or both colours and spectra.
        ReadingError: For a ground that the surface does not allow.
    """
    check_patches(patches)
    if prior is None:
        prior = ANY_KIND if patches[0].colour else OF_SPECTRA
    mixture = prior.mixture()
    problem = Problem(patches, surface, mixture, hiding)
    of, z = _most_probable(problem, mixture.log_share)
    residual, J = problem.slopes(z, of)
    H = J.transpose(0, 2, 1) @ J + np.eye(problem.size)
    values, vectors = np.linalg.eigh(H)
    squares = (residual**2).sum(axis=1)
    worth = squares + (z**2).sum(axis=1) + np.log(values).sum(axis=1)
    evidence = mixture.log_share[of] - 0.5 * worth
    best = int(np.argmax(evidence))
    logs = problem.logs(z, of)
    factors = [
        problem.factor_of((v / np.sqrt(w)).T, which)
        for w, v, which in zip(values, vectors, of, strict=True)
    ]
    total = float(np.logaddexp.reduce(evidence))
    films = problem.film_factors(z[[best]])[0]
    predicted = problem.predicted(z[[best]], of[[best]])[0]
    return Fit(
        logs=logs[best],
        factor=_together(np.exp(evidence - total), factors, logs - logs[best]),
        film_factors={stroke_of(n, p): float(films[n]) for n, p in enumerate(patches)},
        predicted=predicted,
        residual=_differences(patches, predicted),
        misfit=float(np.sqrt(squares[best] / residual.shape[1])),
        evidence=total,
    )


def _together(shares: Floats, factors: list[Floats], off: Floats) -> Floats:
    """A factor of the covariance about the best, of all the Gaussians together."""
    rows = [
        np.sqrt(share) * np.vstack([factor, away])
        for share, factor, away in zip(shares, factors, off, strict=True)
        if share > _LEAST_SHARE
    ]
    return np.vstack(rows)


def _most_probable(problem: Problem, log_share: Floats) -> tuple[Which, Floats]:
    """Which of the Gaussians can have given the patches, and their unknowns ``(rows, size)``."""
    z = np.zeros((len(log_share), problem.size))
    of = np.arange(len(log_share))
    cost, damping = problem.cost(z, of), np.full(len(z), 1e-2)
    for turn in range(_ROUNDS):
        trial = z[of] - _step(problem, z[of], of, damping[of])
        trial_cost = problem.cost(trial, of)
        gain = cost[of] - trial_cost
        better = gain > 0
        z[of[better]], cost[of[better]] = trial[better], trial_cost[better]
        damping[of] = np.where(better, np.maximum(damping[of] / 5, 1e-7), damping[of] * 4)
        done = (better & (gain < _DONE * (1 + trial_cost))) | (damping[of] > _STUCK)
        behind = cost - 2 * log_share
        open_ = behind[of] < behind.min() + _HOPELESS if turn >= _SETTLING else ~done
        of = of[~done & open_]
        if not len(of):
            break
    behind = cost - 2 * log_share
    found = np.flatnonzero(behind <= behind.min() + _HOPELESS)
    return found, z[found]


def _step(problem: Problem, z: Floats, of: Which, damping: Floats) -> Floats:
    residual, J = problem.slopes(z, of)
    slope = np.einsum("nmi,nm->ni", J, residual) + z
    added = 1 + damping[:, None] * (1 + (J**2).sum(axis=1))
    return _solved(J, added, slope)


def _solved(J: Floats, added: Floats, slope: Floats) -> Floats:
    """Solves (J^T J + diag(added)) x = slope for each row, in as few unknowns as may be.

    Args:
        J: Slopes of equations by unknowns, ``(rows, equations, unknowns)``.
        added: Above 0, ``(rows, unknowns)``.
        slope: ``(rows, unknowns)``.

    Returns:
        ``(rows, unknowns)``; with few equations by the identity of [Woodbury1950].
    """
    across = J.transpose(0, 2, 1)
    if J.shape[1] >= J.shape[2]:
        H = across @ J
        np.einsum("nii->ni", H)[:] += added
        return np.asarray(np.linalg.solve(H, slope[..., None])[..., 0])
    alone = slope / added
    spread = across / added[..., None]
    inner = J @ spread + np.eye(J.shape[1])
    back = np.linalg.solve(inner, np.einsum("nmi,ni->nm", J, alone)[..., None])
    return np.asarray(alone - (spread @ back)[..., 0])


def _differences(patches: Sequence[Patch], predicted: Floats) -> Floats:
    if patches[0].colour:
        measured = np.array([p.colour for p in patches])
        labs = [
            colorimetry.lab_from_xyz(colorimetry.xyz_from_linear_rgb(value))
            for value in (measured, predicted)
        ]
    else:
        measured = np.array([p.reflectance for p in patches])
        labs = [colorimetry.lab(value) for value in (measured, predicted)]
    return np.asarray(colorimetry.ciede2000(*labs))
