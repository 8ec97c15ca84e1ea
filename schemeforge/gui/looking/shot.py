"""A picture that is wanted, as immutable values, and the making of it beside the window."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtGui import QImage

from schemeforge import colorimetry
from schemeforge.appearance.kept import Kept
from schemeforge.colorimetry import Distance, LightLike, Sight, SpectralLight
from schemeforge.desk import Looking
from schemeforge.scheme import Coat, Primer, Project, Scheme, Spray, Step, Viewing

if TYPE_CHECKING:
    from schemeforge.stand_in import LightDirection, Picture, SprayCone, Turn, Turntable, View

# Shares of a model's square picture that are left out at each side, at the top and at the foot:
# what the warden leaves empty from whatever side it is seen, and what the others do.
_WARDENS_MARGINS = (0.1, 0.05, 0.015)
_MARGINS = (0.02, 0.02, 0.02)
# Beside a blurred picture's edges its halo fades into the surround over so much of its width.
_FADE = 0.03
# Desk lamp, daylight and the hall where games are played.
LIGHTS = ("LED-B4", "D65", "FL2")
# Schemes as other hands paint them: kept, as colours are found again by the identity of steps.
_HANDS: Kept[Scheme] = Kept(32)
# In place of a step: before all of them.
BARE = "\N{EM DASH}"


class Arrangement(StrEnum):
    """What stands on the table."""

    ONE = "one model"
    SPLIT = "two schemes"
    LIGHTS = "three lights"
    GROUP = "a group"


@dataclass(frozen=True, slots=True, eq=False)
class Shot:
    """All that a picture is made from.

    Args:
        project: The document.
        scheme: The scheme.
        model: Name of the stand-in model.
        source: Its view from there, or the model while it is turned.
        turn: From where.
        size: Pixels across and down of one model.
        arrangement: What stands on the table.
        other: Scheme on the right half where two are on one model.
        step_id: After that step, "" when finished.
        count: Models in a group.
        picked: Index of the zone that is outlined, None for none.
        worn_alone: Zone that all parts wear, None for each part its own.
        sight: How it is looked at.
        looking: How it is lit, sprayed and sized.
        surround: The grey around it, 0 to 255.
        accent: Colour of outlines, as Qt packs it.
    """

    project: Project
    scheme: Scheme
    model: str
    source: "View | Turntable"
    turn: "Turn"
    size: int
    arrangement: Arrangement
    other: Scheme | None
    step_id: str
    count: int
    picked: int | None
    worn_alone: str | None
    sight: Sight
    looking: Looking
    surround: int
    accent: int


@dataclass(frozen=True, slots=True, eq=False)
class Drawn:
    """What was made.

    Args:
        picture: The picture as painted, before it was looked at; of the left half where it is
            split.
        image: As looked at, cropped to what it shows.
        other: The right half, None where it is not split.
        other_zones: Its zones.
        outline: Edge of the picked zone.
        zones: Zone at each pixel of the image, -1 for none.
        mm: Width of the image in mm of the stand-in model.
    """

    picture: "Picture"
    image: QImage
    other: QImage | None
    other_zones: NDArray[np.int16] | None
    outline: QImage | None
    zones: NDArray[np.int16]
    mm: float


def margins(model: str) -> tuple[float, float, float]:
    """Shares of a model's picture that are not shown: at each side, at the top, at the foot."""
    return _WARDENS_MARGINS if model == "warden" else _MARGINS


def painted_steps(scheme: Scheme) -> tuple[Step, ...]:
    """The steps that change a colour, in order."""
    return tuple(s for s in scheme.steps if isinstance(s.layer, Primer | Spray | Coat))


def lamp_of(looking: Looking) -> "LightDirection":
    """Where the lamp stands."""
    from schemeforge.stand_in import LightDirection

    return LightDirection(azimuth=looking.lamp_side, elevation=looking.lamp_height)


def spray_of(looking: Looking) -> "SprayCone":
    """How the undercoat was sprayed."""
    from schemeforge.stand_in import SprayCone

    return SprayCone(
        half_angle=looking.spray_half_angle,
        low_pass=looking.low_pass,
        low_angle=looking.low_angle,
    )


def true_scale(looking: Looking, project: Project) -> float:
    """The painter's model against the stand-in, whose warden stands on a base of 32 mm."""
    from schemeforge.stand_in import WARDEN

    if looking.model_mm > 0.0:
        return looking.model_mm / WARDEN.frame.top
    return project.size.base_mm / 32.0


def made(shot: Shot, cancelled: Callable[[], bool]) -> Drawn | None:
    """The picture; None where it is no longer wanted."""
    from schemeforge.stand_in import model

    pictures = []
    for picture in _pictures(shot):
        if cancelled():
            return None
        pictures.append(picture)
    span = model(shot.model).frame.span
    whole, other = _arranged(shot, pictures)
    image, zones = _seen(shot, whole, span)
    split = None if other is None else _seen(shot, other, span)
    outlined = None if shot.picked is None else _outline(zones == shot.picked, shot.accent)
    return Drawn(
        picture=whole,
        image=image,
        other=None if split is None else split[0],
        other_zones=None if split is None else split[1],
        outline=outlined,
        zones=zones,
        mm=span * zones.shape[1] / shot.size,
    )


def _pictures(shot: Shot) -> Iterator["Picture"]:
    """One picture after the other, of single models."""
    from schemeforge.stand_in import by_another_hand, members

    project, scheme = shot.project, shot.scheme
    if shot.arrangement is Arrangement.LIGHTS:
        for light in LIGHTS:
            yield _one(shot, scheme, replace(project.viewing, light=light))
    elif shot.arrangement is Arrangement.GROUP:
        for n, group_id in enumerate(members(project, shot.count)):
            paint = partial(by_another_hand, project, scheme, n)
            hand = _HANDS.get((project, scheme), (n,), paint)
            yield _one(shot, hand, project.viewing, group_id)
    else:
        yield _one(shot, scheme, project.viewing)
        if shot.arrangement is Arrangement.SPLIT and shot.other is not None:
            yield _one(shot, shot.other, project.viewing)


def _one(shot: Shot, scheme: Scheme, viewing: Viewing, group_id: str | None = None) -> "Picture":
    from schemeforge.stand_in import (
        Turntable,
        model,
        picture_of,
        stages_after,
        turned_picture,
        worn,
    )

    project = shot.project
    wearing = worn(project, model(shot.model), shot.worn_alone)
    stage: dict[str, int] | int | None = 0 if shot.step_id == BARE else None
    if any(step.id == shot.step_id for step in scheme.steps):
        stage = stages_after(project, scheme, shot.step_id, group_id)
    more: dict[str, Any] = {
        "light_direction": lamp_of(shot.looking),
        "stage": stage,
        "group_id": group_id,
    }
    if isinstance(shot.source, Turntable):
        source = shot.source
        return turned_picture(
            project, scheme, source, wearing, shot.turn, shot.size, viewing, **more
        )
    return picture_of(project, scheme, shot.source, wearing, viewing, **more)


def _arranged(shot: Shot, pictures: list["Picture"]) -> tuple["Picture", "Picture | None"]:
    from schemeforge.stand_in import Picture, formation

    if shot.arrangement is Arrangement.GROUP:
        return formation(pictures), None
    if shot.arrangement is Arrangement.LIGHTS:
        side = round(margins(shot.model)[0] * shot.size)
        cut = [p.rgba[:, side : shot.size - side] for p in pictures]
        zones = [p.zone_index[:, side : shot.size - side] for p in pictures]
        return Picture(np.concatenate(cut, axis=1), np.concatenate(zones, axis=1)), None
    return pictures[0], pictures[1] if len(pictures) > 1 else None


def _seen(shot: Shot, picture: "Picture", span: float) -> tuple[QImage, NDArray[np.int16]]:
    """As looked at, cropped, with its zones."""
    high = len(picture.zone_index)
    seen = _cropped(shot, _looked_at(shot, picture.rgba, span), high)
    if shot.sight.distance is not Distance.CLOSE:
        seen = _faded(seen, shot.surround)
    return image_of(seen), _cropped(shot, picture.zone_index, high)


def _faded(rgba: NDArray[np.uint8], surround: int) -> NDArray[np.uint8]:
    """Without a rim where a halo was cut off."""
    high, wide = rgba.shape[:2]
    down, across = (
        np.clip(np.minimum(np.arange(n), np.arange(n)[::-1]) / max(_FADE * n, 1.0), 0.0, 1.0)
        for n in (high, wide)
    )
    share = (down[:, np.newaxis] * across)[..., np.newaxis].astype(np.float32)
    faded = rgba.copy()
    faded[..., :3] = np.rint(surround + share * (rgba[..., :3] - np.float32(surround)))
    return faded


def _looked_at(shot: Shot, rgba: NDArray[np.uint8], span: float) -> NDArray[np.uint8]:
    grey = float(colorimetry.decode(np.array([shot.surround / 255.0]))[0])
    viewing, project = shot.project.viewing, shot.project
    more: dict[str, Any] = {
        "mm_per_pixel": span / shot.size * true_scale(shot.looking, project),
        "surround": grey,
        "observer": viewing.observer,
    }
    if shot.arrangement is not Arrangement.LIGHTS or shot.sight.balanced:
        light = _light(project, viewing.light)
        return colorimetry.looked_at(rgba, shot.sight, light=light, **more)
    # A camera keeps each light's own cast; what the eye does comes after, all in one.
    cast = replace(Sight(), balanced=False)
    thirds = [
        colorimetry.looked_at(third, cast, light=light, **more)
        for third, light in zip(np.split(rgba, len(LIGHTS), axis=1), LIGHTS, strict=True)
    ]
    sight = replace(shot.sight, balanced=True)
    return colorimetry.looked_at(np.concatenate(thirds, axis=1), sight, **more)


def _light(project: Project, name: str) -> LightLike:
    for own in project.lights:
        if own.name == name:
            return SpectralLight(name=name, wavelengths_nm=own.wavelengths_nm, power=own.power)
    return name


def _cropped(shot: Shot, array: NDArray[Any], high: int) -> NDArray[Any]:
    """Without the empty margins around the models, of a picture that was so many pixels high."""
    unit = shot.size * array.shape[0] / high
    side, top, foot = (round(share * unit) for share in margins(shot.model))
    array = array[top : array.shape[0] - foot]
    if shot.arrangement is Arrangement.LIGHTS:  # cropped before they were put together
        return array
    return array[:, side : array.shape[1] - side]


def image_of(rgba: NDArray[np.uint8]) -> QImage:
    """A picture for Qt."""
    high, wide = rgba.shape[:2]
    whole = np.ascontiguousarray(rgba)
    return QImage(whole.data, wide, high, 4 * wide, QImage.Format.Format_RGBA8888).copy()


def _outline(mask: NDArray[Any], colour: int) -> QImage:
    """The edge of a region as a picture: pixels beside one that is not in it."""
    inner = mask.copy()
    for axis in (0, 1):
        for by in (-2, 2):
            inner &= np.roll(mask, by, axis)
    packed = np.zeros(mask.shape, dtype=np.uint32)
    packed[mask & ~inner] = colour
    high, wide = mask.shape[0], mask.shape[1]
    return QImage(packed.data, wide, high, 4 * wide, QImage.Format.Format_ARGB32).copy()
