"""Paints from two colours, or from one colour, a kind and an answer about opacity."""

import math
import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final

import numpy as np

from schemeforge import colorimetry, optics
from schemeforge.calibration.fitter import fit_patches
from schemeforge.calibration.grounds import BLACK, WHITE, card_ground
from schemeforge.calibration.outcome import Outcome
from schemeforge.calibration.patches import CODE_NOISE, THICK_UM, Hiding, Patch
from schemeforge.calibration.prior import prior_of
from schemeforge.errors import InputError, shown
from schemeforge.paint import Basis, PaintKind

_CODE: Final = re.compile(r"#?([0-9A-Fa-f]{6})")
USUAL_UM: Final = 30.0  # wet film of neat paint in one thin brush coat (from memory)
# CIEDE2000 between the two colours below which nothing, or little, can be told of thin films.
OPAQUE: Final = 1.0
NEARLY_OPAQUE: Final = 3.0
_MISSED: Final = 1.0  # CIEDE2000 by which the nearest film may miss a colour without a word
# From the most matt: the veil of light on a matt surface keeps every colour above L* 23.7.
_FINISHES: Final = {
    "matt": optics.MATT,
    "unvarnished": optics.UNVARNISHED,
    "with a satin finish": optics.SATIN,
    "with a gloss finish": optics.GLOSS,
}
_CHANNELS: Final = ("red", "green", "blue")


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """A colour as seen: linear sRGB, and per channel whether it stands at an end of its scale.

    ``clipped`` is -1 where the true value may be lower, 1 where it may be higher, else 0.
    """

    linear: tuple[float, float, float]
    clipped: tuple[int, int, int] = (0, 0, 0)
    noise: float = CODE_NOISE


def colour_of_code(code: str) -> Seen:
    """The colour of a code such as ``#7f4a21``; channels at 00 and ff count as clipped.

    Raises:
        InputError: For text that is no such code.
    """
    found = _CODE.fullmatch(code.strip())
    if found is None:
        raise InputError(f'"{shown(code)}" is not a colour', remedy="write six digits as #7f4a21")
    values = [int(found[1][i : i + 2], 16) for i in (0, 2, 4)]
    red, green, blue = (float(v) for v in colorimetry.decode(np.array(values) / 255))
    low, high = ([value == end for value in values] for end in (0, 255))
    ends = [int(h) - int(lo) for h, lo in zip(high, low, strict=True)]
    return Seen(linear=(red, green, blue), clipped=(ends[0], ends[1], ends[2]))


class Opacity(StrEnum):
    """How many coats of neat paint hide a black-and-white pattern."""

    ONE = "one coat hides black and white"
    TWO = "two coats"
    FEW = "three or four coats"
    MANY = "five to ten coats"
    NEVER = "black shows through however many"

    @property
    def coats(self) -> tuple[float, float]:
        """Between how many coats complete hiding lies."""
        return _COATS[self]


_COATS: Final = {
    Opacity.ONE: (0.3, 1.0),
    Opacity.TWO: (1.0, 2.0),
    Opacity.FEW: (2.0, 4.0),
    Opacity.MANY: (4.0, 10.0),
    Opacity.NEVER: (10.0, 100.0),
}


def from_two_colours(
    over_dark: Seen,
    over_light: Seen,
    *,
    dark: tuple[float, ...] | None = None,
    light: tuple[float, ...] | None = None,
    film_um: float = USUAL_UM,
    kind: PaintKind | None = None,
    surface: optics.Surface | None = None,
) -> Outcome:
    """A paint from the colour of one coat over a dark and over a light ground.

    Args:
        over_dark: As seen over the dark ground.
        over_light: As seen over the light ground, same coat.
        dark: Reflectance of the bare dark ground as seen, 36 bands; None for the usual black
            card under the same finish.
        light: Of the bare light ground; None for the usual white card.
        film_um: Wet film of the coat in um.
        kind: Where known; sharpens what two colours leave open.
        surface: Finish of coat and grounds; None for the most matt that such colours allow.

    Raises:
        InputError: For colours so alike that thin films cannot be told, or exchanged ones.
    """
    labs = [
        colorimetry.lab_from_xyz(colorimetry.xyz_from_linear_rgb(np.array(seen.linear)))
        for seen in (over_dark, over_light)
    ]
    apart = float(colorimetry.ciede2000(*labs))
    if apart < OPAQUE:
        raise InputError(
            "The colour is the same over dark and over light, so that nothing is known of thin "
            "films",
            remedy="paint a thinner swatch, or enter it as one colour",
        )
    if labs[0][0] > labs[1][0] + 1.0:
        raise InputError(
            "The colour over the dark ground is the lighter one", remedy="exchange the two"
        )

    def patches(finish: optics.Surface) -> tuple[Patch, ...]:
        grounds = (dark or card_ground(BLACK, finish), light or card_ground(WHITE, finish))
        return tuple(
            Patch(
                name=name,
                ground=ground,
                film_um=film_um,
                colour=seen.linear,
                hand=0.0,
                noise=seen.noise,
                clipped=seen.clipped,
            )
            for name, ground, seen in zip(
                ("over dark", "over light"), grounds, (over_dark, over_light), strict=True
            )
        )

    findings = []
    if apart < NEARLY_OPAQUE:
        findings.append(
            "The coat nearly hides its ground: thin films are guessed at; paint a thinner swatch."
        )
    return _outcome(patches, surface, Basis.TWO_COLOURS, findings, kind)


def from_one_colour(
    colour: Seen,
    kind: PaintKind,
    opacity: Opacity | None = None,
    *,
    ground: tuple[float, ...] | None = None,
    film_um: float = USUAL_UM,
    surface: optics.Surface | None = None,
) -> Outcome:
    """A paint from one colour, its kind, and how many coats hide black and white.

    Args:
        colour: As seen.
        kind: Sets how strongly such paints usually scatter.
        opacity: The painter's answer; None where there is none.
        ground: Where the colour is of one coat: reflectance of the bare ground as seen. None for
            a layer so thick that it hides what is below.
        film_um: Wet film of one coat in um.
        surface: Finish; None as in ``from_two_colours``.

    Raises:
        InputError: For a kind that has no colour, or a value outside its range.
    """
    if kind.is_clear:
        raise InputError(f"A {kind} has no colour of its own", remedy="choose another kind")

    def patches(finish: optics.Surface) -> tuple[Patch, ...]:
        return (
            Patch(
                name="in a thick layer" if ground is None else "one coat",
                ground=ground or card_ground(WHITE, finish),
                film_um=THICK_UM if ground is None else film_um,
                colour=colour.linear,
                hand=0.0,
                noise=colour.noise,
                clipped=colour.clipped,
            ),
        )

    hiding = None
    if opacity is not None:
        low, high = (math.log(coats * film_um) for coats in opacity.coats)
        # Anywhere in the range alike: the standard deviation of an even distribution.
        hiding = Hiding(film_um=math.exp((low + high) / 2), spread=(high - low) / math.sqrt(12))
    return _outcome(patches, surface, Basis.ONE_COLOUR, [], kind, hiding)


def missed(patches: tuple[Patch, ...], residual: list[float], limit: float) -> list[str]:
    """A sentence for each colour that the nearest film misses by more than the limit."""
    return [
        f'No film gives the colour "{patch.name}" together with the rest: the nearest misses it '
        f"by {miss:.1f} CIEDE2000; check that colour and its ground."
        for patch, miss in zip(patches, residual, strict=True)
        if miss > limit
    ]


def _outcome(
    patches_under: Callable[[optics.Surface], tuple[Patch, ...]],
    surface: optics.Surface | None,
    basis: Basis,
    findings: list[str],
    kind: PaintKind | None,
    hiding: Hiding | None = None,
) -> Outcome:
    """Fits under the finish, or under the most matt one under which the colours are met."""
    best: tuple[float, str, Outcome] | None = None
    for name, finish in _FINISHES.items() if surface is None else (("", surface),):
        patches = patches_under(finish)
        fit = fit_patches(patches, surface=finish, prior=prior_of(kind), hiding=hiding)
        # A clipped colour is not met on purpose, and is told apart already.
        met = [r for r, p in zip(fit.residual, patches, strict=True) if not any(p.clipped)]
        worst = float(max(met, default=0.0))
        if best is None or worst < best[0] - _MISSED:
            found = Outcome(fit=fit, patches=patches, surface=finish, basis=basis, hiding=hiding)
            best = worst, name, found
        if best[0] <= _MISSED:
            break
    assert best is not None  # noqa: S101 - there is at least one finish
    _, name, found = best
    told = [_end_of_scale(patch) for patch in found.patches if any(patch.clipped)]
    if name not in {"", "matt"}:
        told.append(f"Colours so dark cannot be matt: taken as seen {name}.")
    whole = [(p, r) for p, r in zip(found.patches, found.fit.residual, strict=True)]
    whole = [(p, float(r)) for p, r in whole if not any(p.clipped)]
    told += missed(tuple(p for p, _ in whole), [r for _, r in whole], _MISSED)
    return replace(found, findings=(*findings, *told))


def _end_of_scale(patch: Patch) -> str:
    names = [name for name, end in zip(_CHANNELS, patch.clipped, strict=True) if end]
    return (
        f'The colour "{patch.name}" stands at the end of the scale in {" and ".join(names)}: the '
        "true one may be more vivid than a screen can show, and is left open on that side."
    )
