"""Calibration on measured paint: watercolours on paper [Chen2019], read in place.

Each pigment is fitted on three of its eleven loads alone, by the same function that a painter's
spectra go through; the other loads are then predicted, and the measured mixtures of two pigments
from the two fits, no mixture having taken part. Reported beside what a plain two-constant fit
gives (a program of its own, k2 = 0.6; figures recorded with the data).
"""

from dataclasses import dataclass

import numpy as np

from schemeforge import colorimetry, optics
from schemeforge.calibration import Outcome, Read, from_spectra, spectrum_patch
from schemeforge.calibration.drawdown import NOISE
from schemeforge.optics import bands
from tests.benchmarks.calibration_truths import REFERENCE, Floats
from tests.benchmarks.film_model import Films, read_ladders, read_mixtures, read_paper

FOLDER = REFERENCE / "ntu_wpsm"
ML_TO_UM = 1000.0  # the area of a swatch is not told: films are relative
TAKEN = (0, 4, 10)  # least, middle and most of the eleven loads
GLOSS = (0.0, 0.15, 0.3, 0.45)
HAND = 0.3
_DRAWS = 160
_DARKEST = 1e-4


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Pigment:
    """A fit, and how its film grows with the load: log film = a + b log nominal."""

    outcome: Outcome
    growth: Floats

    def film(self, ml: Floats) -> Floats:
        """Film in the fit's um of a load in ml."""
        return np.asarray(np.exp(np.polyval(self.growth, np.log(ML_TO_UM * ml))))


def fitted(loads_ml: Floats, reflectance: Floats, ground: Floats) -> Pigment:
    """A pigment from its films on paper; the surface is the one most probable."""
    outcomes = []
    for w in GLOSS:
        if reflectance.min() <= w * 0.04:
            continue
        patches = [
            spectrum_patch(
                f"{ml:g} ml",
                Read(reflectance=tuple(float(v) for v in row)),
                Read(reflectance=tuple(float(v) for v in ground)),
                film_um=ML_TO_UM * float(ml),
                hand=HAND,
                noise=2 * NOISE,
            )
            for ml, row in zip(loads_ml, reflectance, strict=True)
        ]
        outcomes.append(from_spectra(patches, surface=optics.Surface(w=w)))
    best = max(outcomes, key=lambda outcome: outcome.fit.evidence)
    nominal = ML_TO_UM * loads_ml
    factors = np.array(list(best.fit.film_factors.values()))
    return Pigment(outcome=best, growth=np.polyfit(np.log(nominal), np.log(nominal * factors), 1))


def real_rows() -> list[str]:
    """Lines of the table: other loads, mixtures, and how many errors the 90 % interval covers."""
    if not FOLDER.is_dir():
        return ["measured paint: the reference folder is not here"]
    ground = read_paper(FOLDER)
    single = read_ladders(FOLDER)
    mixed = read_mixtures(FOLDER / "mixtures.csv", single.loads.shape[1])
    pigments: list[Pigment] = []
    errors: list[Floats] = []
    widths: list[Floats] = []
    rng = np.random.default_rng(1)
    for column in range(single.loads.shape[1]):
        rows = np.flatnonzero(single.loads[:, column] > 0)
        rows = rows[np.argsort(single.loads[rows, column])]
        taken = rows[list(TAKEN)]
        pigment = fitted(single.loads[taken, column], single.reflectance[taken], ground)
        pigments.append(pigment)
        others = np.setdiff1d(rows, taken)
        film = pigment.film(single.loads[others, column])
        ours = _labs(pigment, film, ground)
        truth = colorimetry.lab(np.clip(single.reflectance[others], _DARKEST, 1))
        errors.append(np.asarray(colorimetry.ciede2000(ours, truth)))
        widths.append(_widths(pigment, film, ground, ours, rng))
    loads = np.concatenate(errors)
    covered = float((loads <= np.concatenate(widths)).mean())
    ratio = float(np.median(np.concatenate(widths)) / np.median(loads))
    mix = _mixture_errors(pigments, mixed, ground)
    return [
        "measured watercolours on paper, CIEDE2000 mean / 95th percentile / most",
        f"{'other loads from three':44} {_three(loads)}   plain fit 1.41 / 3.0 / 4.4",
        f"{'  their 90 % interval':44} covers {covered:.1%}, width {ratio:.2f} times the error",
        f"{'mixtures from single pigments alone':44} {_three(mix)}   plain fit mean 6.5",
    ]


def _labs(pigment: Pigment, film: Floats, ground: Floats, logs: Floats | None = None) -> Floats:
    fit, surface = pigment.outcome.fit, pigment.outcome.surface
    both = fit.logs if logs is None else logs
    K, S = np.exp(both[..., : bands.COUNT]), np.exp(both[..., bands.COUNT :])
    return _seen(film[:, None] * K[..., None, :], film[:, None] * S[..., None, :], ground, surface)


def _seen(KX: Floats, SX: Floats, ground: Floats, surface: optics.Surface) -> Floats:
    R = optics.reflectance_over(optics.internal(ground, surface), KX, SX)
    return np.asarray(colorimetry.lab(optics.seen(R, surface)))


def _widths(
    pigment: Pigment, film: Floats, ground: Floats, nominal: Floats, rng: np.random.Generator
) -> Floats:
    rows = np.array(pigment.outcome.uncertainty().factors)
    logs = pigment.outcome.fit.logs + rng.standard_normal((_DRAWS, len(rows))) @ rows
    # A prediction varies the film by the hand as well.
    hand = np.exp(0.15 * rng.standard_normal((_DRAWS, 1, 1)))
    K, S = (np.exp(logs[:, None, part]) * hand for part in (slice(0, 36), slice(36, 72)))
    drawn = _seen(film[:, None] * K, film[:, None] * S, ground, pigment.outcome.surface)
    return np.asarray(np.percentile(colorimetry.ciede2000(drawn, nominal), 90, axis=0))


def _mixture_errors(pigments: list[Pigment], mixed: Films, ground: Floats) -> Floats:
    errors = []
    for row, read in zip(mixed.loads, mixed.reflectance, strict=True):
        KX, SX = np.zeros(bands.COUNT), np.zeros(bands.COUNT)
        w = []
        for column in np.flatnonzero(row):
            pigment = pigments[column]
            # Crowding goes by all that lies there, not by each alone.
            film = float(pigment.film(row[[column]])[0])
            KX += film * pigment.outcome.fit.absorption
            SX += film * pigment.outcome.fit.scattering
            w.append(pigment.outcome.surface.w)
        ours = _seen(KX, SX, ground, optics.Surface(w=float(np.mean(w))))
        errors.append(colorimetry.ciede2000(ours, colorimetry.lab(np.clip(read, _DARKEST, 1))))
    return np.asarray(errors)


def _three(values: Floats) -> str:
    return f"{values.mean():.2f} / {np.percentile(values, 95):.2f} / {values.max():.2f}"
