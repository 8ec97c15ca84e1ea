"""The demo project: what its file holds, and that its three schemes read at arm's length.

Rules of thumb for painters' values (common practice and memory, no published source):
neighbouring zones differ by 20 L* or more or clearly in hue, a zone spans 30 to 40 L* from recess
to crest, a translucent coat can only darken, so the undercoat caps the highlight.
"""

import itertools
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from assets.scripts import make_demo
from schemeforge import appearance, colorimetry, plan, resources
from schemeforge.comparison import Severity, compare
from schemeforge.paint import Basis
from schemeforge.scheme import (
    Project,
    Scheme,
    Spray,
    Technique,
    WorkKind,
    coloured_steps,
    groups_getting,
    models_getting,
)
from schemeforge.scheme.project_file import load
from schemeforge.shelf import starter_paints

PROJECT = make_demo.project()
SCHEMES = tuple(scheme.id for scheme in PROJECT.schemes)
GROUPS = tuple(group.id for group in PROJECT.groups)
FORM_ZONES = ("hide", "plates", "cloak", "base")
SHOWN_TRANSITIONS = ("hide", "cloak", "lantern")
# As large as the step in value that the rule asks for, but across the a*b* plane.
CLEARLY_IN_HUE = 20.0
# The last tenth of relief belongs to edge highlights, which are not part of a zone's span.
CREST = 0.9
# Above 5 two colours are different colours (from memory; CIEDE2000).
ANOTHER_COLOUR = 5.0
ARMS_LENGTH_STEP = 20.0

Floats = NDArray[np.float64]


@cache
def tile(scheme_id: str, zone_id: str, group_id: str | None = None) -> Floats:
    """CIELAB of the finished zone, recess to raised edge by root to tip, (41, 21, 3)."""
    return lab_tile(PROJECT, PROJECT.scheme(scheme_id), zone_id, group_id)


def lab_tile(project: Project, scheme: Scheme, zone_id: str, group_id: str | None = None) -> Floats:
    stages = appearance.zone_tile(
        project, scheme, zone_id, relief_count=41, along_count=21, group_id=group_id
    )
    return np.asarray(colorimetry.lab_from_xyz(stages[-1].xyz))


def mean_lab(scheme_id: str, zone_id: str, group_id: str | None = None) -> Floats:
    """The colour that is left of a zone from far away."""
    return np.asarray(tile(scheme_id, zone_id, group_id).mean(axis=(0, 1)))


def neighbours() -> list[tuple[str, str]]:
    pairs = {tuple(sorted((zone.id, other))) for zone in PROJECT.zones for other in zone.touches}
    return sorted((first, second) for first, second in pairs)


def test_the_file_is_what_the_script_makes() -> None:
    assert make_demo.FILE.read_text(encoding="utf-8") == make_demo.text()


def test_the_file_loads_from_the_assets() -> None:
    path: Path = resources.asset("demo", make_demo.FILE.name)
    assert load(path) == PROJECT


def test_the_batch_is_the_saltmarsh_wardens() -> None:
    assert {group.name: group.count for group in PROJECT.groups} == {
        "wardens": 30,
        "lantern-bearers": 4,
        "captains": 2,
    }
    assert [zone.id for zone in PROJECT.zones] == [
        "hide",
        "plates",
        "cloak",
        "lantern",
        "base",
        "rim",
    ]
    assert len(PROJECT.schemes) == 3
    assert PROJECT.note.startswith("Invented data")


def test_neighbourhood_is_mutual() -> None:
    for zone in PROJECT.zones:
        for other in zone.touches:
            assert zone.id in PROJECT.zone(other).touches


def test_every_paint_travels_with_the_file_and_comes_from_the_starter_shelf() -> None:
    assert all(PROJECT.is_used(paint.id) for paint in PROJECT.paints)
    assert set(PROJECT.paints) <= set(starter_paints())
    assert all(paint.basis is Basis.TYPICAL for paint in PROJECT.paints)


@pytest.mark.parametrize("scheme_id", SCHEMES)
def test_a_scheme_is_a_whole_recipe(scheme_id: str) -> None:
    scheme = PROJECT.scheme(scheme_id)
    kinds = [getattr(step.layer, "kind", None) for step in scheme.steps]
    assert kinds[0] is WorkKind.CLEANING
    assert kinds[-1] is WorkKind.VARNISH
    assert WorkKind.METALLIC in kinds
    techniques = {step.coat.technique for step in scheme.steps if step.coat is not None}
    assert {Technique.WASH, Technique.FEATHERED_GLAZE, Technique.EDGE_HIGHLIGHT} <= techniques
    used = {step.mix_id for step in scheme.steps}
    assert {mix.id for mix in scheme.mixes} == used - {None}
    for step in scheme.steps:
        assert step.look_for, f"{step.name} does not say what right looks like"
        assert step.cure or step.layer.__class__.__name__ == "Work", f"{step.name} has no cure"


@pytest.mark.parametrize("scheme_id", SCHEMES)
def test_who_gets_what(scheme_id: str) -> None:
    scheme = PROJECT.scheme(scheme_id)
    for step in scheme.steps:
        if step.zone_ids == ("lantern",):
            assert groups_getting(PROJECT, scheme, step) == ("lanterns",)
        if step.by_name_only:
            assert groups_getting(PROJECT, scheme, step) == ("captains",)
    assert sum(step.by_name_only for step in scheme.steps) == 1
    full = coloured_steps(scheme, "cloak")
    assert len(coloured_steps(scheme, "cloak", "wardens")) == len(full) - 1
    wash = next(
        step for step in scheme.steps if step.coat and step.coat.technique is Technique.WASH
    )
    assert models_getting(PROJECT, scheme, wash, wash.zone_ids[0]) == 36


@pytest.mark.parametrize("scheme_id", SCHEMES)
def test_the_hands_on_hours_are_the_trades_and_fit_the_sittings(scheme_id: str) -> None:
    # 10 to 35 minutes a model at tabletop standard (published tutorials).
    hours = plan.hands_on(PROJECT, PROJECT.scheme(scheme_id))
    assert 10.0 <= hours.per_model <= 35.0
    assert hours.left >= 0.0


@pytest.mark.parametrize("scheme_id", SCHEMES)
@pytest.mark.parametrize("group_id", GROUPS)
def test_touching_zones_differ_in_value_or_clearly_in_hue(scheme_id: str, group_id: str) -> None:
    for first, second in neighbours():
        if "lantern" in {first, second} and group_id != "lanterns":
            continue
        apart = mean_lab(scheme_id, first, group_id) - mean_lab(scheme_id, second, group_id)
        in_value = abs(apart[0]) >= ARMS_LENGTH_STEP
        in_hue = np.hypot(apart[1], apart[2]) >= CLEARLY_IN_HUE
        assert in_value or in_hue, f"{first} and {second}: {apart.round(1)}"


@pytest.mark.parametrize("scheme_id", SCHEMES)
@pytest.mark.parametrize("zone_id", FORM_ZONES)
@pytest.mark.parametrize("group_id", GROUPS)
def test_a_zone_spans_30_to_40_from_recess_to_crest(
    scheme_id: str, zone_id: str, group_id: str
) -> None:
    lightness = tile(scheme_id, zone_id, group_id)[..., 0]
    crest = round(CREST * (len(lightness) - 1))
    span = float((lightness[crest] - lightness[0]).mean())
    assert 30.0 <= span <= 40.0, f"{span:.1f}"


@pytest.mark.parametrize("scheme_id", SCHEMES)
@pytest.mark.parametrize("zone_id", ["hide", "plates", "cloak"])
def test_the_undercoats_light_shows_through(scheme_id: str, zone_id: str) -> None:
    scheme = PROJECT.scheme(scheme_id)
    unlit = replace(
        scheme,
        steps=tuple(
            replace(step, layer=replace(step.layer, peak_um=0.0))
            if isinstance(step.layer, Spray)
            else step
            for step in scheme.steps
        ),
    )
    crest = round(CREST * (len(tile(scheme_id, zone_id)) - 1))
    with_light = tile(scheme_id, zone_id)[crest, :, 0].mean()
    without = lab_tile(PROJECT, unlit, zone_id)[crest, :, 0].mean()
    assert with_light - without >= 10.0


@pytest.mark.parametrize("scheme_id", SCHEMES)
@pytest.mark.parametrize("zone_id", SHOWN_TRANSITIONS)
def test_a_transition_is_worth_showing(scheme_id: str, zone_id: str) -> None:
    along = tile(scheme_id, zone_id)[14:37].mean(axis=0)
    assert colorimetry.ciede2000(along[0], along[-1]) > ANOTHER_COLOUR
    # Feathered: no step of the way is larger than a fifth of the whole.
    steps = colorimetry.ciede2000(along[:-1], along[1:])
    assert steps.max() <= 0.2 * steps.sum()


@pytest.mark.parametrize("scheme_id", SCHEMES)
def test_the_lanterns_hue_turns_from_root_to_tip(scheme_id: str) -> None:
    along = tile(scheme_id, "lantern")[14:37].mean(axis=0)
    hue = np.degrees(np.unwrap(np.arctan2(along[:, 2], along[:, 1])))
    assert abs(hue[-1] - hue[0]) >= 45.0
    assert np.hypot(along[:, 1], along[:, 2]).min() > 15.0


def test_the_three_schemes_are_three_moods() -> None:
    for first, second in itertools.combinations(SCHEMES, 2):
        apart = [
            float(colorimetry.ciede2000(mean_lab(first, zone), mean_lab(second, zone)))
            for zone in ("hide", "plates", "cloak", "lantern")
        ]
        assert min(apart) > ANOTHER_COLOUR
        assert np.mean(apart) > 3.0 * ANOTHER_COLOUR


def test_our_own_rules_find_nothing_to_mend_in_the_chosen_scheme() -> None:
    comparison = compare(PROJECT, [PROJECT.chosen_scheme_id])
    assert comparison is not None
    (chosen,) = comparison.schemes
    assert [f.sentence for f in chosen.findings if f.severity is Severity.POOR] == []
    assert any(f.severity is Severity.GOOD for f in chosen.findings)
