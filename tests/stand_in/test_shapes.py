"""Models: places on them, how they face the spray, and what they are made of."""

from itertools import pairwise

import numpy as np
import pytest

from schemeforge.errors import InputError, UnknownNameError
from schemeforge.stand_in import (
    WARDEN,
    Slot,
    SprayCone,
    StandIns,
    Turn,
    View,
    model,
    model_names,
)
from schemeforge.stand_in.solid import Solid
from schemeforge.stand_in.views import look

PLAIN_TURN = Turn(20.0, 14.0)
SIZE = 64


def upward(view: View) -> np.ndarray:
    """How far each spot faces up, -1 to 1."""
    tilt = np.radians(view.turn.elevation)
    return np.asarray(np.cos(tilt) * view.normal[1] + np.sin(tilt) * view.normal[2])


def held(view: View, name: str) -> np.ndarray:
    """Spots of the warden's part of that name."""
    index = [part.name for part in WARDEN.parts].index(name)
    return np.asarray(view.seen.part == index)


@pytest.mark.parametrize("name", model_names())
def test_every_model_is_seen_whole_with_sound_places(name: str, views: StandIns) -> None:
    made = views.view(model(name), SIZE, PLAIN_TURN, SprayCone())
    spots = made.seen.part >= 0
    assert spots.sum() > 400
    assert np.allclose(np.linalg.norm(made.normal[:, spots], axis=0), 1.0, atol=2e-3)
    assert (made.normal[2, spots] > -0.1).mean() > 0.98  # faces the eye, but for fine detail
    row, column = np.divmod(made.seen.pixel, SIZE)
    assert row.min() > 0
    assert row.max() < SIZE - 1
    assert column.min() > 0
    assert column.max() < SIZE - 1
    assert {int(n) for n in made.seen.part[spots]} <= set(range(len(model(name).parts)))
    spread = np.ptp(made.levels[:, spots].astype(int), axis=1)
    assert (spread > 60).all()  # all three coordinates say something


def test_tracing_is_the_same_every_time() -> None:
    limb = model("limb")
    once, again = (look(limb.solid(), limb.frame, 40, PLAIN_TURN) for _ in range(2))
    for name, array in once.arrays().items():
        assert np.array_equal(array, again.arrays()[name]), name


def test_a_sphere_is_where_it_is(views: StandIns) -> None:
    ball = model("sphere")
    made = views.view(ball, SIZE, Turn(0.0, 0.0), SprayCone())
    # Radius 15 mm in a frame of 33 mm: the share of pixels follows from geometry.
    cover = made.seen.plain + (made.seen.part[made.seen.plain :] >= 0).sum() / 4
    assert cover == pytest.approx(np.pi * (15 / 33 * SIZE) ** 2, rel=0.01)
    row, column = np.divmod(made.seen.pixel[: made.seen.plain], SIZE)
    x = (column + 0.5 - SIZE / 2) / SIZE * 33 / 15
    y = (SIZE / 2 - 0.5 - row) / SIZE * 33 / 15
    assert np.allclose(made.normal[0, : made.seen.plain], x, atol=0.02)
    assert np.allclose(made.normal[1, : made.seen.plain], y, atol=0.02)


def test_tone_falls_from_above_to_below_on_a_sphere(views: StandIns) -> None:
    made = views.view(model("sphere"), SIZE, Turn(0.0, 0.0), SprayCone(low_pass=0.0))
    tone = made.levels[0] / 255
    up = upward(made)
    means = [tone[(up > low) & (up <= low + 0.2)].mean() for low in np.arange(-1.0, 1.0, 0.2)]
    assert all(b >= a - 0.01 for a, b in pairwise(means))
    top = up > 0.85  # all of the cone reaches it, so tone is the cosine
    assert np.abs(tone[top] - up[top]).max() < 0.03
    assert means[1] < 0.01


def test_a_wider_cone_and_a_low_pass_reach_the_sides(views: StandIns) -> None:
    def on_sides(spray: SprayCone) -> float:
        made = views.view(model("sphere"), SIZE, Turn(0.0, 0.0), spray)
        return float(made.levels[0][np.abs(upward(made)) < 0.15].mean())

    narrow = on_sides(SprayCone(half_angle=15.0, low_pass=0.0))
    wide = on_sides(SprayCone(half_angle=70.0, low_pass=0.0))
    low = on_sides(SprayCone(half_angle=15.0, low_pass=0.5))
    assert wide > narrow + 3
    assert low > narrow + 30


def test_what_is_under_something_gets_less_spray(warden: View) -> None:
    tone = warden.levels[0]
    assert tone[held(warden, "thighs")].mean() < 0.35 * tone[held(warden, "collar")].mean()
    up = upward(warden)
    spots = warden.seen.part >= 0
    assert tone[spots & (up < -0.3)].mean() < 0.3 * tone[spots & (up > 0.6)].mean()


def test_edges_are_raised_and_joints_are_recesses(views: StandIns) -> None:
    made = views.view(model("ribbed plate"), SIZE * 2, Turn(0.0, 0.0), SprayCone())
    relief = made.levels[1][: made.seen.plain]
    row, column = np.divmod(made.seen.pixel[: made.seen.plain], SIZE * 2)
    middle = np.abs(row - row.mean()) < 12
    across = (column + 0.5 - SIZE) / (SIZE * 2) * 32  # mm
    phase = np.cos(2 * np.pi * 0.42 * across)
    inner = middle & (np.abs(across) < 8)
    assert relief[inner & (phase > 0.8)].mean() > relief[inner & (phase < -0.8)].mean() + 60
    assert relief[middle & (np.abs(np.abs(across) - 10.4) < 0.4)].mean() > 200


@pytest.mark.parametrize(("name", "sign"), [("limb", 1), ("ribbed plate", 1), ("cloak", 1)])
def test_along_rises_from_root_to_tip(name: str, sign: int, views: StandIns) -> None:
    made = views.view(model(name), SIZE, PLAIN_TURN, SprayCone())
    row = made.seen.pixel[: made.seen.plain] // SIZE
    along = made.levels[2][: made.seen.plain].astype(float)
    means = [along[row == r].mean() for r in np.unique(row)]
    assert (sign * np.diff(means) > -1.5).all()
    assert sign * (means[-1] - means[0]) > 200


def test_along_runs_from_collar_to_hem_and_foot_to_crown(warden: View) -> None:
    row = np.concatenate(
        [
            warden.seen.pixel[: warden.seen.plain],
            np.repeat(warden.seen.pixel[warden.seen.plain :], 4),
        ]
    )
    along = warden.levels[2].astype(float)
    for name, sign in (("cloak", 1), ("lantern", -1), ("rim", -1), ("bill", 1)):
        some = held(warden, name)
        assert sign * np.corrcoef(row[some], along[some])[0, 1] > 0.4, name


def test_the_warden_shows_all_slots(warden: View) -> None:
    seen = {WARDEN.parts[n].slot for n in np.unique(warden.seen.part) if n >= 0}
    assert seen == set(Slot)


def test_parts_lie_in_the_balls_that_hold_them() -> None:
    rng = np.random.default_rng(4)
    for name in model_names():
        for part in model(name).parts:
            way = rng.standard_normal((3, 400)).astype(np.float32)
            way *= (part.reach + 0.05) / np.linalg.norm(way, axis=0)
            spots = way + np.array(part.centre, np.float32)[:, np.newaxis]
            assert part.distance(spots).min() > 0.0, f"{name}: {part.name}"


def test_detail_stays_within_zero_and_one() -> None:
    rng = np.random.default_rng(5)
    for name in model_names():
        for part in model(name).parts:
            spots = rng.uniform(-1, 1, (3, 500)).astype(np.float32) * np.float32(part.reach)
            made = part.detail(spots + np.array(part.centre, np.float32)[:, np.newaxis])
            for array in made:
                assert array.shape == (500,)
                assert array.min() >= 0.0
                assert array.max() <= 1.0 + 1e-6, part.name


def test_cells_never_lead_too_far() -> None:
    solid = WARDEN.solid()
    rng = np.random.default_rng(6)
    spots = rng.uniform(-1, 1, (3, 4000)).astype(np.float32)
    spots = spots * np.array([[17], [22], [17]], np.float32)
    spots[1] += 23
    led, _ = solid.nearest(spots)
    true = Solid(WARDEN.parts, *WARDEN.frame.box).distance(spots)
    every = np.min([part.distance(spots) for part in WARDEN.parts], axis=0)
    assert (led <= np.maximum(every, 0.25) + 1.0).all()
    touching = every < 0.2
    assert (led[touching] <= 0.25).all()
    near = np.abs(every) < 0.2
    assert np.allclose(true[near], every[near], atol=1e-4)


@pytest.mark.parametrize("value", [4.0, 81.0, float("nan")])
def test_an_impossible_spray_is_refused(value: float) -> None:
    with pytest.raises(InputError, match="Half-angle"):
        SprayCone(half_angle=value)


def test_an_unknown_model_is_a_sentence() -> None:
    with pytest.raises(UnknownNameError, match="stand-in model"):
        model("wardn")
