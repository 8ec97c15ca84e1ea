"""Colours of a zone on a lattice of tone by relief by along, after one of its coats.

The coats are folded once for each relief and along, however many tones there are: tone only
says which grounds lie below. This is what pictures of whole models are made from.
"""

from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from schemeforge.appearance.folding import (
    Fold,
    Strength,
    film_of,
    laid_on,
    strength_of,
    xyz_through,
)
from schemeforge.appearance.grounds_series import series_of, xyz_over_series
from schemeforge.appearance.kept import Kept
from schemeforge.appearance.look import Look, look_of
from schemeforge.appearance.pots import PotSpectra, pot_spectra
from schemeforge.appearance.undercoat import Grounds, undercoat_of
from schemeforge.scheme import Coat, Project, ReliefKind, Scheme, Step, Viewing, coloured_steps

_STRENGTHS: Kept[Strength] = Kept(256)


def zone_lattice(
    project: Project,
    scheme: Scheme,
    zone_id: str,
    lattice: tuple[ArrayLike, ArrayLike, ArrayLike],
    viewing: Viewing | None = None,
    group_id: str | None = None,
    *,
    steps: int | None = None,
    dtype: type[np.floating[Any]] = np.float64,
) -> NDArray[Any]:
    """XYZ adapted to D65 on a lattice, ``(tones, reliefs, alongs, 3)``; errors as ``zone_stages``.

    Args:
        project: The document.
        scheme: One of its schemes.
        zone_id: The zone.
        lattice: Tones, reliefs and places along, 0 to 1, one row each.
        viewing: The project's own where None.
        group_id: The group whose share of the coats counts; None for the full recipe.
        steps: After how many of its coloured steps; all where None, bare plastic for 0.
        dtype: float32 is quicker and good for pixels only.
    """
    project.zone(zone_id)
    look = look_of(project, viewing, dtype)
    tone, relief, along = (np.asarray(axis, np.float64) for axis in lattice)
    stack = coloured_steps(scheme, zone_id, group_id)[:steps]
    under = tuple(step for step in stack if not isinstance(step.layer, Coat))
    milk = look.milk_per_um if stack and stack[-1] in under else 0.0
    undercoat = undercoat_of(project, scheme, under, milk)
    fold = _folded(project, scheme, stack, look, relief, along)
    if undercoat.spray is None or undercoat.spray.spread_n == 1.0:
        series = series_of(undercoat.spots(tone), look.surface.k2, dtype)
        xyz = xyz_over_series(fold, series, look)
    else:
        grounds = undercoat.grounds([tone])[0]
        places = (1, 1) if fold is None else fold.over.shape[:-1]
        seen = xyz_through(fold, _upright(grounds, look), look)
        xyz = np.moveaxis(seen.reshape(-1, *places, 3), -1, 0)
    whole = np.broadcast_to(xyz, (3, len(tone), len(relief), len(along)))
    return np.moveaxis(whole, 0, -1)


def _folded(
    project: Project,
    scheme: Scheme,
    stack: tuple[Step, ...],
    look: Look,
    relief: NDArray[np.float64],
    along: NDArray[np.float64],
) -> Fold | None:
    """The coats, ``(reliefs or 1, alongs or 1, 36)``, the last one wet where the look is.

    Neighbours that vary least are laid on each other first: a stack of stacks is the same
    whichever is made first, and most coats are even, or vary along one axis only.
    """
    coats = []
    for n, step in enumerate(stack):
        coat = step.coat
        if coat is None:
            continue
        pot = pot_spectra(project, scheme.mix(coat.mix_id))
        milk = look.milk_per_um * pot.binder if n == len(stack) - 1 else 0.0
        strength = _strength(pot, milk, look.dtype)
        film: Any = np.full((1, 1, 1), coat.wet_um * coat.passes)
        if coat.placement.relief.kind is not ReliefKind.EVEN:
            film = film * coat.placement.relief.film(relief)[:, np.newaxis, np.newaxis]
        if not coat.placement.along.is_even:
            film = film * coat.placement.along.share(along)[:, np.newaxis]
        laid = film_of(film.astype(look.dtype) * strength.decay, strength)
        coats.append(Fold(laid.reflects, laid.reflects, laid.through))
    while len(coats) > 1:
        n = min(range(len(coats) - 1), key=lambda n: _places(coats[n], coats[n + 1]))
        coats[n : n + 2] = [laid_on(coats[n + 1], coats[n])]
    return coats[0] if coats else None


def _places(one: Fold, two: Fold) -> int:
    """How many places two neighbours take once the one lies on the other."""
    reliefs = max(one.over.shape[0], two.over.shape[0])
    alongs = max(one.over.shape[1], two.over.shape[1])
    return int(reliefs * alongs)


def _strength(pot: PotSpectra, milk: float, dtype: type[np.floating[Any]]) -> Strength:
    return _STRENGTHS.get(
        (pot,),
        (milk, dtype is np.float32),
        lambda: strength_of(pot.absorption, pot.scattering + milk, dtype),
    )


def _upright(grounds: Grounds, look: Look) -> Grounds:
    """With an axis of tones before those of relief and along."""
    arrays: list[NDArray[Any]] = [grounds.reflectance, grounds.weights, grounds.weighted]
    count = len(grounds.reflectance)
    tones = 1 if grounds.is_idle else grounds.reflectance.shape[1]
    shaped = [
        np.broadcast_to(array, grounds.reflectance.shape)
        .reshape(count, tones, 1, 1, -1)
        .astype(look.dtype, copy=False)
        for array in arrays
    ]
    return Grounds(shaped[0], shaped[1], shaped[2], grounds.spread_n)
