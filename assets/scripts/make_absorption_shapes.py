"""Makes ``assets/absorption_shapes.json``: what the absorption of paints looks like over the bands.

A few thousand spectra of log K are invented, and a handful of Gaussians fitted to their shapes (the
level taken out) by expectation and maximisation [Dempster1977]. Half of them follow from the
physics of colourants: bands with their vibronic shoulders, absorption edges, the slow slopes of
blacks and earths, over a faint floor. The other half takes the ratio K/S of opaque layers from the
reflectances of the 99 colour samples of [CIE224], real surfaces of every kind, by the formula of
[Kubelka1948], made weaker or purer by chance. Some are blended, as bottled paints are. No published
K and S of paint takes part, so that such tables can judge what comes of it.

Run ``python assets/scripts/make_absorption_shapes.py``; the file is the same every time.
"""

import json
import math
from pathlib import Path
from typing import Any

import numpy as np
from colour import SpectralShape
from colour.quality.cfi2017 import load_TCS_CIE2017
from numpy.typing import NDArray

from schemeforge.optics import bands

Floats = NDArray[np.float64]
TARGET = Path(__file__).resolve().parent.parent / "absorption_shapes.json"
FORMAT = "schemeforge absorption shapes"
VERSION = 1
NM = bands.wavelengths_nm()
EV = 1239.84 / NM
SHAPES = 8
ROUNDS = 20
INVENTED = 150  # spectra from physics a round
FAINTEST = 1e-6
FINE, FINE_NM = 0.12, 20.0  # of log K: fine structure that no sample shows
POOLED = 20.0  # samples' worth of the mean covariance in each
KEPT = 1e-4
DIGITS = 5


def invented(rng: np.random.Generator) -> Floats:
    """K of a colourant: bands, edges or slopes over a floor, ``(36,)``."""
    K = 10 ** rng.uniform(-4, -1.5) * (550 / NM) ** rng.uniform(0, 3)
    kind = rng.integers(4)
    if kind == 0:
        centre, width = rng.uniform(1.75, 2.9), rng.uniform(0.06, 0.2)
        for step in range(rng.integers(1, 4)):
            height = 10 ** rng.uniform(-0.8, 0.4) / (1 + step)
            K = K + height * _bell(centre + 0.17 * step, width)
        if rng.random() < 0.6:
            K = K + 10 ** rng.uniform(-1, 0.4) * _bell(3.4, 0.3)
    elif kind == 1:
        place, width = rng.uniform(2.0, 2.75), rng.uniform(0.03, 0.1)
        K = K + 10 ** rng.uniform(-0.6, 0.6) / (1 + np.exp((place - EV) / width))
    elif kind == 2:
        K = K + 10 ** rng.uniform(-1.5, 0.8) * (550 / NM) ** rng.uniform(-0.5, 5)
    else:
        for _ in range(2):
            K = K + 10 ** rng.uniform(-1, 0.3) * _bell(
                rng.uniform(1.6, 3.3), rng.uniform(0.1, 0.35)
            )
    return np.asarray(K)


def _bell(centre: float, width: float) -> Floats:
    return np.asarray(np.exp(-0.5 * ((EV - centre) / width) ** 2))


def surfaces() -> Floats:
    """Reflectance of the colour samples at the bands, ``(99, 36)``."""
    samples = load_TCS_CIE2017(SpectralShape(380, 780, 1))
    return np.array([np.interp(NM, samples.wavelengths, row) for row in samples.values.T])


def of_surfaces(reflectance: Floats, rng: np.random.Generator) -> list[Floats]:
    """K/S of opaque layers, purer or weaker by chance."""
    R = np.clip(reflectance, 0.015, 0.98)
    ratio = (1 - R) ** 2 / (2 * R)
    return [row ** rng.uniform(0.9, 1.7) * 10 ** rng.uniform(-0.7, 0.7) for row in ratio]


def scattering(K: Floats, rng: np.random.Generator) -> Floats:
    """S that may go with it: a power law by size, uneven, rising beyond an absorption band."""
    wide = rng.random() < 0.5
    power = rng.uniform(-2.2, 2.4) if wide else rng.uniform(-0.3, 1.8)
    slope = np.gradient(np.log(K), NM)
    slope = slope / max(float(np.abs(slope).max()), 0.01)
    apart = NM[:, None] - NM[None, :]
    smooth = np.exp(-0.5 * (apart / rng.uniform(45, 90)) ** 2) + 1e-6 * np.eye(len(NM))
    uneven = rng.choice([0.0, 0.15, 0.4]) * np.linalg.cholesky(smooth) @ rng.standard_normal(36)
    level = 10 ** rng.uniform(-2.2, 0.4)
    return np.asarray(level * (550 / NM) ** power * np.exp(uneven - rng.uniform(-0.2, 0.7) * slope))


def shapes(rng: np.random.Generator) -> Floats:
    """Log K of many paints without its level, ``(paints, 36)``."""
    real = surfaces()
    found: list[Floats] = []
    for _ in range(ROUNDS):
        alone = [invented(rng) for _ in range(INVENTED)] + of_surfaces(real, rng)
        pairs = []
        for ratio in alone:
            S = scattering(np.maximum(ratio, 1e-5), rng)
            even = rng.random() < 0.5
            K = ratio * S / np.exp(np.log(S).mean()) if even else ratio
            pairs.append(np.maximum(K, FAINTEST))
        for K in pairs:
            other = pairs[rng.integers(len(pairs))]
            blended = K + rng.uniform(0.03, 1) * other if rng.random() < 0.3 else K
            found.append(np.log(blended) - np.log(blended).mean())
    return np.array(found)


def gaussians(X: Floats, count: int, rng: np.random.Generator) -> tuple[Floats, Floats, Floats]:
    """Shares ``(count,)``, means ``(count, 36)`` and covariances of a mixture of Gaussians."""
    apart = NM[:, None] - NM[None, :]
    fine = FINE**2 * np.exp(-0.5 * (apart / FINE_NM) ** 2) + 1e-6 * np.eye(len(NM))
    belongs = np.eye(count)[_nearest(X, count, rng)]
    for _ in range(60):
        size = belongs.sum(axis=0)
        share = (size + 1) / (len(X) + count)
        mean = belongs.T @ X / size[:, None]
        spread = [((X - m) * b[:, None]).T @ (X - m) for m, b in zip(mean, belongs.T, strict=True)]
        pooled = sum(spread) / len(X)
        covariance = np.array(
            [(c + POOLED * pooled) / (n + POOLED) + fine for c, n in zip(spread, size, strict=True)]
        )
        log = np.stack(
            [_density(X, *one) for one in zip(share, mean, covariance, strict=True)], axis=1
        )
        belongs = np.exp(log - log.max(axis=1, keepdims=True))
        belongs /= belongs.sum(axis=1, keepdims=True)
    return share, mean, covariance


def _nearest(X: Floats, count: int, rng: np.random.Generator) -> NDArray[np.intp]:
    """Which of the means each belongs to, means moved until they rest."""
    centre = X[rng.choice(len(X), count, replace=False)]
    for _ in range(40):
        nearest = ((X[:, None] - centre[None]) ** 2).sum(axis=-1).argmin(axis=1)
        centre = np.array([X[nearest == i].mean(axis=0) for i in range(count)])
    return np.asarray(nearest)


def _density(X: Floats, share: float, mean: Floats, covariance: Floats) -> Floats:
    off = X - mean
    log_volume = float(np.linalg.slogdet(covariance)[1])
    squares = (off * np.linalg.solve(covariance, off.T).T).sum(axis=1)
    return np.asarray(math.log(share) - 0.5 * (log_volume + squares))


def entry(share: float, mean: Floats, covariance: Floats) -> dict[str, Any]:
    """Plain fields of a shape: covariance as rows whose squares sum to it."""
    values, vectors = np.linalg.eigh(covariance)
    keep = values > values[-1] * KEPT
    rows = (vectors[:, keep] * np.sqrt(values[keep])).T[::-1]
    return {
        "share": round(float(share), DIGITS),
        "mean": [round(float(v), DIGITS) for v in mean],
        "rows": [[round(float(v), DIGITS) for v in row] for row in rows],
    }


def text() -> str:
    """The whole file, a spectrum a line."""
    rng = np.random.default_rng(1)
    found = gaussians(shapes(rng), SHAPES, rng)
    entries = [entry(*one) for one in zip(*found, strict=True)]
    data = {"format": FORMAT, "version": VERSION, "shapes": entries}
    lines = json.dumps(data).replace("[[", "[\n[").replace("], [", "],\n[")
    return lines.replace('"mean"', '\n"mean"').replace('"rows"', '\n"rows"') + "\n"


if __name__ == "__main__":
    TARGET.write_text(text(), encoding="utf-8")
    print(f"{TARGET.name}: {SHAPES} shapes")
