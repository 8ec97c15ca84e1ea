"""Shares blocks out over the fewest sides of paper that hold them, all about equally full."""

import math
from collections.abc import Callable, Sequence

Span = tuple[int, int]
"""First block of a side, and one past its last."""


def spans(heights: Sequence[float], room: Callable[[int, int], float]) -> tuple[Span, ...]:
    """Which blocks go on which side, in order: the fewest sides, the fullest as empty as can be.

    A block that is higher than its side has one to itself.

    Args:
        heights: Of the blocks, mm, above 0.
        room: Height that a side has for blocks from the first to before the last, mm.
    """
    count = len(heights)
    if not count:
        return ()
    total = [0.0]
    for height in heights:
        total.append(total[-1] + height)

    def fill(first: int, last: int) -> float:
        """Share of the side that the blocks take; endless where they do not fit."""
        share = (total[last] - total[first]) / max(room(first, last), 1e-9)
        return share if share <= 1.0 else 1.0 if last - first == 1 else math.inf

    # By the number of sides: how full the fullest is for the first so many blocks, and where the
    # last of the sides begins.
    fullest = [[0.0] + [math.inf] * count]
    begins: list[list[int]] = [[0] * (count + 1)]
    while math.isinf(fullest[-1][count]):
        before, row, begin = fullest[-1], [math.inf] * (count + 1), [0] * (count + 1)
        for last in range(1, count + 1):
            for first in range(last - 1, -1, -1):
                share = fill(first, last)
                if math.isinf(share):
                    break
                if max(before[first], share) < row[last]:
                    row[last], begin[last] = max(before[first], share), first
        fullest.append(row)
        begins.append(begin)
    found: list[Span] = []
    last = count
    for begin in reversed(begins[1:]):
        found.append((begin[last], last))
        last = begin[last]
    return tuple(reversed(found))
