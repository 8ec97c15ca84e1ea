"""The one fit: smooth log K, log S and films of strokes to any set of patches.

Maximum a posteriori by damped Gauss-Newton steps [Levenberg1944] [Marquardt1963] on some thirty
unknowns. The inverse of the same matrix is the posterior covariance, and its determinant tells
how probable the patches are under a prior (Laplace's approximation [MacKay1992]), by which the
liveliness of the spectra is chosen; what the other choices would have given counts as
uncertainty.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from schemeforge import colorimetry, optics
from schemeforge.calibration.patches import Hiding, Patch, check_patches, stroke_of
from schemeforge.calibration.prior import ANY_KIND, LIVELY, OF_SPECTRA, Floats, Prior
from schemeforge.calibration.problem import Problem
from schemeforge.optics import bands

_ROUNDS: Final = 30
_TRIES: Final = 8
_DONE: Final = 1e-6  # of the cost
_LEAST_SHARE: Final = 1e-3  # of all probability, below which a prior is out of the running


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
    fits: list[Fit] = []
    for share in LIVELY:
        start = fits[-1] if fits else None
        fits.append(_fitted(patches, surface, prior.lively(share), hiding, start))
    return _averaged(fits)


def _averaged(fits: list[Fit]) -> Fit:
    """The most probable of the fits, as unsure as all of them together are about it."""
    evidence = np.array([fit.evidence for fit in fits])
    best = fits[int(np.argmax(evidence))]
    share = np.exp(evidence - evidence.max())
    share /= share.sum()
    rows = [
        np.sqrt(w) * np.vstack([fit.factor, fit.logs - best.logs])
        for w, fit in zip(share, fits, strict=True)
        if w > _LEAST_SHARE
    ]
    return replace(best, factor=np.vstack(rows))


def _fitted(
    patches: Sequence[Patch],
    surface: optics.Surface,
    prior: Prior,
    hiding: Hiding | None,
    start: Fit | None,
) -> Fit:
    problem = Problem(patches, surface, prior, hiding)
    z = np.zeros(problem.size)
    if start is not None:
        z[: problem.rank] = prior.unknowns(start.logs)
    z = _most_probable(problem, z)
    residual, J = problem.slopes(z)
    values, vectors = np.linalg.eigh(J.T @ J + np.eye(problem.size))
    predicted = problem.predicted(z)
    films = problem.film_factors(z)
    return Fit(
        logs=problem.logs(z),
        factor=problem.factor_of((vectors / np.sqrt(values)).T),
        film_factors={stroke_of(n, p): float(films[n]) for n, p in enumerate(patches)},
        predicted=predicted,
        residual=_differences(patches, predicted),
        misfit=float(np.sqrt((residual**2).mean())),
        evidence=-0.5 * float((residual**2).sum() + z @ z + np.log(values).sum()),
    )


def _most_probable(problem: Problem, z: Floats) -> Floats:
    cost = problem.cost(z)
    damping = 1e-2
    for _ in range(_ROUNDS):
        residual, J = problem.slopes(z)
        H = J.T @ J + np.eye(problem.size)
        slope = J.T @ residual + z
        for _ in range(_TRIES):
            trial = z - np.linalg.solve(H + damping * np.diag(np.diag(H)), slope)
            trial_cost = problem.cost(trial)
            if trial_cost < cost:
                break
            damping *= 4
        else:
            break
        gain, z, cost = cost - trial_cost, trial, trial_cost
        damping = max(damping / 5, 1e-7)
        if gain < _DONE * (1 + cost):
            break
    return z


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
