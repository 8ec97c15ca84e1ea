"""The cut through a zone's paint as numbers: films, heights to draw them at, and back again.

A glaze dries to about a micrometre, so films are drawn by the square root of their dry thickness
unless true scale is asked for: thin coats can then be grabbed, and thicker is still higher.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from schemeforge import optics
from schemeforge.appearance import Look, look_of, pot_spectra
from schemeforge.appearance.stages import coat_films
from schemeforge.desk.colours import cut_points
from schemeforge.desk.state import Direction
from schemeforge.scheme import (
    Coat,
    Mix,
    Primer,
    Project,
    Scheme,
    Spray,
    Step,
    Viewing,
    Zone,
    coloured_steps,
)
from schemeforge.scheme.techniques import PRIMER

CUT_POINTS = 64
# Share of the widget's height that the paint takes at the most, and how thick one dry
# micrometre's root may be drawn, pixels.
_FILL = 0.9
_MOST_PER_ROOT = 26.0
PRIMER_SHARE = 0.085
# Wet films that a hand can lay, um.
LEAST_WET_UM, MOST_WET_UM = 0.5, 1000.0
# White card that a film is held against to show its own colour, and the sheen of the drawing.
_CARD = 0.9


@dataclass(frozen=True, slots=True)
class Band:
    """One layer of the cut.

    Args:
        step: Its step.
        number: Its place in the zone's stack, from 1.
        dry_um: Dry thickness along the cut, ``(points,)``.
        wet_um: Wet film along the cut, all passes, ``(points,)``.
        xyz: Its own colour along the cut, held against a white card, ``(points, 3)``.
    """

    step: Step
    number: int
    dry_um: NDArray[np.float64]
    wet_um: NDArray[np.float64]
    xyz: NDArray[Any]


def cut_bands(
    project: Project,
    scheme: Scheme,
    zone: Zone,
    viewing: Viewing,
    direction: Direction,
    across: float,
) -> tuple[Band, ...]:
    """The layers of a zone along a cut, lowest first."""
    look = look_of(project, viewing)
    points = cut_points(zone, direction, across, CUT_POINTS)
    tone = np.broadcast_to(points.tone, (CUT_POINTS,))
    bands = []
    for number, step in enumerate(coloured_steps(scheme, zone.id), 1):
        mix = scheme.mix(step.layer.mix_id)  # type: ignore[union-attr]
        wet = np.broadcast_to(_wet_film(step, tone, points.relief, points.along), (CUT_POINTS,))
        dry = wet * dry_share(project, mix)
        bands.append(Band(step, number, dry, wet, _own_colour(project, mix, step, wet, look)))
    return tuple(bands)


def dry_share(project: Project, mix: Mix) -> float:
    """Share of a mix's wet volume that stays when dry."""
    solids = sum(i.parts * project.paint(i.paint_id).volume_solids for i in mix.ingredients)
    return solids / mix.total_parts


def _wet_film(
    step: Step,
    tone: NDArray[np.float64],
    relief: NDArray[np.float64],
    along: NDArray[np.float64],
) -> NDArray[np.float64]:
    layer = step.layer
    if isinstance(layer, Coat):
        return coat_films(layer, relief, along)
    if isinstance(layer, Spray):
        sprayed: NDArray[np.float64] = layer.peak_um * tone
        return sprayed
    return np.array([PRIMER.normal_um])


def _own_colour(
    project: Project, mix: Mix, step: Step, wet: NDArray[np.float64], look: Look
) -> NDArray[Any]:
    pot = pot_spectra(project, mix)
    matrix = look.matrix()
    if isinstance(step.layer, Primer):
        masstone = optics.r_infinity(pot.absorption, pot.scattering)
        return np.broadcast_to(masstone @ matrix, (len(wet), 3))
    film = wet[:, np.newaxis]
    card = np.full(optics.bands.COUNT, _CARD)
    held = optics.kubelka_munk.film_over(card, film * pot.absorption, film * pot.scattering)
    xyz: NDArray[Any] = held @ matrix
    return xyz


@dataclass(frozen=True, slots=True)
class CutScale:
    """How dry thickness becomes height.

    Args:
        pixels: Per root micrometre, or per micrometre at true scale.
        primer: Height of the primer, pixels.
        is_true: True where heights go with thickness itself.
    """

    pixels: float
    primer: float
    is_true: bool

    def height(self, dry_um: NDArray[np.float64]) -> NDArray[np.float64]:
        """Heights in pixels of films of that dry thickness, same shape."""
        return self.pixels * (dry_um if self.is_true else np.sqrt(dry_um))

    def dry_um(self, height: float) -> float:
        """Dry thickness whose film is drawn that high; the inverse of ``height``."""
        scaled = max(height, 0.0) / self.pixels
        return scaled if self.is_true else scaled * scaled


def fitting_scale(bands: tuple[Band, ...], height: float, *, is_true: bool) -> CutScale:
    """A scale at which the thickest place of the cut fills most of a height in pixels."""
    room = max(height * _FILL, 1.0)
    if is_true:
        total = np.sum([band.dry_um for band in bands], axis=0) if bands else np.ones(1)
        return CutScale(room / max(float(np.max(total)), 1.0), 0.0, is_true=True)
    primer = height * PRIMER_SHARE if any(_is_primer(band) for band in bands) else 0.0
    roots = [np.sqrt(band.dry_um) for band in bands if not _is_primer(band)]
    tallest = float(np.max(np.sum(roots, axis=0))) if roots else 1.0
    return CutScale(min((room - primer) / max(tallest, 1e-6), _MOST_PER_ROOT), primer, is_true)


def band_edges(
    bands: tuple[Band, ...], scale: CutScale
) -> list[tuple[NDArray[np.float64], NDArray[np.float64]]]:
    """Lower and upper edge of each band in pixels above the bottom, ``(points,)`` each."""
    edges = []
    low = np.zeros(CUT_POINTS)
    for band in bands:
        if _is_primer(band) and not scale.is_true:
            rise = np.full(CUT_POINTS, scale.primer)
        else:
            rise = scale.height(band.dry_um)
        edges.append((low, low + rise))
        low = low + rise
    return edges


def _is_primer(band: Band) -> bool:
    return isinstance(band.step.layer, Primer)


def weight_for_height(
    project: Project, scheme: Scheme, band: Band, scale: CutScale, place: int, height: float
) -> float | None:
    """Wet film (um of one pass, or peak of a spray) that gives a band that height at a point.

    Args:
        project: The document.
        scheme: Its scheme.
        band: The band.
        scale: How it is drawn.
        place: Index of the point along the cut.
        height: Wanted height in pixels.

    None where the coat lays nothing at that point, or the layer has no weight to change.
    """
    layer = band.step.layer
    if not isinstance(layer, Coat | Spray):
        return None
    now = layer.wet_um if isinstance(layer, Coat) else layer.peak_um
    wanted = scale.dry_um(height)
    if now <= 0.0:  # nothing is laid yet, so that nothing tells the profile: as if even
        passes = layer.passes if isinstance(layer, Coat) else 1
        wet = wanted / max(dry_share(project, scheme.mix(layer.mix_id)) * passes, 1e-6)
    elif band.dry_um[place] > 0.0:
        wet = now * wanted / band.dry_um[place]
    else:
        return None
    return float(np.clip(wet, LEAST_WET_UM, MOST_WET_UM))
