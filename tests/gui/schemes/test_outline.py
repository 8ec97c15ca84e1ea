"""The outline: every zone as large as its share of the area, alike for every scheme."""

import numpy as np
import pytest

from schemeforge.gui.files import demo_project
from schemeforge.gui.schemes.outline import Outline, ZoneShape, outline, shapes_of
from schemeforge.scheme import AreaBasis, Surfacing

BODY, TOP, RIM = AreaBasis.BODY_SHARE, AreaBasis.BASE_TOP, AreaBasis.RIM


def pixels(map_: Outline) -> np.ndarray[tuple[int], np.dtype[np.intp]]:
    return np.bincount(map_.zone[map_.zone >= 0])


def test_zones_take_their_share_of_the_demo() -> None:
    shapes = shapes_of(demo_project())
    areas = np.array([shape.area for shape in shapes])
    found = pixels(outline(shapes, 600, 800))
    # The disc hides a little of the rim behind it, and edge pixels are counted whole.
    assert found / found.sum() == pytest.approx(areas / areas.sum(), abs=0.015)


@pytest.mark.parametrize("surfacing", list(Surfacing))
def test_places_run_over_the_whole_zone(surfacing: Surfacing) -> None:
    map_ = outline((ZoneShape(3.0, BODY, surfacing), ZoneShape(5.0, BODY, surfacing)), 300, 400)
    for number in (0, 1):
        there = map_.zone == number
        assert map_.relief[there].min() >= 0.0
        assert map_.relief[there].max() <= 1.0
        assert np.ptp(map_.relief[there]) > 0.8
        assert map_.along[there].min() == pytest.approx(0.0, abs=0.02)
        assert map_.along[there].max() == pytest.approx(1.0, abs=0.02)
    rows = [map_.middles[number][0] for number in (0, 1)]
    assert rows == sorted(rows)


@pytest.mark.parametrize(
    "places", [(BODY,), (TOP,), (RIM,), (TOP, RIM), (BODY, TOP), (BODY, RIM, TOP)]
)
def test_any_kinds_of_zone_make_an_outline(places: tuple[AreaBasis, ...]) -> None:
    shapes = tuple(ZoneShape(4.0, place, Surfacing.FLAT) for place in places)
    map_ = outline(shapes, 200, 260)
    assert set(np.unique(map_.zone)) == {-1, *range(len(places))}
    assert not map_.cover[map_.zone < 0].any()
    assert map_.cover.max() == 1.0


def test_a_tiny_figure_and_a_tiny_zone_do_no_harm() -> None:
    shapes = (ZoneShape(1000.0, BODY, Surfacing.FLAT), ZoneShape(0.001, BODY, Surfacing.FLAT))
    map_ = outline(shapes, 8, 8)
    assert map_.zone.shape == (8, 8)
    assert len(map_.middles) == 2


def test_an_outline_is_made_once_and_cannot_be_written_to() -> None:
    shapes = shapes_of(demo_project())
    map_ = outline(shapes, 120, 160)
    assert outline(shapes_of(demo_project()), 120, 160) is map_
    with pytest.raises(ValueError, match="read-only"):
        map_.zone[0, 0] = 1
