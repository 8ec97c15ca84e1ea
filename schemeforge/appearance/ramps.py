"""All zones of a scheme at once: ramps from recess to raised edge after every coat.

What is shared is worked out once: a coat's film over relief is the same on every zone, zones
with the same coats share their folds, zones that face alike share their grounds. What is left
is done on one large array.
"""

from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from schemeforge.appearance.columns import AT_ONCE, coat_films
from schemeforge.appearance.folding import (
    ANEW,
    Film,
    Fold,
    Room,
    Strength,
    film_of,
    lay,
    room_for,
    short_buffers,
    strength_of,
    xyz_through,
)
from schemeforge.appearance.look import Look, look_of
from schemeforge.appearance.pots import pot_spectra
from schemeforge.appearance.stages import ramp_tones
from schemeforge.appearance.undercoat import Grounds, undercoat_of
from schemeforge.optics import bands
from schemeforge.scheme import Coat, Project, Scheme, Spray, Step, Viewing, Zone, coloured_steps


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


def scheme_ramps(
    project: Project,
    scheme: Scheme,
    viewing: Viewing | None = None,
    *,
    count: int = 64,
    along: float = 0.5,
    group_id: str | None = None,
    dtype: type[np.floating[Any]] = np.float64,
) -> SchemeRamps:
    """Ramps of every zone after every coat; tone and relief go together.

    Args:
        project: The document.
        scheme: One of its schemes.
        viewing: Light, observer, finish, wet or dry; the project's own where None.
        count: Points from recess to raised edge.
        along: Place along the part, 0 to 1, same for all zones.
        group_id: The group whose share of the coats counts; None for the full recipe.
        dtype: float32 is quicker and good for pixels only.

    Raises:
        UnknownNameError: For a light that does not exist.
        PaintMissingError: For a paint that the project does not carry.
    """
    look = look_of(project, viewing, dtype)
    stacks = [coloured_steps(scheme, zone.id, group_id) for zone in project.zones]
    bench = _Bench(project, scheme, look, count, along)
    rows = [bench.rows(zone, steps) for zone, steps in zip(project.zones, stacks, strict=True)]
    with short_buffers():
        xyz = bench.see()
    each = zip(project.zones, stacks, rows, strict=True)
    return SchemeRamps(
        scheme, along, tuple(ZoneRamp(zone, steps, xyz[row]) for zone, steps, row in each)
    )


class _Sight(NamedTuple):
    """What the colours of a stage follow from: equal ones are worked out once.

    Args:
        coats: Ids of the coats, lowest first.
        undercoat: Ids of the steps below them.
        tones: Of recesses and raised edges; None where nothing is sprayed.
    """

    coats: tuple[str, ...]
    undercoat: tuple[str, ...]
    tones: tuple[float, float] | None


class _Bench:
    """Collects the stages of all zones, folds their coats once each, and then sees them all."""

    def __init__(
        self, project: Project, scheme: Scheme, look: Look, count: int, along: float
    ) -> None:
        self._project = project
        self._scheme = scheme
        self._look = look
        self._count = count
        self._relief = np.linspace(0.0, 1.0, count)
        self._along = np.full(1, along)
        self._width = count * bands.COUNT
        self._steps = {step.id: step for step in scheme.steps}
        self._coats = {step.id: step.coat for step in scheme.steps if step.coat is not None}
        self._films: dict[str, Film] = {}
        self._strengths: dict[tuple[str, float], Strength] = {}
        self._folds: dict[tuple[str, ...], Fold] = {}
        self._rows: dict[_Sight, int] = {}
        self._tones: dict[tuple[float, float] | None, NDArray[np.float64]] = {}
        self._most = max(1, AT_ONCE // self._width)
        self._room = room_for(self._most, self._width, look.dtype)
        self._stack = np.empty((3, self._most, self._width), look.dtype)
        self._one = Room(*(array[0] for array in self._room if array is not None))

    def rows(self, zone: Zone, steps: tuple[Step, ...]) -> list[int]:
        """Rows of the stages of a zone among all that are to be seen."""
        under: tuple[str, ...] = ()
        coats: tuple[str, ...] = ()
        seen_at: tuple[float, float] | None = None
        found = []
        for step in steps:
            if isinstance(step.layer, Coat):
                coats = (*coats, step.id)
            else:
                under = (*under, step.id)
            if isinstance(step.layer, Spray):
                seen_at = zone.tones
                self._tones.setdefault(seen_at, ramp_tones(zone, self._count))
            sight = _Sight(coats, under, seen_at)
            found.append(self._rows.setdefault(sight, len(self._rows)))
        return found or [self._rows.setdefault(_Sight((), (), None), len(self._rows))]

    def see(self) -> NDArray[Any]:
        """Colours of all rows, ``(rows, count, 3)``; those over the same grounds in one go."""
        xyz = np.empty((len(self._rows), self._count, 3), self._look.dtype)
        over: dict[tuple[Any, ...], list[_Sight]] = {}
        for sight in self._rows:
            over.setdefault((sight.undercoat, sight.tones, not sight.coats), []).append(sight)
        grounds = self._grounds({(undercoat, bare) for undercoat, _, bare in over})
        for (undercoat, tones, bare), sights in over.items():
            below = grounds[undercoat, bare, tones]
            for first in range(0, len(sights), self._most):
                some = sights[first : first + self._most]
                xyz[[self._rows[sight] for sight in some]] = self._colours(some, below)
        return xyz

    def _grounds(self, undercoats: set[tuple[tuple[str, ...], bool]]) -> dict[Any, Grounds]:
        """Grounds laid out, by undercoat, whether it is bare, and tones."""
        found = {}
        for ids, bare in undercoats:
            steps = tuple(self._steps[step_id] for step_id in ids)
            milk = self._look.milk_per_um if bare else 0.0
            undercoat = undercoat_of(self._project, self._scheme, steps, milk)
            tones = self._tones if undercoat.spray else {None: np.zeros(1)}
            made = undercoat.grounds(list(tones.values()))
            for key, grounds in zip(tones, made, strict=True):
                found[ids, bare, key] = grounds.laid_out(self._count, self._look.dtype)
        return found

    def _colours(self, sights: list[_Sight], grounds: Grounds) -> NDArray[Any]:
        fold, room = None, ANEW
        if sights[0].coats:
            fold = Fold(*(array[: len(sights)] for array in self._stack))
            for n, sight in enumerate(sights):
                for held, entry in zip(fold, self._top(sight.coats), strict=True):
                    held[n] = entry
            room = self._room.rows(len(sights))
        return xyz_through(fold, grounds, self._look, room).reshape(len(sights), -1, 3)

    def _top(self, coats: tuple[str, ...]) -> Fold:
        """The fold of those coats, lowest first, its last coat as the look shows it."""
        if not self._look.is_wet:
            return self._dry(coats)
        lower = self._dry(coats[:-1]) if coats[:-1] else None
        return lay(self._film(coats[-1], self._look.milk_per_um), lower, self._one)

    def _dry(self, coats: tuple[str, ...]) -> Fold:
        if coats not in self._folds:
            if coats[-1] not in self._films:
                self._films[coats[-1]] = self._film(coats[-1], 0.0)
            lower = self._dry(coats[:-1]) if coats[:-1] else None
            self._folds[coats] = lay(self._films[coats[-1]], lower, self._one)
        return self._folds[coats]

    def _film(self, step_id: str, milk_per_um: float) -> Film:
        coat = self._coats[step_id]
        strength = self._strength(coat.mix_id, milk_per_um)
        film = coat_films(coat, self._relief, self._along).astype(self._look.dtype, copy=False)
        depth = np.multiply.outer(film, strength.decay[: bands.COUNT]).reshape(-1)
        return film_of(depth, strength)

    def _strength(self, mix_id: str, milk_per_um: float) -> Strength:
        key = (mix_id, milk_per_um)
        if key not in self._strengths:
            pot = pot_spectra(self._project, self._scheme.mix(mix_id))
            milky = pot.scattering + milk_per_um * pot.binder
            strength = strength_of(pot.absorption, milky, self._look.dtype)
            self._strengths[key] = strength.repeated(self._count)
        return self._strengths[key]
