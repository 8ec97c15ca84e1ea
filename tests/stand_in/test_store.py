"""Views are built once, kept on disk within limits, and built again where a file is no good."""

import io
import os
import threading
from pathlib import Path

import numpy as np
import pytest

from schemeforge.stand_in import SprayCone, StandIns, Turn, View, model
from schemeforge.stand_in import store as store_module
from schemeforge.stand_in import views as views_module

BALL = model("sphere")
SPRAY = SprayCone()
TURN = Turn(0.0, 10.0)


@pytest.fixture
def built(monkeypatch: pytest.MonkeyPatch) -> list[Turn]:
    """Every side that is traced from now on."""
    traced: list[Turn] = []
    true = views_module.look

    def look(*arguments: object) -> object:
        traced.append(arguments[3])  # type: ignore[arg-type]
        return true(*arguments)  # type: ignore[arg-type]

    monkeypatch.setattr(store_module, "look", look)
    return traced


def alike(a: View, b: View) -> bool:
    """Whether two views show the same."""
    pairs = [(a.levels, b.levels), (a.normal, b.normal), (a.openness, b.openness)]
    return all(np.array_equal(x, y) for x, y in pairs)


def test_what_is_at_hand_need_not_be_traced(tmp_path: Path) -> None:
    asked = (model("sphere"), 24, Turn(), SprayCone())
    views = StandIns(tmp_path)
    assert not views.is_at_hand(*asked)
    views.view(*asked)
    assert views.is_at_hand(*asked)
    again = StandIns(tmp_path)
    assert again.is_at_hand(*asked)
    assert again.ready(*asked) is None
    assert not again.is_at_hand(model("sphere"), 32, Turn(), SprayCone())
    next(tmp_path.glob("*spray*")).unlink()
    assert not StandIns(tmp_path).is_at_hand(*asked)
    assert not StandIns(None).is_at_hand(*asked)


def test_a_view_is_built_once_and_found_again_on_disk(tmp_path: Path, built: list[Turn]) -> None:
    first = StandIns(tmp_path)
    assert first.ready(BALL, 32, TURN, SPRAY) is None
    view = first.view(BALL, 32, TURN, SPRAY)
    assert first.view(BALL, 32, TURN, SPRAY) is view
    assert first.ready(BALL, 32, TURN, SPRAY) is view
    again = StandIns(tmp_path).view(BALL, 32, TURN, SPRAY)
    assert alike(view, again)
    assert built == [TURN]


def test_another_spray_needs_no_new_tracing(tmp_path: Path, built: list[Turn]) -> None:
    views = StandIns(tmp_path)
    a = views.view(BALL, 32, TURN, SPRAY)
    b = views.view(BALL, 32, TURN, SprayCone(half_angle=20.0))
    assert not np.array_equal(a.levels[0], b.levels[0])
    assert np.array_equal(a.levels[1:], b.levels[1:])
    assert built == [TURN]


@pytest.mark.parametrize("harm", ["cut", "empty", "noise", "other arrays", "pickle", "range"])
def test_a_damaged_file_is_built_again(harm: str, tmp_path: Path, built: list[Turn]) -> None:
    view = StandIns(tmp_path).view(BALL, 32, TURN, SPRAY)
    for path in tmp_path.glob("*.npz"):
        data = path.read_bytes()
        with np.load(path) as file:
            arrays = dict(file)
        packed = io.BytesIO()
        if harm == "other arrays":
            np.savez(packed, pixel=np.zeros(3))
        elif harm == "pickle":
            np.savez(packed, pixel=np.array([{}], dtype=object))
        elif harm == "range":
            if "part" in arrays:
                arrays["part"] = arrays["part"] * 0 + 77
            np.savez(packed, **arrays)
        harmed = {"cut": data[: len(data) // 2], "empty": b"", "noise": os.urandom(400)}
        path.write_bytes(harmed.get(harm, packed.getvalue()))
    assert alike(StandIns(tmp_path).view(BALL, 32, TURN, SPRAY), view)
    assert built == [TURN, TURN]
    assert alike(StandIns(tmp_path).view(BALL, 32, TURN, SPRAY), view)
    assert len(built) == 2  # mended on disk


def test_the_folder_stays_within_its_limit(tmp_path: Path) -> None:
    views = StandIns(tmp_path, most_bytes=460_000)
    (tmp_path / "sphere-old-0-0-000000000000.standin.npz").write_bytes(b"x" * 9000)
    (tmp_path / "keep.txt").write_bytes(b"y" * 100_000)
    for n in range(8):
        views.view(BALL, 32, Turn(float(n), 10.0), SPRAY)
        sizes = [p.stat().st_size for p in tmp_path.glob("*.npz")]
        assert sum(sizes) <= 460_000
    assert (tmp_path / "keep.txt").exists()
    assert not list(tmp_path.glob("*000000000000*"))
    assert not list(tmp_path.glob("*.tmp"))


def test_a_folder_that_cannot_be_written_only_costs_time(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"")
    views = StandIns(tmp_path / "file" / "below")
    assert views.view(BALL, 32, TURN, SPRAY).size == 32
    assert StandIns(None).view(BALL, 32, TURN, SPRAY).size == 32


def test_many_who_ask_at_once_get_one_view(tmp_path: Path, built: list[Turn]) -> None:
    views = StandIns(tmp_path)
    found: list[View] = []

    def ask() -> None:
        found.append(views.view(BALL, 32, TURN, SPRAY))

    threads = [threading.Thread(target=ask) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(found) == 4
    assert all(view is found[0] for view in found)
    assert built == [TURN]


def test_preparing_goes_step_by_step_and_stops_when_told(tmp_path: Path) -> None:
    views = StandIns(tmp_path)
    turns = [Turn(float(a), 10.0) for a in (0, 90, 180)]
    steps: list[float] = []
    done = views.prepare(
        BALL, 24, turns, SPRAY, cancelled=lambda: len(steps) >= 2, progress=steps.append
    )
    assert not done
    assert steps == pytest.approx([1 / 3, 2 / 3])
    assert views.ready(BALL, 24, turns[2], SPRAY) is None
    assert views.prepare(BALL, 24, turns, SPRAY)


def test_the_nearest_view_is_the_nearest_around(tmp_path: Path) -> None:
    views = StandIns(tmp_path)
    assert views.nearest(BALL, 24, TURN, SPRAY) is None
    for azimuth in (10.0, 350.0, 180.0):
        views.view(BALL, 24, Turn(azimuth, 10.0), SPRAY)
    near = views.nearest(BALL, 24, Turn(355.0, 10.0), SPRAY)
    assert near is not None
    assert near.turn.azimuth == 350.0
    near = views.nearest(BALL, 24, Turn(2.0, 10.0), SPRAY)
    assert near is not None
    assert near.turn.azimuth == 10.0


def test_memory_holds_the_latest_views_within_a_bound(monkeypatch: pytest.MonkeyPatch) -> None:
    views = StandIns(None)
    first = views.view(BALL, 32, TURN, SPRAY)
    monkeypatch.setattr(store_module, "_MOST_SPOTS", 2 * len(first.seen.part) + 50)
    for azimuth in (10.0, 20.0, 30.0):
        views.view(BALL, 32, Turn(azimuth, 10.0), SPRAY)
    assert views.ready(BALL, 32, TURN, SPRAY) is None
    assert views.ready(BALL, 32, Turn(30.0, 10.0), SPRAY) is not None
    monkeypatch.setattr(store_module, "_MOST_SPOTS", 1)
    last = views.view(BALL, 32, Turn(40.0, 10.0), SPRAY)
    assert views.ready(BALL, 32, Turn(40.0, 10.0), SPRAY) is last


def test_progress_of_a_first_view_rises() -> None:
    told: list[float] = []
    StandIns(None).view(BALL, 32, TURN, SPRAY, progress=told.append)
    assert told == sorted(told)
    assert len(told) == 2
