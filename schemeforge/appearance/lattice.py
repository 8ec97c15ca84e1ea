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
    lay,
    strength_of,
    xyz_through,
)
from schemeforge.appearance.kept import Kept
from schemeforge.appearance.look import Look, look_of
from schemeforge.appearance.pots import PotSpectra, pot_spectra
from schemeforge.appearance.undercoat import Grounds, undercoat_of
from schemeforge.scheme import Coat, Project, Scheme, Step, Viewing, coloured_steps

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
    sprayed = undercoat_of(project, scheme, under, milk).grounds([tone])[0]
    fold = _folded(project, scheme, stack, look, relief, along)
    xyz = xyz_through(fold, _upright(sprayed, look), look)
    places = (1, 1) if fold is None else fold.over.shape[:-1]
    shape = (1 if sprayed.is_idle else len(tone), *places, 3)
    return np.broadcast_to(xyz.reshape(shape), (len(tone), len(relief), len(along), 3))


def _folded(
    project: Project,
    scheme: Scheme,
    stack: tuple[Step, ...],
    look: Look,
    relief: NDArray[np.float64],
    along: NDArray[np.float64],
) -> Fold | None:
    """The coats, ``(reliefs, alongs or 1, 36)``, the last one wet where the look is."""
    fold: Fold | None = None
    for n, step in enumerate(stack):
        coat = step.coat
        if coat is None:
            continue
        pot = pot_spectra(project, scheme.mix(coat.mix_id))
        milk = look.milk_per_um * pot.binder if n == len(stack) - 1 else 0.0
        strength = _strength(pot, milk, look.dtype)
        film = coat.wet_um * coat.passes * coat.placement.relief.film(relief)[:, np.newaxis]
        if not coat.placement.along.is_even:
            film = film * coat.placement.along.share(along)
        depth = film[..., np.newaxis].astype(look.dtype) * strength.decay
        fold = lay(film_of(depth, strength), fold)
    return fold


def _strength(pot: PotSpectra, milk: float, dtype: type[np.floating[Any]]) -> Strength:
    return _STRENGTHS.get(
        (pot,),
        (milk, np.dtype(dtype).name),
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
