"""What test models told: kept with the project, removed, and applied once."""

import json
from dataclasses import replace
from typing import Any

import pytest

from schemeforge.errors import InputError, UnknownNameError
from schemeforge.scheme import Coat, CoatStrength, Evidence, Project, Spray, edits
from schemeforge.scheme.project_file import dumps, loads
from schemeforge.scheme.steps import THICKEST_UM
from tests.builders import judged_model, small_project


def kept(**strengths: float) -> Project:
    return edits.add_evidence(small_project(), judged_model(**strengths))


def films(project: Project) -> dict[str, float]:
    found = {}
    for step in project.scheme("first").steps:
        if isinstance(step.layer, Coat):
            found[step.id] = step.layer.wet_um
        if isinstance(step.layer, Spray):
            found[step.id] = step.layer.peak_um
    return found


def test_keeping_it_changes_no_coat_and_survives_the_file() -> None:
    project = kept(wash=1.5, red=0.7)
    assert films(project) == films(small_project())
    assert loads(dumps(project)) == project
    assert json.loads(dumps(project))["project"]["evidence"][0]["strengths"][1]["factor"] == 0.7


def test_applied_once_or_twice_is_the_same() -> None:
    before = films(small_project())
    once = edits.apply_evidence(kept(spray=0.8, wash=1.5), "trial")
    assert films(once) == before | {
        "wash": pytest.approx(210.0),
        "spray": pytest.approx(0.8 * before["spray"]),
    }
    assert edits.apply_evidence(once, "trial") == once
    assert once.evidence == kept(spray=0.8, wash=1.5).evidence


def test_only_the_coats_named_are_changed() -> None:
    one = edits.apply_evidence(kept(wash=1.5, red=0.7), "trial", ["red"])
    assert films(one) == films(small_project()) | {"red": pytest.approx(17.5)}


def test_coats_that_have_gone_are_passed_over_until_none_is_left() -> None:
    less = edits.remove_step(kept(wash=1.5, red=0.7), "first", "red")
    assert films(edits.apply_evidence(less, "trial"))["wash"] == pytest.approx(210.0)
    none = edits.remove_step(less, "first", "wash")
    with pytest.raises(InputError, match='None of the coats that "first test model" tells of'):
        edits.apply_evidence(none, "trial")


def test_a_film_stays_within_what_a_scheme_allows() -> None:
    assert films(edits.apply_evidence(kept(wash=20.0), "trial"))["wash"] == THICKEST_UM


def test_removed() -> None:
    assert edits.remove_evidence(kept(), "trial") == small_project()
    with pytest.raises(UnknownNameError, match='no evidence called "trail"'):
        edits.remove_evidence(kept(), "trail")


@pytest.mark.parametrize(
    "change",
    [
        lambda p: edits.remove_zone(p, "cloak"),
        lambda p: edits.remove_group(p, "rank"),
        lambda p: edits.remove_scheme(edits.duplicate_scheme(p, "first"), "first"),
    ],
    ids=["zone", "group", "scheme"],
)
def test_it_goes_with_what_it_is_about(change: object) -> None:
    assert callable(change)
    assert change(kept()).evidence == ()


def test_of_what_is_not_there_it_is_not_kept() -> None:
    others: list[dict[str, Any]] = [
        {"scheme_id": "none"},
        {"zone_id": "none"},
        {"group_id": "none"},
    ]
    for other in others:
        with pytest.raises(UnknownNameError):
            edits.add_evidence(small_project(), replace(judged_model(), **other))


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"measured": ((1.0, 2.0, 3.0),)}, "has ramps of 1, 2 and 2 points"),
        ({"measured": ((float("nan"), 0.0, 0.0),) * 2}, "CIELAB is nan"),
        ({"strengths": ()}, "tells of no coat"),
        ({"strengths": judged_model().strengths * 2}, 'step "wash" stands twice'),
        ({"along": 1.5}, "place along the part is 1.5"),
        ({"name": ""}, "has no name"),
    ],
)
def test_what_cannot_be_is_refused(change: dict[str, Any], words: str) -> None:
    with pytest.raises(InputError, match=words):
        replace(judged_model(), **change)


def test_a_strength_has_its_bounds() -> None:
    good = judged_model().strengths[0]
    assert good.film_um == pytest.approx(210.0)
    wrongs: list[dict[str, Any]] = [
        {"factor": 0.01},
        {"factor": 21.0},
        {"error": -0.1},
        {"planned_um": -1.0},
    ]
    for wrong in wrongs:
        with pytest.raises(InputError, match='Strength of "wash"'):
            replace(good, **wrong)
    assert isinstance(good, CoatStrength)
    assert isinstance(judged_model(), Evidence)
