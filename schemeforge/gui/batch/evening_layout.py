"""Where everything stands in the picture of the sittings, in device-independent pixels.

A sitting is a board. What is done in it stands on the board, as wide as it takes minutes and the
higher the more models it is for; what dries hangs below it and gets thinner as it dries.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from PySide6.QtCore import QRectF

from schemeforge.plan import Overfull, Schedule, SittingPlan, Stretch
from schemeforge.scheme import Project

RIGHT = 76.0  # room for what a sitting does not hold
HIGHEST, LOWEST = 58.0, 26.0
BOARD = 5.0
DRIP = 6.0
_MOST_DRIPS = 7
_GAP = 20.0
# Room above what stands on a board for its peg and, over narrow ones, its number.
_ABOVE = 16.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Drip:
    """A coat that dries: from where to where, and whether it does so beyond the sitting."""

    stretch: int
    x: float
    end: float
    y: float
    goes_on: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A stretch on its board.

    Args:
        index: Its place among all stretches of the plan.
        stretch, sitting: What it is.
        box: Where work at the models stands.
        plinth: Where setting up does, lower.
        wait: Where hands wait for paint; empty for none.
        rests: Where breaks lie within the box.
        pinned: Number of the sitting that it is pinned to, 0 for none.
        spilled: True where it was pinned to an earlier sitting that had no room for it.
    """

    index: int
    stretch: Stretch
    sitting: SittingPlan
    box: QRectF
    plinth: QRectF
    wait: QRectF
    rests: tuple[QRectF, ...]
    pinned: int
    spilled: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """A sitting and one pair of hands.

    Args:
        sitting: The sitting.
        hands: Whose hands, from 0.
        title: Room for the words above it.
        line: The board itself.
        laying_out: What laying out and packing up take of it.
        blocks, drips: What stands on it and hangs below.
        overfull: What is pinned to it and does not fit, None where all does.
        more_drips: How many coats dry for which there was no room.
    """

    sitting: SittingPlan
    hands: int
    title: QRectF
    line: QRectF
    laying_out: QRectF
    blocks: tuple[Block, ...]
    drips: tuple[Drip, ...]
    overfull: Overfull | None
    more_drips: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """All boards, the height that they take, pixels a minute, and the room left open between."""

    boards: tuple[Board, ...]
    height: float
    scale: float
    slot: QRectF = field(default_factory=QRectF)

    @property
    def blocks(self) -> tuple[Block, ...]:
        """All blocks in order."""
        return tuple(block for board in self.boards for block in board.blocks)


def laid_out(
    project: Project,
    plan: Schedule,
    width: float,
    title_height: float,
    *,
    open_after: int = 0,
    room: float = 0.0,
) -> Layout:
    """The picture of a plan.

    Args:
        project: The document, for its pins.
        plan: The plan.
        width: Pixels that there are.
        title_height: Of a line of words.
        open_after: Number of the sitting below which room is left; 0 for none.
        room: How much.
    """
    slot = QRectF()
    longest = max((sitting.minutes for sitting in plan.sittings), default=60.0)
    scale = max(width - RIGHT, 60.0) / longest
    numbers = {s.sitting.id: s.number for s in plan.sittings if s.sitting is not None}
    pins = {
        pin.step_id: numbers.get(pin.sitting_id, 0)
        for pin in project.pins
        if pin.scheme_id == plan.scheme.id
    }
    most = max((s.count for sitting in plan.sittings for s in sitting.stretches), default=1.0)
    overfull = {found.number: found for found in plan.overfull}
    boards: list[Board] = []
    y, index = 0.0, 0
    for sitting in plan.sittings:
        for hands in range(plan.hands):
            board = _board(
                sitting, hands, y, index, scale, title_height, most, pins, overfull, longest
            )
            boards.append(board)
            index += len(board.blocks)
            lanes = max((drip.y for drip in board.drips), default=board.line.bottom())
            y = max(lanes + DRIP, board.line.bottom()) + _GAP
        if sitting.number == open_after and room:
            slot = QRectF(0.0, y - _GAP + _ABOVE, width, room)
            y = slot.bottom() + _GAP
    height = max(y - _GAP + 4.0, title_height)
    return Layout(boards=tuple(boards), height=height, scale=scale, slot=slot)


def _board(
    sitting: SittingPlan,
    hands: int,
    y: float,
    index: int,
    scale: float,
    title_height: float,
    most: float,
    pins: dict[str, int],
    overfull: dict[int, Overfull],
    longest: float,
) -> Board:
    row = [stretch for stretch in sitting.stretches if stretch.hands == hands]
    title = QRectF(0.0, y, longest * scale + RIGHT, title_height)
    top = y + title.height() + _ABOVE
    floor = top + (HIGHEST if row else 4.0)
    line = QRectF(0.0, floor, sitting.minutes * scale, BOARD)
    out = QRectF(0.0, floor - 10.0, sitting.laying_out * scale, 10.0)
    blocks = tuple(
        _block(index + n, stretch, sitting, floor, scale, most, pins)
        for n, stretch in enumerate(row)
    )
    drips, more = _drips(blocks, line, scale)
    return Board(
        sitting=sitting,
        hands=hands,
        title=title,
        line=line,
        laying_out=out if row else QRectF(),
        blocks=blocks,
        drips=drips,
        overfull=overfull.get(sitting.number) if not hands else None,
        more_drips=more,
    )


def _block(
    index: int,
    stretch: Stretch,
    sitting: SittingPlan,
    floor: float,
    scale: float,
    most: float,
    pins: dict[str, int],
) -> Block:
    height = LOWEST + (HIGHEST - LOWEST) * math.sqrt(stretch.count / most)
    rest = sum(end - begin for begin, end in stretch.breaks if begin < stretch.start)
    ready = stretch.begin + stretch.set_up_minutes + rest
    pinned = pins.get(stretch.step.id, 0)
    return Block(
        index=index,
        stretch=stretch,
        sitting=sitting,
        box=QRectF(
            stretch.start * scale, floor - height, (stretch.end - stretch.start) * scale, height
        ),
        plinth=QRectF(stretch.begin * scale, floor - 10.0, (ready - stretch.begin) * scale, 10.0),
        wait=QRectF(ready * scale, floor - 10.0, stretch.wait_minutes * scale, 10.0),
        rests=tuple(
            QRectF(begin * scale, floor - height, (end - begin) * scale, height)
            for begin, end in stretch.breaks
            if begin >= stretch.start
        ),
        pinned=pinned,
        spilled=0 < pinned < sitting.number,
    )


def _drips(blocks: Sequence[Block], line: QRectF, scale: float) -> tuple[tuple[Drip, ...], int]:
    """What dries, in the fewest lanes below the board; and how many had no room."""
    free: list[float] = []
    found: list[Drip] = []
    more = 0
    for block in blocks:
        if not block.stretch.dry_after:
            continue
        begin = block.box.right()
        whole = begin + block.stretch.dry_after * scale
        end = min(whole, line.right())
        lane = next((n for n, until in enumerate(free) if until <= begin), len(free))
        if lane == _MOST_DRIPS:
            more += 1
            continue
        if lane == len(free):
            free.append(0.0)
        free[lane] = max(end, begin + 6.0)
        found.append(
            Drip(
                stretch=block.index,
                x=begin,
                end=end,
                y=line.bottom() + 3.0 + lane * DRIP,
                goes_on=whole > line.right() + 0.5,
            )
        )
    return tuple(found), more
