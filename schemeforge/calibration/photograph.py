"""From swatches on a photographed card to a paint."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from schemeforge import checks, optics
from schemeforge.calibration.areas import CLIPPED_SHARE, Area, Picture, sample
from schemeforge.calibration.camera import Correction, Reference, correction_of
from schemeforge.calibration.colours import USUAL_UM, missed
from schemeforge.calibration.fitter import fit_patches
from schemeforge.calibration.grounds import ground_of_colour
from schemeforge.calibration.outcome import Outcome
from schemeforge.calibration.patches import HAND, PHOTO_NOISE, Patch
from schemeforge.calibration.prior import prior_of
from schemeforge.errors import InputError
from schemeforge.paint import Basis, PaintKind

_NOISY: Final = 0.10  # spread of a swatch's pixels in encoded sRGB, from which it is flagged
_MISSED: Final = 3.0  # CIEDE2000 of a swatch to the fit, from which it is told
_REFERENCE_MISSED: Final = 0.1  # of log light


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """A bare ground of the card, marked on the photograph; its colour is read there."""

    name: str
    area: Area


@dataclass(frozen=True, slots=True, kw_only=True)
class Swatch:
    """A painted area.

    Args:
        name: For sentences, for example "black, 2 coats".
        area: Where it is.
        ground: Name of the ground it was painted on.
        coats: How many coats lie there.
        stroke: The same for areas that one stroke crossed; "" for a stroke of its own.
    """

    name: str
    area: Area
    ground: str
    coats: float = 1.0
    stroke: str = ""

    def __post_init__(self) -> None:
        checks.name(self.name, "Swatch")
        checks.number(self.coats, f'Swatch "{self.name}": coats', low=0.05, high=50.0)


def from_photograph(
    linear: Picture,
    clipped: NDArray[np.bool_],
    *,
    references: Sequence[Reference],
    grounds: Sequence[Ground],
    swatches: Sequence[Swatch],
    film_um: float = USUAL_UM,
    kind: PaintKind | None = None,
    surface: optics.Surface = optics.MATT,
    hand: float = HAND,
) -> Outcome:
    """A paint from swatches on a photographed card.

    Args:
        linear: Linear sRGB of the picture, ``(height, width, 3)``.
        clipped: Pixels at an end of the scale, ``(height, width)``.
        references: Neutral areas of known reflectance, at least one.
        grounds: Bare grounds.
        swatches: Painted areas.
        film_um: Wet film of one coat of neat paint, in um.
        kind: Where known.
        surface: Finish of the swatches and grounds.
        hand: Log-normal spread of a coat's film.

    Clipped swatches are left out and told in a finding; so are noisy ones, which stay in with
    less weight.

    Raises:
        InputError: For no reference, no swatch that can be used, or an unknown ground.
    """
    correction = correction_of(linear, clipped, references)
    bare: dict[str, tuple[float, ...]] = {}
    for ground in grounds:
        got = sample(linear, clipped, ground.area, ground.name)
        light = correction.corrected(np.array(got.linear), ground.area.centre)
        # More than white is glare or noise on a white ground.
        bare[ground.name] = ground_of_colour(tuple(np.minimum(light, 1.0)), surface)
    patches, findings = _patches(linear, clipped, correction, swatches, bare, film_um, hand)
    findings += [
        f'The reference "{name}" fits the others only to {miss:.0%}: check its reflectance and '
        "that no glare lies on it."
        for name, miss in correction.left.items()
        if miss > _REFERENCE_MISSED
    ]
    fit = fit_patches(patches, surface=surface, prior=prior_of(kind))
    residual = [float(value) for value in fit.residual]
    return Outcome(
        fit=fit,
        patches=tuple(patches),
        surface=surface,
        basis=Basis.PHOTOGRAPHED,
        findings=(*findings, *missed(tuple(patches), residual, _MISSED)),
    )


def _patches(
    linear: Picture,
    clipped: NDArray[np.bool_],
    correction: Correction,
    swatches: Sequence[Swatch],
    bare: dict[str, tuple[float, ...]],
    film_um: float,
    hand: float,
) -> tuple[list[Patch], list[str]]:
    patches, findings = [], []
    for swatch in swatches:
        if swatch.ground not in bare:
            raise InputError(
                f'The swatch "{swatch.name}" lies on a ground "{swatch.ground}" that is not marked',
                remedy="mark that bare ground on the card",
            )
        got = sample(linear, clipped, swatch.area, swatch.name)
        if got.clipped > CLIPPED_SHARE:
            findings.append(
                f'The swatch "{swatch.name}" is clipped and left out: {got.clipped:.0%} of it '
                "stands at an end of the scale; photograph it again with another exposure."
            )
            continue
        noise = PHOTO_NOISE
        if got.spread > _NOISY:
            noise = got.spread / 3
            findings.append(
                f'The swatch "{swatch.name}" is uneven or noisy and counts less; mark an even '
                "area, or photograph it sharper and in more light."
            )
        red, green, blue = correction.corrected(np.array(got.linear), swatch.area.centre)
        patches.append(
            Patch(
                name=swatch.name,
                ground=bare[swatch.ground],
                film_um=film_um * swatch.coats,
                colour=(float(red), float(green), float(blue)),
                stroke=swatch.stroke,
                # Coats vary one by one: several even one another out.
                hand=hand / max(swatch.coats, 1.0) ** 0.5,
                noise=noise,
            )
        )
    if not patches:
        raise InputError(
            "No swatch can be used", remedy="mark swatches that are painted, even and not clipped"
        )
    return patches, findings
