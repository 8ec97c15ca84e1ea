"""A set of measured paint films as arrays, and the model that turns loads into reflectances.

Light is left to the shipped `optics` alone: the mix gives the depths, the film stands on the
paper, and the surface is Saunderson's with its k2 and with a share of first reflection that is
the row's own. What is fitted besides K and S of each pigment is how the paint was laid:

- crowding: the film grows more slowly than the load, by a power per pigment;
- gloss: watercolour evens out the paper's matt surface, so that the share of the first reflection
  that reaches the instrument starts near that of the paper and falls with the load, at a rate and
  to a level per pigment (dark rows of the data fall from 0.04 to below 0.02 as the load grows);
- a factor per pair and pigment for the pots that each pair was mixed in, near 1; it is 1 for a
  pair that was not fitted.
"""

import csv
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from schemeforge import optics

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

BANDS = optics.bands.COUNT
_COLUMNS = [f"R{nm:.0f}" for nm in optics.bands.wavelengths_nm()]
_TYPICAL_ML = 0.05  # loads are counted from here, so that powers of them stay near 1
_K1 = 0.04


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Films:
    """Measured films: loads in ml ``(rows, pigments)`` and reflectances ``(rows, bands)``."""

    loads: Floats
    reflectance: Floats
    training: Flags

    def take(self, chosen: Flags) -> "Films":
        """The rows chosen."""
        return Films(
            loads=self.loads[chosen],
            reflectance=self.reflectance[chosen],
            training=self.training[chosen],
        )

    def __add__(self, other: "Films") -> "Films":
        return Films(
            loads=np.concatenate([self.loads, other.loads]),
            reflectance=np.concatenate([self.reflectance, other.reflectance]),
            training=np.concatenate([self.training, other.training]),
        )

    def pairs(self) -> list[tuple[int, ...]]:
        """The pigments of each row, one or two of them."""
        return [tuple(int(i) for i in np.flatnonzero(row)) for row in self.loads]

    def __len__(self) -> int:
        return len(self.loads)


def read_paper(folder: Path) -> Floats:
    """Reflectance of the bare paper, ``(bands,)``."""
    return np.asarray(_spectra(_rows(folder / "paper.csv"))[0])


def read_ladders(folder: Path) -> Films:
    """The single pigments at growing loads."""
    rows = _rows(folder / "single_pigment_ladders_143.csv")
    loads = np.zeros((len(rows), 1 + max(_pigment(row["pigment_id"]) for row in rows)))
    for load, row in zip(loads, rows, strict=True):
        load[_pigment(row["pigment_id"])] = float(row["quantity_ml"])
    return Films(
        loads=loads, reflectance=_spectra(rows), training=np.ones(len(rows), dtype=np.bool_)
    )


def read_mixtures(path: Path, pigments: int) -> Films:
    """Mixtures of two pigments; ``training`` is the half that the file marks so."""
    rows = _rows(path)
    loads = np.zeros((len(rows), pigments))
    for load, row in zip(loads, rows, strict=True):
        for side in "AB":
            load[_pigment(row[f"id{side}"])] += float(row[f"q{side}_ml"])
    training = np.array([row.get("split_random") == "train" for row in rows], dtype=np.bool_)
    return Films(loads=loads, reflectance=_spectra(rows), training=training)


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _spectra(rows: list[dict[str, str]]) -> Floats:
    return np.array([[float(row[name]) for name in _COLUMNS] for row in rows])


def _pigment(name: str) -> int:
    return int(name.removeprefix("P")) - 1


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Laying:
    """How the paint was laid: what is fitted besides K and S.

    Attributes:
        k2: Logit of the surface's internal reflectance.
        paper: Logit of the share of first reflection seen of the bare paper.
        crowding: Power by which the film lags behind the load, per pigment.
        rate: Log of the rate, per ml, at which gloss grows with the load, per pigment.
        level: Logit of the share of first reflection of a thin film, per pigment.
        pots: Log of the strength of either pigment in each pair fitted, ``(pairs, 2)``.
    """

    k2: Floats
    paper: Floats
    crowding: Floats
    rate: Floats
    level: Floats
    pots: Floats

    @classmethod
    def usual(cls, pigments: int, pairs: int) -> "Laying":
        """Where a fit starts, and what it is held towards."""
        return cls(
            k2=np.array(logit(0.6)),
            paper=np.array(logit(0.88)),
            crowding=np.zeros(pigments),
            rate=np.full(pigments, np.log(3.0)),
            level=np.full(pigments, logit(0.88)),
            pots=np.zeros((pairs, 2)),
        )

    def parts(self) -> list[Floats]:
        """The fields in their order."""
        return [self.k2, self.paper, self.crowding, self.rate, self.level, self.pots]

    def flat(self) -> Floats:
        """All numbers in a row, the pots last."""
        return np.concatenate([part.ravel() for part in self.parts()])

    def unflat(self, values: Floats) -> "Laying":
        """The same shape with other numbers."""
        ends = np.cumsum([part.size for part in self.parts()])
        pieces = np.split(values, ends[:-1])
        parts = [
            piece.reshape(part.shape) for piece, part in zip(pieces, self.parts(), strict=True)
        ]
        return Laying(**dict(zip(self.__dataclass_fields__, parts, strict=True)))


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Paints:
    """A fitted set: log K and log S per ml ``(pigments, bands)``, how it was laid, on what."""

    log_K: Floats
    log_S: Floats
    laying: Laying
    known: tuple[tuple[int, ...], ...]
    paper: Floats

    def films(self, loads: Floats) -> Floats:
        """Film that each load leaves, in the unit of the loads, ``(rows, pigments)``."""
        total = loads.sum(axis=1, keepdims=True)
        lag = (loads @ self.laying.crowding)[:, np.newaxis] / total
        return np.asarray(loads * (total / _TYPICAL_ML) ** -lag * np.exp(self._pots(loads)))

    def _pots(self, loads: Floats) -> Floats:
        strength = np.zeros_like(loads)
        place = {pair: i for i, pair in enumerate(self.known)}
        for row, load in zip(strength, loads, strict=True):
            pair = tuple(int(i) for i in np.flatnonzero(load))
            if pair in place:
                row[list(pair)] = self.laying.pots[place[pair]]
        return strength

    def depths(self, loads: Floats) -> tuple[Any, Any]:
        """KX and SX of each row, ``(rows, bands)``."""
        film = self.films(loads)
        return optics.mix(film, film.sum(axis=1), np.exp(self.log_K), np.exp(self.log_S))

    def seen(self, loads: Floats, KX: Floats, SX: Floats) -> Floats:
        """Reflectance that the instrument reads of films of given depths, ``(rows, bands)``."""
        laying = self.laying
        paper = optics.Surface(float(expit(laying.paper)), _K1, float(expit(laying.k2)))
        ground = optics.internal(self.paper, paper)
        rate, level = np.exp(laying.rate), expit(laying.level)
        share = loads / loads.sum(axis=1, keepdims=True)
        w = paper.w * np.exp(-(loads @ rate)) * (share @ level)
        surface = optics.surface_map(paper)._replace(above=(w * _K1)[:, np.newaxis])
        return np.asarray(optics.apply(surface, optics.film_over(ground, KX, SX)))

    def predict(self, loads: Floats) -> Floats:
        """Reflectance that the instrument would read of loads, ``(rows, bands)``."""
        return self.seen(loads, *self.depths(loads))


def logit(share: float) -> float:
    """The number whose `expit` is the share."""
    return float(np.log(share / (1 - share)))


def expit(value: Floats) -> Floats:
    """A share between 0 and 1 for any number."""
    return np.asarray(1 / (1 + np.exp(-value)))
