"""How models are lit, sprayed and sized: kept between runs, harmless where it makes no sense."""

from dataclasses import replace
from pathlib import Path

import pytest

from schemeforge.desk import Looking, Preferences
from schemeforge.desk.looking import LIMITS, looking_as_json, looking_from_json
from schemeforge.desk.preferences import load_preferences, save_preferences
from schemeforge.errors import InputError
from schemeforge.stand_in import LightDirection, SprayCone


def test_the_defaults_are_those_of_the_stand_ins() -> None:
    usual, lamp, spray = Looking(), LightDirection(), SprayCone()
    assert (usual.lamp_side, usual.lamp_height) == (lamp.azimuth, lamp.elevation)
    assert (usual.spray_half_angle, usual.low_pass, usual.low_angle) == (
        spray.half_angle,
        spray.low_pass,
        spray.low_angle,
    )


@pytest.mark.parametrize("name", LIMITS)
def test_what_is_allowed_here_is_allowed_there(name: str) -> None:
    what, low, high = LIMITS[name]
    for value in (low, high):
        looking = replace(Looking(), **{name: value})
        LightDirection(azimuth=looking.lamp_side, elevation=looking.lamp_height)
        SprayCone(
            half_angle=looking.spray_half_angle,
            low_pass=looking.low_pass,
            low_angle=looking.low_angle,
        )
    for value in (low - 1.0, high + 1.0, float("nan")):
        with pytest.raises(InputError, match=what):
            replace(Looking(), **{name: value})


def test_there_and_back(tmp_path: Path) -> None:
    own = Looking(lamp_side=20.0, low_pass=0.0, model_mm=54.0, screen_fit=1.25)
    assert looking_from_json(looking_as_json(own)) == own
    file = tmp_path / "preferences.json"
    save_preferences(file, Preferences(looking=own), ())
    assert load_preferences(file)[0].looking == own


@pytest.mark.parametrize(
    "raw", [None, [], "x", {"lamp_side": "left"}, {"lamp_height": 400}, {"low_pass": None}]
)
def test_nonsense_gives_the_defaults(raw: object) -> None:
    assert looking_from_json(raw) == Looking()


def test_what_is_not_known_is_passed_over() -> None:
    assert looking_from_json({"lamp_side": 5, "fog": 3}) == Looking(lamp_side=5.0)
