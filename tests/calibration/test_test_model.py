"""Strength of coats from a painted test model."""

from dataclasses import replace

import numpy as np
import pytest

from schemeforge import colorimetry
from schemeforge.appearance import Points, ramp_tones, zone_stages
from schemeforge.calibration import (
    Correction,
    Line,
    evidence_of,
    film_of,
    fit_strengths,
    sample_line,
)
from schemeforge.errors import InputError
from schemeforge.scheme import Coat, Project, Spray, edits
from tests.builders import small_project
from tests.calibration.swatches import Floats


def painted(factors: dict[str, float], points: int = 24) -> Floats:
    """Linear sRGB of the cloak as somebody with another hand paints it."""
    project = small_project()
    for step_id, factor in factors.items():
        layer = project.schemes[0].step(step_id).layer
        if isinstance(layer, Coat):
            heavier: Coat | Spray = replace(layer, wet_um=layer.wet_um * factor)
        else:
            assert isinstance(layer, Spray)
            heavier = replace(layer, peak_um=layer.peak_um * factor)
        project = edits.set_layer(project, "first", step_id, heavier)
    relief = np.linspace(0, 1, points)
    where = Points(ramp_tones(project.zone("cloak"), points), relief, 0.5)
    xyz = zone_stages(project, project.scheme("first"), "cloak", where)[-1].xyz
    return np.asarray(colorimetry.linear_rgb_from_xyz(xyz), dtype=np.float64)


def strengths(project: Project, scheme: str = "first") -> dict[str, float]:
    found = {}
    for step in project.scheme(scheme).steps:
        if isinstance(step.layer, Coat):
            found[step.id] = step.layer.wet_um
        if isinstance(step.layer, Spray):
            found[step.id] = step.layer.peak_um
    return found


def test_the_hand_is_found_and_the_prediction_follows() -> None:
    ramp = painted({"wash": 1.5, "red": 0.7})
    found = fit_strengths(small_project(), "first", "cloak", ramp)
    by_id = {coat.step_id: coat for coat in found.coats}
    assert list(by_id) == ["wash", "red"]
    assert by_id["wash"].factor == pytest.approx(1.5, rel=0.1)
    assert by_id["red"].factor == pytest.approx(0.7, rel=0.1)
    assert found.difference_after < 0.3 < found.difference_before
    assert found.findings == ()
    assert all(0 < coat.error < 0.3 for coat in found.coats)


def test_the_undercoat_on_request() -> None:
    ramp = painted({"spray": 0.7, "wash": 1.2})
    found = fit_strengths(small_project(), "first", "cloak", ramp, undercoat=True)
    by_id = {coat.step_id: coat.factor for coat in found.coats}
    assert by_id["spray"] == pytest.approx(0.7, rel=0.1)
    assert by_id["wash"] == pytest.approx(1.2, rel=0.1)


def test_it_is_kept_as_evidence_and_applied_only_on_request() -> None:
    project = small_project()
    ramp = painted({"wash": 1.5, "red": 0.7})
    found = fit_strengths(project, "first", "cloak", ramp, group_id="captains", along=0.6)
    kept = evidence_of(project, "first", found, id="trial", name="trial", at="2031-03-01")
    assert (kept.zone_id, kept.group_id, kept.along) == ("cloak", "captains", 0.6)
    assert [coat.step_id for coat in kept.strengths] == ["wash", "red"]
    assert kept.strengths[0].planned_um == strengths(project)["wash"]
    assert np.array(kept.measured) == pytest.approx(found.measured, abs=0.006)
    assert np.array(kept.predicted) == pytest.approx(found.before, abs=0.006)
    assert np.array(kept.followed) == pytest.approx(found.after, abs=0.006)
    held = edits.add_evidence(project, kept)
    assert strengths(held) == strengths(project)
    now = strengths(edits.apply_evidence(held, "trial"))
    assert now["wash"] == pytest.approx(1.5 * strengths(project)["wash"], rel=0.15)
    assert now["spray"] == strengths(project)["spray"]


def test_the_applied_undercoat() -> None:
    project = small_project()
    found = fit_strengths(project, "first", "cloak", painted({"spray": 0.7}), undercoat=True)
    kept = evidence_of(project, "first", found, id="trial", name="trial")
    now = strengths(edits.apply_evidence(edits.add_evidence(project, kept), "trial"))
    assert now["spray"] == pytest.approx(0.7 * strengths(project)["spray"], rel=0.1)


def test_a_step_without_a_film_has_no_strength() -> None:
    steps = {step.id: step for step in small_project().schemes[0].steps}
    assert film_of(steps["wash"]) == 140.0
    for step_id in ("prime", "mud"):
        with pytest.raises(InputError, match="lays no film whose strength could be told"):
            film_of(steps[step_id])


def test_another_scheme_is_told_apart() -> None:
    blue = np.full((24, 3), (0.05, 0.1, 0.6))
    found = fit_strengths(small_project(), "first", "cloak", blue)
    assert any("still differs by" in line for line in found.findings)


def test_a_far_fetched_strength_is_told() -> None:
    found = fit_strengths(small_project(), "first", "cloak", painted({"wash": 7.0}))
    wash = found.coats[0]
    assert wash.factor > 3.0
    assert any('"wash" would have to be' in line for line in found.findings)


def test_a_flat_ramp_of_nothing_tells_little() -> None:
    project = small_project()
    layer = project.schemes[0].step("red").layer
    assert isinstance(layer, Coat)
    thin = edits.set_layer(project, "first", "red", replace(layer, wet_um=0.01))
    found = fit_strengths(thin, "first", "cloak", painted({"red": 0.01}))
    assert any('The ramp tells little of "red"' in line for line in found.findings)


def test_what_cannot_be_fitted_is_told() -> None:
    project = small_project()
    for wrong in (np.zeros((1, 3)), np.zeros(3), np.full((4, 3), np.nan)):
        with pytest.raises(InputError, match="not a row of colours; sample a line"):
            fit_strengths(project, "first", "cloak", wrong)
    with pytest.raises(InputError, match="no coat whose strength could be fitted"):
        fit_strengths(project, "first", "base", np.zeros((4, 3)))


def test_a_line_is_sampled_from_recess_to_raised_edge() -> None:
    x = np.linspace(0, 1, 81)[None, :, None]
    picture = np.broadcast_to(x, (41, 81, 3)).astype(np.float32)
    picture = np.array(picture)
    picture[20, 40] = 5.0  # a speck, which the median passes over
    line = Line(recess=(0.25, 0.5), raised=(0.75, 0.5), width=0.15)
    ramp = sample_line(picture, line, count=21)
    assert ramp[:, 0] == pytest.approx(np.linspace(0.25, 0.75, 21), abs=0.007)
    back = sample_line(picture, Line(recess=(0.75, 0.5), raised=(0.25, 0.5), width=0.15), count=21)
    assert back == pytest.approx(ramp[::-1])


def test_a_line_is_put_right_for_light() -> None:
    picture = np.full((40, 40, 3), 0.25, dtype=np.float32)
    half = Correction(
        log_gain=np.full(3, np.log(0.5)),
        gamma=1.0,
        flare=np.zeros(3),
        tilt=np.zeros(2),
        bend=np.zeros(3),
        left={},
    )
    line = Line(recess=(0.1, 0.1), raised=(0.9, 0.9), width=0.0)
    assert sample_line(picture, line, half) == pytest.approx(np.full((24, 3), 0.5))


def test_lines_that_are_none() -> None:
    with pytest.raises(InputError, match="has no length; draw it"):
        Line(recess=(0.5, 0.5), raised=(0.5, 0.5))
    with pytest.raises(InputError, match=r"Line, end is 1\.2"):
        Line(recess=(0.5, 1.2), raised=(0.5, 0.5))
    picture = np.zeros((10, 10, 3), dtype=np.float32)
    with pytest.raises(InputError, match="Samples of a line"):
        sample_line(picture, Line(recess=(0.1, 0.1), raised=(0.9, 0.9)), count=1)
