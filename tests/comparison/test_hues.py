"""Families of hue against a plain joining of neighbours, and round the circle's seam."""

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from schemeforge.comparison.hues import families
from schemeforge.comparison.tiles import Array


def tile(hue: float, chroma: float = 40.0) -> Array:
    """One colour all over."""
    turn = np.radians(hue)
    colour = np.array([50.0, chroma * np.cos(turn), chroma * np.sin(turn)])
    return np.tile(colour, (3, 1, 1))


def joined(hues: list[float], gap: float) -> set[frozenset[int]]:
    """Groups of hues by joining every two that are at most that far apart, again and again."""
    groups = [{n} for n in range(len(hues))]
    for a, b in combinations(range(len(hues)), 2):
        turn = abs(hues[a] - hues[b]) % 360
        if min(turn, 360 - turn) <= gap:
            one = next(g for g in groups if a in g)
            two = next(g for g in groups if b in g)
            if one is not two:
                one |= two
                groups.remove(two)
    return {frozenset(group) for group in groups}


@given(st.lists(st.integers(0, 359), min_size=1, max_size=9), st.integers(5, 150))
def test_families_are_the_hues_that_hang_together(hues: list[int], gap: int) -> None:
    tiles = {str(n): tile(float(hue)) for n, hue in enumerate(hues)}
    areas = {str(n): float(n + 1) for n in range(len(hues))}
    # Half a degree more, so that no sum of roundings decides.
    found, neutral = families(tiles, areas, 10.0, gap + 0.5)
    assert neutral == pytest.approx(0.0, abs=1e-12)
    assert sum(f.share for f in found) == pytest.approx(1.0)
    assert [f.share for f in found] == sorted((f.share for f in found), reverse=True)
    groups = {frozenset(int(zone_id) for zone_id in f.zone_ids) for f in found}
    assert groups == joined([float(hue) for hue in hues], gap + 0.5)


def test_neighbours_across_the_seam_of_the_circle_are_one_family() -> None:
    found, _ = families({"a": tile(355.0), "b": tile(5.0)}, {"a": 1.0, "b": 1.0}, 10.0, 30.0)
    assert len(found) == 1
    L, a, b = found[0].lab
    assert (L, b) == pytest.approx((50.0, 0.0))
    assert a == pytest.approx(40.0 * np.cos(np.radians(5.0)))


def test_neutral_zones_belong_to_no_family() -> None:
    found, neutral = families(
        {"a": tile(20.0), "b": tile(20.0, chroma=4.0)}, {"a": 1.0, "b": 3.0}, 10.0, 30.0
    )
    assert [f.zone_ids for f in found] == [("a",)]
    assert found[0].share == pytest.approx(0.25)
    assert neutral == pytest.approx(0.75)
    assert families({"b": tile(0.0, chroma=1.0)}, {"b": 2.0}, 10.0, 30.0) == ((), 1.0)


def test_a_feathered_zone_may_belong_to_two_families() -> None:
    ends = np.concatenate([tile(40.0), tile(200.0)], axis=1)
    found, _ = families({"lantern": ends}, {"lantern": 2.0}, 10.0, 30.0)
    assert [f.zone_ids for f in found] == [("lantern",), ("lantern",)]
    assert [f.share for f in found] == pytest.approx([0.5, 0.5])
