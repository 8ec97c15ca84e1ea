"""A model while it is turned: the points lie on the surface, and the picture is the traced one."""

from pathlib import Path

import numpy as np
import pytest

from schemeforge.scheme import Project
from schemeforge.stand_in import (
    WARDEN,
    SprayCone,
    StandIns,
    Turn,
    Turntable,
    model,
    picture_of,
    turned_picture,
    worn,
)
from schemeforge.stand_in.cloud import Cloud, cloud_of

BALL = model("sphere")
SPRAY = SprayCone()


@pytest.fixture(scope="module")
def ball() -> Cloud:
    made = cloud_of(BALL.solid(), BALL.frame)
    assert made is not None
    return made


@pytest.fixture(scope="module")
def turntable(views: StandIns) -> Turntable:
    made = views.turntable(WARDEN, SPRAY)
    assert made is not None
    return made


def test_points_lie_on_the_sphere_and_cover_it_evenly(ball: Cloud) -> None:
    out = ball.place - np.array([[0.0], [16.0], [0.0]])
    radius = np.sqrt((out**2).sum(axis=0))
    assert radius == pytest.approx(15.0, abs=0.01)
    # Archimedes: slabs of one height hold equal areas of a sphere. Each of 10 slabs holds a
    # tenth of n points, give or take its Poisson spread; 6 of those is out of reach.
    count = ball.place.shape[1]
    slabs = np.histogram(out[1], bins=10, range=(-15.0, 15.0))[0]
    assert np.abs(slabs - count / 10).max() < 6 * np.sqrt(count / 10)
    # As many points a mm2 as the picture has pixels a mm2 at 400.
    assert count / (4 * np.pi * 15.0**2) == pytest.approx((400 / BALL.frame.span) ** 2, rel=0.03)


def test_points_are_the_same_every_time_and_survive_a_file(ball: Cloud) -> None:
    again = cloud_of(BALL.solid(), BALL.frame)
    assert again is not None
    assert np.array_equal(again.place, ball.place)
    back = Cloud.from_arrays(ball.arrays(BALL.frame), BALL.frame, len(BALL.parts))
    assert back.place == pytest.approx(ball.place, abs=1e-3)  # 36 mm in 65535 steps
    assert np.array_equal(back.turns, ball.turns)


@pytest.mark.parametrize("harm", ["part", "shape", "kind", "missing"])
def test_arrays_that_are_no_cloud_are_refused(ball: Cloud, harm: str) -> None:
    arrays = ball.arrays(BALL.frame)
    if harm == "part":
        arrays["part"] = arrays["part"] + np.int8(9)
    elif harm == "shape":
        arrays["turns"] = arrays["turns"][:, :-1]
    elif harm == "kind":
        arrays["place"] = arrays["place"].astype(np.float64)
    else:
        del arrays["along"]
    with pytest.raises((ValueError, KeyError)):
        Cloud.from_arrays(arrays, BALL.frame, len(BALL.parts))


def test_who_cancels_gets_nothing_and_leaves_nothing(tmp_path: Path) -> None:
    views = StandIns(tmp_path)
    assert cloud_of(BALL.solid(), BALL.frame, cancelled=lambda: True) is None
    assert views.turntable(BALL, SPRAY, cancelled=lambda: True) is None
    assert views.turntable_ready(BALL, SPRAY) is None
    assert not list(tmp_path.iterdir())


def test_a_turntable_is_built_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    views = StandIns(tmp_path)
    made = views.turntable(BALL, SPRAY)
    assert made is not None
    assert views.turntable(BALL, SPRAY) is made
    assert views.turntable_ready(BALL, SPRAY) is made
    monkeypatch.setattr("schemeforge.stand_in.store.cloud_of", lambda *_, **__: None)
    assert StandIns(tmp_path).turntable(BALL, SPRAY) is not None  # from disk


@pytest.mark.parametrize("azimuth", [20.0, 137.0])
def test_the_picture_is_that_of_the_traced_view(
    views: StandIns, turntable: Turntable, demo: Project, azimuth: float
) -> None:
    """Seen small, as while it is turned: traced and thrown pictures differ at edges alone."""
    size, scheme = 256, demo.schemes[0]
    wearing = worn(demo, WARDEN)
    traced = picture_of(demo, scheme, views.view(WARDEN, size, Turn(azimuth), SPRAY), wearing)
    thrown = turned_picture(demo, scheme, turntable, wearing, Turn(azimuth), size)
    covered = [picture.rgba[..., 3] > 127 for picture in (traced, thrown)]
    # The outline is some 1300 of 20 000 pixels long; where points end is half a pixel off.
    assert (covered[0] & covered[1]).sum() > 0.95 * (covered[0] | covered[1]).sum()
    both = (traced.rgba[..., 3] == 255) & (thrown.rgba[..., 3] == 255)
    same_zone = traced.zone_index[both] == thrown.zone_index[both]
    assert same_zone.mean() > 0.95
    # Single points of a texture some 12 codes rough even out in squares of 8 pixels, to 2 of 48
    # or more: what is left beyond twice that would be a light or a colour gone wrong.
    many = both.reshape(32, 8, 32, 8).sum(axis=(1, 3))
    means = []
    for picture in (traced, thrown):
        kept = picture.rgba[..., :3].astype(float) * both[..., np.newaxis]
        means.append(kept.reshape(32, 8, 32, 8, 3).sum(axis=(1, 3)))
    full = many > 48
    apart = np.abs(means[0] - means[1])[full] / many[full][:, np.newaxis]
    assert apart.mean() < 4.0


def test_a_smooth_model_is_shown_as_traced(views: StandIns, demo: Project) -> None:
    """A point lies up to 1.5 pixels off; across 240 pixels some 200 codes go by: one a pixel."""
    table = views.turntable(BALL, SPRAY)
    assert table is not None
    wearing, scheme = worn(demo, BALL), demo.schemes[0]
    traced = picture_of(demo, scheme, views.view(BALL, 256, Turn(50.0), SPRAY), wearing)
    thrown = turned_picture(demo, scheme, table, wearing, Turn(50.0), 256)
    both = (traced.rgba[..., 3] == 255) & (thrown.rgba[..., 3] == 255)
    off = np.abs(traced.rgba[both].astype(int) - thrown.rgba[both])[:, :3].max(axis=1)
    assert np.median(off) <= 1.5


def test_a_side_is_kept_for_the_next_scheme(turntable: Turntable) -> None:
    turn = Turn(33.0)
    assert turntable.side(turn, 128) is turntable.side(turn, 128)
    assert turntable.side(turn, 96) is not turntable.side(turn, 128)
