"""Pictures of the scheme on the stand-in, for paper: on a grey ground, cut close, true to size."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry
from schemeforge.export.blocks import Block
from schemeforge.export.facts import Facts
from schemeforge.export.options import Section
from schemeforge.export.page import GREY, Box, Frame, Picture
from schemeforge.scheme import Coat, Primer, Spray, Step

if TYPE_CHECKING:
    from schemeforge.stand_in import StandIns

# Pixels of the view: 230 dots per inch at true size.
SIZE: Final = 512
# Width of the stand-in's own base, mm.
_BASE_MM: Final = 32.0
_PAD_MM: Final = 1.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Portrait:
    """The model on grey.

    Args:
        pixels: Rows from the top, 8-bit sRGB.
        columns: Pixels across.
        rows: Pixels down.
        width: At true size, mm.
        height: At true size, mm.
    """

    pixels: bytes
    columns: int
    rows: int
    width: float
    height: float


def is_at_hand(views: "StandIns") -> bool:
    """True where pictures can be made at once, without tracing the model first."""
    from schemeforge.stand_in import WARDEN, SprayCone, Turn

    return views.is_at_hand(WARDEN, SIZE, Turn(), SprayCone())


def portrait(facts: Facts, step: Step | None = None) -> Portrait | None:
    """The finished model, or as it is after a step; None where no picture is wanted or can be."""
    views = facts.views
    if views is None or not facts.options.shows(Section.PICTURE) or not facts.project.zones:
        return None
    from schemeforge.stand_in import WARDEN, SprayCone, Turn, picture_of, stages_after, worn

    project, group_id = facts.project, facts.options.group_id
    view = views.view(WARDEN, SIZE, Turn(), SprayCone())
    made = picture_of(
        project,
        facts.scheme,
        view,
        worn(project, WARDEN),
        facts.viewing,
        stage=None if step is None else stages_after(project, facts.scheme, step.id, group_id),
        group_id=group_id,
    )
    mm = WARDEN.frame.span / SIZE * project.size.base_mm / _BASE_MM
    codes = _on_grey(made.rgba)
    rows, columns = codes.shape[:2]
    return Portrait(
        pixels=codes.tobytes(), columns=columns, rows=rows, width=columns * mm, height=rows * mm
    )


def shown_steps(facts: Facts, most: int) -> tuple[Step, ...]:
    """Steps after which the model is worth a picture: the undercoat, some coats, the last coat."""
    steps = [s for s in facts.scheme.steps if isinstance(s.layer, Primer | Spray | Coat)]
    under = [n for n, step in enumerate(steps) if isinstance(step.layer, Primer | Spray)]
    first = under[-1] if under else 0
    if not steps or most < 1:
        return ()
    wanted = np.rint(np.linspace(first, len(steps) - 1, most)).astype(int).tolist()
    return tuple(steps[n] for n in dict.fromkeys(wanted))


def framed(shown: Portrait, width: float, most: float) -> Block:
    """The picture on a grey panel of that width, no larger than true size nor higher than that."""
    room = width - 2.0 * _PAD_MM
    by = min(1.0, room / shown.width, (most - 2.0 * _PAD_MM) / shown.height)
    wide, high = shown.width * by, shown.height * by
    panel = Frame(x=0.0, y=0.0, width=width, height=high + 2.0 * _PAD_MM)
    frame = Frame(x=(width - wide) / 2.0, y=_PAD_MM, width=wide, height=high)
    return Block(
        items=(
            Box(frame=panel, line=None, fill=GREY, round_mm=1.5),
            Picture(
                frame=frame,
                pixels=shown.pixels,
                columns=shown.columns,
                rows=shown.rows,
                role="model",
            ),
        ),
        height=panel.height,
    )


def _on_grey(rgba: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """The part of the picture that shows the model, laid on the sheet's grey in linear light."""
    rows, columns = (np.flatnonzero((rgba[..., 3] > 0).any(axis=axis)) for axis in (1, 0))
    if not len(rows):
        rows, columns = np.arange(rgba.shape[0]), np.arange(rgba.shape[1])
    part = rgba[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1].astype(np.float64) / 255.0
    cover = part[..., 3:]
    ground = colorimetry.decode(np.array(GREY))
    linear = colorimetry.decode(part[..., :3]) * cover + ground * (1.0 - cover)
    return np.asarray(np.rint(255.0 * colorimetry.encode(linear)), dtype=np.uint8)
