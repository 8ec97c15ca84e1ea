"""Targets are kept between runs with the preferences, by project; damage costs only the target."""

import json

import pytest

from schemeforge.comparison import TargetPalette, palette_of
from schemeforge.desk import Places, Preferences
from schemeforge.desk.preferences import load_preferences, save_preferences
from schemeforge.desk.targets import (
    MOST_KEPT,
    Targets,
    target_of,
    targets_as_json,
    targets_from_json,
    with_target,
)


def target(name: str = "banner") -> TargetPalette:
    return palette_of([(40.0, 30.0, -12.5), (71.0, 0.0, 5.0)], name)


def test_a_target_is_kept_between_runs(places: Places) -> None:
    kept = with_target((), "wardens", target())
    save_preferences(places.preferences_file, Preferences(targets=kept), ())
    back, _ = load_preferences(places.preferences_file)
    assert back.targets == kept
    assert target_of(back.targets, "wardens") == target()
    assert target_of(back.targets, "others") is None


def test_each_project_has_one_and_the_oldest_go_first() -> None:
    targets: Targets = ()
    for n in range(MOST_KEPT + 5):
        targets = with_target(targets, f"p{n}", target(f"t{n}"))
    assert len(targets) == MOST_KEPT
    assert target_of(targets, "p4") is None
    again = with_target(targets, "p7", target("other"))
    assert len(again) == MOST_KEPT
    found = target_of(again, "p7")
    assert found is not None
    assert found.name == "other"
    assert target_of(with_target(again, "p7", None), "p7") is None


@pytest.mark.parametrize(
    "damage",
    [
        "far",
        [3],
        [{"project": "p", "name": "n", "has_shares": False, "colours": [[1, 2]]}],
        [{"project": "p", "name": "n", "has_shares": False, "colours": []}],
        [{"project": "p", "name": "n", "has_shares": False, "colours": [[900, 0, 0, 1.0]]}],
        [{"project": "p", "name": "n", "has_shares": False, "colours": [["x", 0, 0, 1.0]]}],
    ],
)
def test_damaged_targets_are_left_out(damage: object) -> None:
    good = targets_as_json(with_target((), "wardens", target()))
    assert targets_from_json(damage) == ()
    mixed = json.loads(json.dumps([*damage, *good])) if isinstance(damage, list) else good
    assert target_of(targets_from_json(mixed), "wardens") == target()
