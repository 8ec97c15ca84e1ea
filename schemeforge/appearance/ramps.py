"""All zones of a scheme at once: ramps from recess to raised edge after every coat.

What is shared is worked out once: a coat's film over relief is the same on every zone, zones
with the same coats share their folds, zones that face alike share their grounds. What is left
is done on one large array.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from schemeforge.appearance.folding import Film, Fold, film_of, lay, seen_through
from schemeforge.appearance.look import Look, look_of
from schemeforge.appearance.pots import pot_spectra
from schemeforge.appearance.stages import coat_films
from schemeforge.appearance.undercoat import Grounds, zone_grounds
from schemeforge.optics import bands
from schemeforge.scheme import (
    Coat,
    Primer,
    Project,
    Scheme,
    Spray,
    Step,
    Viewing,
    Zone,
    coloured_steps,
)

# Stages or coats worked on at a time, so that arrays stay in the second-level cache.
_AT_ONCE = 8


@dataclass(frozen=True, slots=True)
class ZoneRamp:
    """A zone's ramps.

    Args:
        zone: The zone.
        steps: Its coloured steps, one a stage; empty for bare plastic, which has one stage.
        xyz: ``(stages, points, 3)``, adapted to D65, white Y = 1.
    """

    zone: Zone
    steps: tuple[Step, ...]
    xyz: NDArray[Any]


@dataclass(frozen=True, slots=True)
class SchemeRamps:
    """Ramps of all zones of a scheme, in the project's order, at one place along the part."""

    scheme: Scheme
    along: float
    zones: tuple[ZoneRamp, ...]

    def zone(self, zone_id: str) -> ZoneRamp:
        """The ramps of one zone."""
        return next(ramp for ramp in self.zones if ramp.zone.id == zone_id)


@dataclass(frozen=True, slots=True)
class _Job:
    """One stage to be seen: its fold (None over the bare undercoat) and its grounds' key."""

    fold: Fold | None
    under: tuple[str, ...]
    tones: tuple[float, float]


def ramp_tones(zone: Zone, count: int) -> NDArray[np.float64]:
    """Tone along a ramp of the zone: from its recesses to its raised edges, ``(count,)``."""
    return np.linspace(zone.tones[0], zone.tones[1], count)


def scheme_ramps(
    project: Project,
    scheme: Scheme,
    viewing: Viewing | None = None,
    *,
    count: int = 64,
    along: float = 0.5,
    group_id: str | None = None,
) -> SchemeRamps:
    """Ramps of every zone after every coat; tone and relief go together.

    Args:
        project: The document.
        scheme: One of its schemes.
        viewing: Light, observer, finish, wet or dry; the project's own where None.
        count: Points from recess to raised edge.
        along: Place along the part, 0 to 1, same for all zones.
        group_id: The group whose share of the coats counts; None for the full recipe.

    Raises:
        UnknownNameError: For a light that does not exist.
        PaintMissingError: For a paint that the project does not carry.
    """
    look = look_of(project, viewing)
    stacks = [coloured_steps(scheme, zone.id, group_id) for zone in project.zones]
    laid = _Films(project, scheme, look, count, along)
    jobs = [
        job
        for zone, steps in zip(project.zones, stacks, strict=True)
        for job in _jobs(steps, zone, laid)
    ]
    xyz = _see_all(project, scheme, jobs, look, count)
    ramps, first = [], 0
    for zone, steps in zip(project.zones, stacks, strict=True):
        last = first + max(len(steps), 1)
        ramps.append(ZoneRamp(zone, steps, xyz[first:last]))
        first = last
    return SchemeRamps(scheme, along, tuple(ramps))


class _Films:
    """Every coat's film entries over relief, computed in one batch, and folds kept by prefix."""

    def __init__(
        self, project: Project, scheme: Scheme, look: Look, count: int, along: float
    ) -> None:
        relief = np.linspace(0.0, 1.0, count)
        place = np.full(1, along)
        coats = [(s.id, s.layer) for s in scheme.steps if isinstance(s.layer, Coat)]
        self._row = {step_id: n for n, (step_id, _) in enumerate(coats)}
        self._folds: dict[tuple[str, ...], Fold | None] = {(): None}
        K = np.empty((len(coats), 1, bands.COUNT))
        S = np.empty_like(K)
        milk = np.empty((len(coats), 1, 1))
        film = np.empty((len(coats), count, 1))
        for n, (_, coat) in enumerate(coats):
            pot = pot_spectra(project, scheme.mix(coat.mix_id))
            K[n, 0], S[n, 0], milk[n] = pot.absorption, pot.scattering, pot.binder
            film[n, :, 0] = coat_films(coat, relief, place)
        self._dry = _in_chunks(film, K, S)
        self._wet = self._dry
        if look.is_wet:
            self._wet = _in_chunks(film, K, S + look.milk_per_um * milk)

    def after(self, prefix: tuple[str, ...]) -> Fold | None:
        """The dry fold of those coats, lowest first."""
        if prefix not in self._folds:
            self._folds[prefix] = lay(self._dry[self._row[prefix[-1]]], self.after(prefix[:-1]))
        return self._folds[prefix]

    def seen_after(self, prefix: tuple[str, ...]) -> Fold | None:
        """The fold with its last coat as the look shows it, wet or dry."""
        if self._wet is self._dry or not prefix:
            return self.after(prefix)
        return lay(self._wet[self._row[prefix[-1]]], self.after(prefix[:-1]))


def _in_chunks(film: NDArray[Any], K: NDArray[Any], S: NDArray[Any]) -> list[Film]:
    """Entries of each coat, ``(points, 36)``, a few coats at a time."""
    rows: list[Film] = []
    for first in range(0, len(film), _AT_ONCE):
        some = slice(first, first + _AT_ONCE)
        reflects, through = film_of(film[some] * K[some], film[some] * S[some])
        rows += [Film(reflects[n], through[n]) for n in range(len(through))]
    return rows


def _jobs(steps: tuple[Step, ...], zone: Zone, laid: _Films) -> list[_Job]:
    if not steps:
        return [_Job(None, (), zone.tones)]
    under: tuple[str, ...] = ()
    prefix: tuple[str, ...] = ()
    jobs = []
    for step in steps:
        if isinstance(step.layer, Primer | Spray):
            under = (*under, step.id)
        else:
            prefix = (*prefix, step.id)
        jobs.append(_Job(laid.seen_after(prefix), under, zone.tones))
    return jobs


def _see_all(
    project: Project, scheme: Scheme, jobs: list[_Job], look: Look, count: int
) -> NDArray[Any]:
    """Colours of all jobs, ``(jobs, count, 3)``; those over the same grounds in one go."""
    matrix = look.matrix()
    xyz = np.empty((len(jobs), count, 3))
    batches: dict[tuple[tuple[str, ...], tuple[float, float], bool], list[int]] = {}
    for n, job in enumerate(jobs):
        batches.setdefault((job.under, job.tones, job.fold is None), []).append(n)
    for (under, tones, is_bare), rows in batches.items():
        steps = tuple(scheme.step(step_id) for step_id in under)
        milk = look.milk_per_um if is_bare else 0.0
        grounds = zone_grounds(project, scheme, steps, np.linspace(*tones, count), milk)
        if is_bare:
            xyz[rows] = seen_through(None, grounds, look) @ matrix
            continue
        for first in range(0, len(rows), _AT_ONCE):
            some = rows[first : first + _AT_ONCE]
            xyz[some] = _see_batch([jobs[n].fold for n in some], grounds, look) @ matrix
    return xyz


def _see_batch(folds: list[Fold | None], grounds: Grounds, look: Look) -> NDArray[Any]:
    stacked = Fold(*(np.stack(entry) for entry in zip(*(f for f in folds if f), strict=True)))
    return seen_through(stacked, grounds, look)
