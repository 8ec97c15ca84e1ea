"""Blocks over sides: few, evenly filled, in order; and a few swatches that stand for many."""

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from schemeforge import colorimetry
from schemeforge.export.facts import gather
from schemeforge.export.options import SheetOptions
from schemeforge.export.pager import spans
from schemeforge.export.representatives import representatives
from schemeforge.export.swatches import Swatch, Swatches
from tests.export import hard_projects as hard

HEIGHTS = st.lists(st.floats(1.0, 120.0), min_size=1, max_size=9)


def hundred(_first: int, _last: int) -> float:
    return 100.0


def every_cut(count: int) -> list[list[tuple[int, int]]]:
    """All ways to cut a row of blocks, by trying each."""
    found = []
    for size in range(count):
        for cuts in itertools.combinations(range(1, count), size):
            ends = [0, *cuts, count]
            found.append(list(itertools.pairwise(ends)))
    return found


def test_a_sitting_that_fits_takes_one_side() -> None:
    assert spans([30.0, 30.0, 40.0], hundred) == ((0, 3),)
    assert spans([], hundred) == ()


def test_sides_are_filled_alike_instead_of_one_after_the_other() -> None:
    assert spans([30.0, 30.0, 30.0, 30.0], hundred) == ((0, 2), (2, 4))
    assert spans([60.0, 20.0, 20.0, 20.0], hundred) == ((0, 1), (1, 4))


def test_a_block_that_no_side_holds_has_one_to_itself() -> None:
    assert spans([30.0, 250.0, 30.0], hundred) == ((0, 1), (1, 2), (2, 3))


def test_room_that_depends_on_the_blocks_counts() -> None:
    """A side that bears the first block has a higher foot."""
    assert spans([40.0, 40.0, 40.0], lambda first, _: 50.0 if first == 0 else 100.0) == (
        (0, 1),
        (1, 3),
    )


@given(HEIGHTS)
def test_no_way_takes_fewer_sides_or_leaves_the_fullest_emptier(heights: list[float]) -> None:
    """Against all ways to cut the row, tried one by one."""

    def fills(cut: list[tuple[int, int]]) -> list[float]:
        return [
            1.0 if end - first == 1 and heights[first] > 100.0 else sum(heights[first:end]) / 100.0
            for first, end in cut
        ]

    found = list(spans(heights, hundred))
    assert [n for first, end in found for n in range(first, end)] == list(range(len(heights)))
    possible = [cut for cut in every_cut(len(heights)) if max(fills(cut)) <= 1.0]
    fewest = min(len(cut) for cut in possible)
    assert len(found) == fewest
    emptiest = min(max(fills(cut)) for cut in possible if len(cut) == fewest)
    assert max(fills(found)) == pytest.approx(emptiest)


def sprayed() -> tuple[Swatch, ...]:
    facts = gather(hard.many_zones(12), "first", SheetOptions())
    return Swatches(facts, tolerances=False).of_step(facts.steps[2])


def lightness(swatch: Swatch) -> float:
    return float(swatch.labs[..., 0].mean())


@pytest.mark.parametrize("most", [1, 2, 3, 4])
def test_darkest_and_lightest_stand_for_the_rest_and_every_zone_is_told(most: int) -> None:
    every = sprayed()
    assert len(every) > 4
    few = representatives(every, most)
    assert len(few) == most
    told = [zone.id for swatch in few for zone in (*swatch.zones, *swatch.near)]
    assert sorted(told) == sorted(zone.id for swatch in every for zone in swatch.zones)
    levels = [lightness(swatch) for swatch in every]
    assert min(lightness(swatch) for swatch in few) == pytest.approx(min(levels))
    if most > 1:
        assert max(lightness(swatch) for swatch in few) == pytest.approx(max(levels))


def test_a_zone_without_a_swatch_is_told_under_the_nearest() -> None:
    every = sprayed()
    few = representatives(every, 3)
    by_zone = {zone.id: swatch for swatch in every for zone in swatch.zones}
    for swatch in few:
        for zone in swatch.near:
            distances = [
                np.mean(colorimetry.ciede2000(by_zone[zone.id].labs, other.labs)) for other in few
            ]
            assert few[int(np.argmin(distances))].zones == swatch.zones


def test_few_swatches_are_left_as_they_are() -> None:
    every = sprayed()
    assert representatives(every, len(every)) == every
    assert not any(swatch.near for swatch in representatives(every, len(every)))
