"""What a marked photograph tells: light and camera, each mark as seen and put right, the paints.

No Qt: all of it is worked out beside the window.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry
from schemeforge.appearance import Look
from schemeforge.appearance.look import SURFACES
from schemeforge.calibration import (
    Correction,
    correction_of,
    from_photograph,
    likely_kind,
    sample,
)
from schemeforge.calibration.areas import CLIPPED_SHARE
from schemeforge.errors import InputError, SchemeForgeError
from schemeforge.gui.adding.card import (
    Card,
    Role,
    grounds_of,
    references_of,
    swatches_of,
)
from schemeforge.gui.adding.result import Result, result_of
from schemeforge.measurement import Photograph

_NOISY = 0.10  # spread of encoded sRGB from which an area is flagged, as the fit does
_SHOWN = 1600  # longest side of the picture as put right for the screen


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """One mark.

    Args:
        before: ``#rrggbb`` as the camera gave it.
        after: As put right, "" where there is no correction yet.
        clipped: Share of pixels at an end of the scale.
        noisy: True where it is too uneven to count in full.
    """

    before: str
    after: str
    clipped: float
    noisy: bool

    @property
    def is_clipped(self) -> bool:
        """True where it cannot be used."""
        return self.clipped > CLIPPED_SHARE


@dataclass(frozen=True, slots=True, kw_only=True)
class Sight:
    """What the marks tell before any paint is fitted.

    Args:
        seen: By mark.
        correction: Of light and camera, None where the references do not give one.
        problem: Why there is none.
        worst: By how much the worst reference is missed, as a share.
        references: How many there are.
    """

    seen: dict[int, Seen]
    correction: Correction | None
    problem: str
    worst: float = 0.0
    references: int = 0

    @property
    def fall(self) -> tuple[float, float]:
        """Light at the right edge over the left one, and at the lower over the upper one."""
        if self.correction is None:
            return 1.0, 1.0
        across, down = np.exp(self.correction.tilt)
        return float(across), float(down)

    @property
    def gains(self) -> tuple[float, float, float]:
        """Each channel's gain over their mean."""
        if self.correction is None:
            return 1.0, 1.0, 1.0
        gain = np.exp(self.correction.log_gain - self.correction.log_gain.mean())
        return float(gain[0]), float(gain[1]), float(gain[2])


def sight_of(photograph: Photograph, card: Card) -> Sight:
    """The marks as seen and as put right."""
    correction, problem, worst = None, "", 0.0
    try:
        correction = correction_of(photograph.linear, photograph.clipped, references_of(card))
        worst = float(np.expm1(max(correction.left.values(), default=0.0)))
    except SchemeForgeError as error:
        problem = error.sentence
    seen = {}
    for mark in card.marks:
        try:
            got = sample(photograph.linear, photograph.clipped, mark.area, mark.name)
        except SchemeForgeError:
            continue  # too small; the fit tells so where it matters
        after = ""
        if correction is not None:
            right = correction.corrected(np.array(got.linear), mark.area.centre)
            after = _code(right)
        seen[mark.id] = Seen(
            before=_code(np.array(got.linear)),
            after=after,
            clipped=got.clipped,
            noisy=got.spread > _NOISY,
        )
    return Sight(
        seen=seen,
        correction=correction,
        problem=problem,
        worst=worst,
        references=len(references_of(card)),
    )


def _code(linear: NDArray[Any]) -> str:
    xyz = colorimetry.xyz_from_linear_rgb(np.clip(linear, 0.0, 1.0))
    return colorimetry.hex_codes(np.asarray(xyz)[None, :])[0]


def put_right(photograph: Photograph, correction: Correction) -> NDArray[np.uint8]:
    """The whole picture as the correction sees it, small enough for a screen, 8-bit sRGB."""
    every = max(1, -(-max(photograph.size) // _SHOWN))
    linear = np.asarray(photograph.linear[::every, ::every], dtype=np.float64)
    height, width = linear.shape[:2]
    y, x = np.meshgrid(
        (np.arange(height) + 0.5) / height - 0.5,
        (np.arange(width) + 0.5) / width - 0.5,
        indexing="ij",
    )
    tilt, bend = correction.tilt, correction.bend
    light = tilt[0] * x + tilt[1] * y + bend[0] * x * x + bend[1] * x * y + bend[2] * y * y
    gain = np.exp(correction.log_gain + light[..., None])
    body = np.maximum(linear - correction.flare, 1e-6) / gain
    encoded = colorimetry.encode(np.clip(body ** (1 / correction.gamma), 0.0, 1.0))
    return np.ascontiguousarray(np.round(np.asarray(encoded) * 255), dtype=np.uint8)


def fit_card(
    photograph: Photograph,
    card: Card,
    look: Look,
    *,
    progress: Callable[[float], None] = lambda _share: None,
    cancelled: Callable[[], bool] = lambda: False,
) -> list[Result]:
    """Every paint on the card, in the order in which they were named.

    Raises:
        SchemeForgeError: Where references, grounds or swatches do not do; names the culprit.
    """
    painted = [p for p in card.paints if any(m.paint == p.id for m in card.of(Role.PAINTED))]
    if not painted:
        raise InputError(
            "No painted area is marked", remedy="mark at least one over dark and one over light"
        )
    references, grounds = references_of(card), grounds_of(card)
    results = []
    for done, paint in enumerate(painted):
        progress(done / len(painted))
        if cancelled():
            break
        try:
            outcome = from_photograph(
                photograph.linear,
                photograph.clipped,
                references=references,
                grounds=grounds,
                swatches=swatches_of(card, paint.id),
                film_um=card.film_um,
                kind=paint.kind,
                surface=SURFACES[card.finish],
            )
        except SchemeForgeError as error:
            raise (error.at(paint.name) if len(painted) > 1 else error) from None
        found = result_of(
            outcome,
            look,
            key=f"card {paint.id}",
            name=paint.name,
            kind=paint.kind or likely_kind(outcome, card.film_um),
            is_kind_told=paint.kind is not None,
        )
        results.append(found)
    progress(1.0)
    return results
