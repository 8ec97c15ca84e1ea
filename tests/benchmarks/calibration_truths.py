"""Truths for the calibration table, their predictions, and plain RGB Kubelka-Munk beside them.

Two kinds of truth, neither drawn from the fitter's own prior: K and S of real artist acrylics from
the published tables in the reference folder (read in place, scaled to films that do not hide), and
synthetic spectra of another make, with bands that fall as powers and sigmoid edges where the
prior has Gaussian processes and the starter shelf Gaussian bands.
"""

import csv
import os
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry, optics
from schemeforge.calibration.grounds import BLACK, GREY, WHITE
from schemeforge.optics import bands

Floats = NDArray[np.float64]
_BESIDE = Path(__file__).resolve().parents[3] / "shared" / "reference"
REFERENCE = Path(os.environ.get("SCHEMEFORGE_REFERENCE", str(_BESIDE)))
TABLES = (("acrylic_27_ks_2005.csv", "pigment"), ("acrylic_19_ks_2016.csv", "colour_index"))
NM = bands.wavelengths_nm()
FILM_UM = 30.0
SURFACE = optics.MATT
FACTORS = (0.5, 1.0, 2.0, 4.0)
# What predictions are asked over: black, grey, off-white, white, a warm and a bluish ground.
NEW_GROUNDS = np.array(
    [
        BLACK,
        GREY,
        np.full(bands.COUNT, 0.5),
        WHITE,
        np.interp(NM, [380, 480, 600, 730], [0.2, 0.25, 0.75, 0.8]),
        np.interp(NM, [380, 450, 560, 730], [0.6, 0.65, 0.3, 0.2]),
    ]
)
# CIEDE2000 between the film over black and over white: neither hidden nor hardly there.
APART = (5.0, 70.0)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Truth:
    """A paint whose film of ``FILM_UM`` is one coat."""

    name: str
    K: Floats
    S: Floats
    synthetic: bool

    @property
    def in_gamut(self) -> bool:
        """Whether one coat over black and over white can be shown on a screen."""
        anchors = np.array([colour(self, BLACK), colour(self, WHITE)])
        return bool(((anchors > 0) & (anchors < 1)).all())


def published() -> dict[str, tuple[Floats, Floats]]:
    """K and S of both tables by pigment; white of each scatters 1."""
    found: dict[str, dict[str, Floats]] = {}
    for file, key in TABLES:
        year = Path(file).stem.rsplit("_", 1)[1]
        with (REFERENCE / "ks_tables" / file).open(encoding="utf-8", newline="") as stream:
            for row in csv.DictReader(stream):
                values = np.array([float(row[f"{nm:.0f}"]) for nm in NM])
                found.setdefault(f"{row[key]} ({year})", {})[row["quantity"]] = values
    return {
        name: (np.maximum(row["K"], 1e-6), np.maximum(row["S"], 1e-6))
        for name, row in found.items()
    }


def synthetic(count: int, rng: np.random.Generator) -> dict[str, tuple[Floats, Floats]]:
    """Invented K and S of another make than the prior's and the starter shelf's."""
    found = {}
    for number in range(count):
        K = 10 ** rng.uniform(-3.5, -1.2) * (550 / NM) ** rng.uniform(-1, 4)
        for _ in range(rng.integers(1, 4)):
            off = np.abs(NM - rng.uniform(370, 740)) / rng.uniform(18, 60)
            K = K + 10 ** rng.uniform(-1.5, 0.5) / (1 + off ** rng.uniform(2.5, 5))
        if rng.random() < 0.4:
            edge = (NM / rng.uniform(430, 600)) ** rng.uniform(15, 45)
            K = K + 10 ** rng.uniform(-1, 0.5) / (1 + edge)
        S = 10 ** rng.uniform(-2, 0.3) * (550 / NM) ** rng.uniform(-0.5, 2.5)
        S = S * (1 + rng.uniform(0, 0.5) * np.tanh((NM - rng.uniform(420, 680)) / 30))
        found[f"synthetic {number + 1}"] = (K, S)
    return found


def truths(seed: int, synthetic_count: int = 46, films: int = 1) -> list[Truth]:
    """Truths with films drawn by the seed so that a coat neither hides nor is hardly there."""
    rng = np.random.default_rng(seed)
    tables = published()
    found = []
    for name, (K, S) in {**tables, **synthetic(synthetic_count, rng)}.items():
        for _ in range(films):
            for _ in range(60):
                X = np.exp(rng.uniform(np.log(0.05), np.log(8))) / FILM_UM
                truth = Truth(name=name, K=X * K, S=X * S, synthetic=name not in tables)
                pair = labs(np.array([colour(truth, BLACK), colour(truth, WHITE)]))
                if APART[0] < colorimetry.ciede2000(pair[0], pair[1]) < APART[1]:
                    found.append(truth)
                    break
    return found


def seen(K: Floats, S: Floats, film_um: Floats | float, ground: Floats) -> Floats:
    """Reflectance as seen of films over grounds as seen, ``(..., 36)``."""
    below = optics.internal(ground, SURFACE)
    KX, SX = np.broadcast_arrays(film_um * K, film_um * S)
    return np.asarray(optics.seen(optics.reflectance_over(below, KX, SX), SURFACE))


def linear(reflectance: Floats) -> Floats:
    """Linear sRGB of reflectances."""
    return np.asarray(colorimetry.linear_rgb_from_xyz(colorimetry.xyz(reflectance)))


def labs(rgb: Floats) -> Floats:
    """CIELAB of linear sRGB."""
    return np.asarray(colorimetry.lab_from_xyz(colorimetry.xyz_from_linear_rgb(rgb)))


def colour(truth: Truth, ground: tuple[float, ...], film_um: float = FILM_UM) -> Floats:
    """Linear sRGB of a film of the truth over a ground."""
    return linear(seen(truth.K, truth.S, film_um, np.array(ground)))


def predictions(K: Floats, S: Floats, factors: tuple[float, ...] = FACTORS) -> Floats:
    """CIELAB over every new ground at every factor of a coat, ``(..., factors, grounds, 3)``."""
    films = FILM_UM * np.array(factors)[:, None, None]
    K, S = K[..., None, None, :], S[..., None, None, :]
    return labs(linear(seen(K, S, films, NEW_GROUNDS)))


def rgb_paint(over_black: Floats, over_white: Floats) -> tuple[Floats, Floats]:
    """Plain RGB Kubelka-Munk: K and S per channel from linear sRGB over black and over white.

    Given the benefit of the surface correction and of clipping into what a film can do.
    """
    black, white = (linear(np.array(ground)) for ground in (BLACK, WHITE))
    B, W, gb, gw = (
        np.clip(_inside(value), 1e-4, 0.995) for value in (over_black, over_white, black, white)
    )
    W = np.maximum(W, B + 1e-4)
    A = np.stack([np.stack([B + gb, -(1 + B * gb)], -1), np.stack([W + gw, -(1 + W * gw)], -1)], -2)
    P = np.linalg.solve(A, np.stack([gb - B, gw - W], -1)[..., None])[..., 0]
    M, N = np.maximum(P[:, 0] - P[:, 1], 1e-6), np.maximum(P[:, 1], 1e-6)
    t = np.sqrt(np.clip(M * (M + 2 * N), 1e-12, 1 - 1e-6))
    stretch = np.arctanh(t) / t / FILM_UM
    return M * stretch, N * stretch


def rgb_predictions(K: Floats, S: Floats, factors: tuple[float, ...] = FACTORS) -> Floats:
    """CIELAB of `rgb_paint` over every new ground at every factor, ``(factors, grounds, 3)``."""
    below = np.clip(_inside(linear(NEW_GROUNDS)), 0, 1)
    films = FILM_UM * np.array(factors)[:, None, None]
    KX, SX = np.broadcast_arrays(films * K, films * S)
    return labs(np.asarray(optics.seen(optics.reflectance_over(below, KX, SX), SURFACE)))


def _inside(value: Floats) -> Floats:
    """Undoes the surface channel by channel, without complaint about what it cannot give."""
    body = (np.asarray(value) - SURFACE.w * SURFACE.k1) / (1 - SURFACE.k1)
    return np.asarray(body / ((1 - SURFACE.k2) + SURFACE.k2 * body))
