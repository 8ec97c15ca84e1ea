"""Where a zone's colours are worked out: nodes on tone, relief and along, denser where coats bend.

Spots hold their coordinates in 256 levels, and nodes lie on levels, so that a hard edge of a
coat falls between two nodes and stays hard. Between nodes a straight line is drawn; with f the
curve and h the distance of nodes its error is h^2 f''/8 [deBoor1978], which says how dense nodes
have to be. The curve is the root of what a coat lets through, exp(-depth), over a dark surface:
it bends as colours do. Strengths count in whole octaves, so that a coat that is dragged thicker
keeps its nodes, and what was worked out for them, for a good while.
"""

import math
from functools import lru_cache
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from schemeforge.appearance import PotSpectra, pot_spectra
from schemeforge.appearance.kept import Kept
from schemeforge.scheme import (
    AlongProfile,
    Coat,
    Project,
    ReliefKind,
    ReliefProfile,
    Scheme,
    Spray,
    coloured_steps,
)

LEVELS: Final = 256
_GRID: Final = np.linspace(0.0, 1.0, LEVELS)
# From nothing to all of what a coat does is some 55 CIEDE2000, of which so much may be lost
# between nodes of each axis (chosen on measured errors; a test holds whole pictures to 0.5).
_CHANGE: Final = 55.0
_LOST: Final = 0.1
_LOST_OF_TONE: Final = 0.3
# From one level to the next a colour that changes more than so much is left to change at once.
_JUMP: Final = 0.8
_FEWEST: Final = 3
# Shares of an octave's upper end at which curves are looked at: its ends, and thin films where
# another profile lets little of the coat be.
_THINNER: Final = (1.0, 0.5, 0.2)
_BARE: Final = 0.07  # reflectance of a dark primer with its surface

Levels = tuple[int, ...]
_DECAYS: Kept[tuple[float, ...]] = Kept(256)
_MIDDLES: Kept[float] = Kept(64)
Strengths = tuple[int, ...]


class Axes(NamedTuple):
    """Levels of the nodes, rising, from 0 to 255; a single one where nothing depends on it."""

    tone: Levels
    relief: Levels
    along: Levels

    @property
    def shape(self) -> tuple[int, int, int]:
        """How many nodes each axis has."""
        return (len(self.tone), len(self.relief), len(self.along))

    @property
    def places(self) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
        """The nodes as 0 to 1."""
        return (_GRID[list(self.tone)], _GRID[list(self.relief)], _GRID[list(self.along)])


def axes_of(
    project: Project,
    scheme: Scheme,
    zone_id: str,
    group_id: str | None = None,
    steps: int | None = None,
) -> Axes:
    """The nodes that a zone's stack needs."""
    project.zone(zone_id)
    stack = coloured_steps(scheme, zone_id, group_id)[:steps]
    tone: Levels = (0,)
    reliefs, alongs = [], []
    for step in stack:
        if isinstance(step.layer, Spray):
            tone = _tones(*_sprayed(project, scheme, step.layer))
        coat = step.coat
        if coat is None:
            continue
        relief, along = coat.placement.relief, coat.placement.along
        if relief.kind is ReliefKind.EVEN and along.is_even:
            continue
        strengths = _strengths(project, scheme, coat)
        if relief.kind is not ReliefKind.EVEN:
            reliefs.append((relief, strengths))
        if not along.is_even:
            alongs.append((along, strengths))
    return Axes(tone, _spread(tuple(reliefs)), _spread(tuple(alongs)))


def _octave(value: float) -> int:
    return max(-8, min(12, math.ceil(math.log2(max(value, 1e-9)))))


def _strengths(project: Project, scheme: Scheme, coat: Coat) -> Strengths:
    """Optical depth of the coat down and up in its weakest, middle and strongest band, octaves."""
    pot = pot_spectra(project, scheme.mix(coat.mix_id))
    film = 2.0 * coat.wet_um * coat.passes
    found = {_octave(film * decay) for decay in _DECAYS.get((pot,), (), lambda: _decays(pot))}
    return tuple(sorted(found))


def _decays(pot: PotSpectra) -> tuple[float, ...]:
    K, S = pot.absorption, pot.scattering
    decay = np.sort(np.sqrt(K * (K + 2 * S)))
    return (float(decay[1]), float(decay[len(decay) // 2]), float(decay[-2]))


def _sprayed(project: Project, scheme: Scheme, spray: Spray) -> tuple[int, int]:
    """Octaves of the spray's scattering at its peak, and of how many droplets that is."""
    pot = pot_spectra(project, scheme.mix(spray.mix_id))
    middle = _MIDDLES.get((pot,), (), lambda: float(np.median(pot.scattering)))
    return _octave(middle * spray.peak_um), _octave(spray.peak_um / spray.droplet_um)


@lru_cache(maxsize=64)
def _tones(scattering: int, droplets: int) -> Levels:
    """Nodes of tone: as dense as a smooth film and as spots that are hit or missed ask for."""
    full = 2.0**scattering / (1.0 + 2.0**scattering)
    lights = []
    for share in _THINNER[:2]:
        smooth = 2.0**scattering * share * _GRID
        hit = 1.0 - np.exp(-(2.0**droplets) * share * _GRID)
        lights += [smooth / (1.0 + smooth), full * hit]
    curves = [np.sqrt(_BARE + (1.0 - _BARE) * light) for light in lights]
    return _levels([curves], _LOST_OF_TONE, jump=math.inf)


@lru_cache(maxsize=1024)
def _spread(profiles: tuple[tuple[ReliefProfile | AlongProfile, Strengths], ...]) -> Levels:
    """Nodes so dense that no straight piece misses what the coats let through by too much."""
    if not profiles:
        return (0,)
    curves = []
    for profile, strengths in profiles:
        film = _film(profile)
        depths = [2.0**octave * share for octave in strengths for share in _THINNER]
        curves.append([np.sqrt(_BARE + (1.0 - _BARE) * np.exp(-d * film)) for d in depths])
    return _levels(curves, _LOST)


def _film(profile: ReliefProfile | AlongProfile) -> NDArray[np.float64]:
    if isinstance(profile, ReliefProfile):
        return profile.film(_GRID)
    return profile.share(_GRID)


def _levels(curves: list[list[NDArray[np.float64]]], lost: float, *, jump: float = _JUMP) -> Levels:
    """So many nodes, and so spread, that straight lines between them lose no more than that.

    Of each group of curves the one that bends most counts; groups add up.
    """
    slope = np.abs(np.diff(np.concatenate(curves))).max(axis=0)
    bend = np.zeros(LEVELS)
    bend[1:-1] = sum(np.abs(np.diff(group, 2)).max(axis=0) for group in curves)
    bend *= (LEVELS - 1) ** 2
    bend[0], bend[-1] = bend[1], bend[-2]
    dense = np.minimum(np.sqrt(bend * (_CHANGE / (8.0 * lost))), LEVELS - 1.0) + 1.0
    rising = np.concatenate([[0.0], np.cumsum(0.5 * (dense[1:] + dense[:-1]))]) / (LEVELS - 1)
    count = max(_FEWEST, math.ceil(rising[-1]) + 1)
    nodes = np.interp(np.linspace(0.0, rising[-1], count), rising, np.arange(LEVELS))
    jumps = np.flatnonzero(slope * _CHANGE > jump).tolist()
    beside = {n + k for n in jumps for k in (0, 1)}
    return tuple(sorted({0, LEVELS - 1, *np.rint(nodes).astype(int).tolist(), *beside}))
