"""Preferences and places: a convenience that may be lost without harm."""

import json
import sys
from pathlib import Path

import pytest

from schemeforge.comparison.thresholds import DEFAULTS, RULES
from schemeforge.desk import Places, Preferences, Surround, default_places
from schemeforge.desk.preferences import load_preferences, save_preferences

RECENT = (Path("/a/one.schemeforge"), Path("/b/two.schemeforge"))


def test_there_and_back(tmp_path: Path) -> None:
    file = tmp_path / "deep" / "preferences.json"
    rule = RULES[0]
    own = Preferences(
        surround=Surround.LIGHT,
        numbers=True,
        pointer_dismissed=True,
        thresholds=type(DEFAULTS)(**{rule.field: getattr(DEFAULTS, rule.field)}),
    )
    save_preferences(file, own, RECENT)
    assert load_preferences(file) == (own, RECENT)
    save_preferences(file, Preferences(), ())
    assert load_preferences(file) == (Preferences(), ())
    assert [p.name for p in file.parent.iterdir()] == ["preferences.json"]


@pytest.mark.parametrize(
    "text",
    [
        "",
        "[]",
        "3",
        "{}",
        "\x00",
        "[" * 100_000,
        '{"surround": "pink", "numbers": true, "pointer_dismissed": true, "recent": []}',
        '{"surround": "dark", "numbers": true, "pointer_dismissed": true, "recent": 3}',
    ],
)
def test_a_damaged_file_means_the_defaults(tmp_path: Path, text: str) -> None:
    file = tmp_path / "preferences.json"
    file.write_text(text, encoding="utf-8")
    assert load_preferences(file) == (Preferences(), ())


@pytest.mark.parametrize(
    "thresholds", [None, 3, {RULES[0].field: "word"}, {RULES[0].field: 1e400}, {"unknown": 1}]
)
def test_rules_that_make_no_sense_are_the_usual_ones(tmp_path: Path, thresholds: object) -> None:
    file = tmp_path / "preferences.json"
    body = {
        "surround": "dark",
        "numbers": "yes",
        "pointer_dismissed": 1,
        "thresholds": thresholds,
        "recent": ["/a", 3],
    }
    file.write_text(json.dumps(body), encoding="utf-8")
    read, recent = load_preferences(file)
    assert read == Preferences(surround=Surround.DARK)
    assert recent == (Path("/a"),)


def test_a_folder_that_cannot_be_written_is_passed_over(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    save_preferences(tmp_path / "file" / "preferences.json", Preferences(), ())
    (tmp_path / "preferences.json").mkdir()
    save_preferences(tmp_path / "preferences.json", Preferences(), ())
    assert load_preferences(tmp_path / "preferences.json") == (Preferences(), ())


def test_places_by_custom_of_the_platform(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("SCHEMEFORGE_HOME", str(tmp_path))
    assert default_places() == Places(data=tmp_path, settings=tmp_path)
    monkeypatch.delenv("SCHEMEFORGE_HOME")
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "APPDATA"):
        monkeypatch.delenv(name, raising=False)
    found = {}
    for platform in ("linux", "darwin", "win32"):
        monkeypatch.setattr(sys, "platform", platform)
        found[platform] = default_places()
    assert found["linux"].data == tmp_path / ".local" / "share" / "schemeforge"
    assert found["linux"].settings == tmp_path / ".config" / "schemeforge"
    assert found["darwin"].data == tmp_path / "Library" / "Application Support" / "SchemeForge"
    assert found["win32"].data == tmp_path / "AppData" / "Roaming" / "SchemeForge"
    monkeypatch.setenv("XDG_DATA_HOME", "/d")
    monkeypatch.setenv("XDG_CONFIG_HOME", "/c")
    monkeypatch.setattr(sys, "platform", "linux")
    places = default_places()
    assert (places.data, places.settings) == (Path("/d/schemeforge"), Path("/c/schemeforge"))
    assert places.journals.parent == places.shelf_file.parent == places.data
    assert places.preferences_file.parent == places.settings


def test_views_of_stand_in_models_may_be_kept_elsewhere(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    places = Places(data=tmp_path, settings=tmp_path)
    monkeypatch.delenv("SCHEMEFORGE_STAND_INS", raising=False)
    assert places.stand_ins == tmp_path / "stand-ins"
    monkeypatch.setenv("SCHEMEFORGE_STAND_INS", str(tmp_path / "other"))
    assert places.stand_ins == tmp_path / "other"
