"""Colour-vision deficiency against colour-science's own table of the published matrices."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from schemeforge import colorimetry
from schemeforge.colorimetry.vision import deficiency_matrix
from schemeforge.errors import InputError, UnknownNameError
from tests.colorimetry.oracles import colour_science, random_lab

KINDS = {"protan": "Protanomaly", "deutan": "Deuteranomaly", "tritan": "Tritanomaly"}


@pytest.mark.parametrize("step", range(11))
@pytest.mark.parametrize("kind", KINDS)
def test_matrices_are_the_published_ones(kind: str, step: int) -> None:
    theirs = colour_science().CVD_MATRICES_MACHADO2010[KINDS[kind]][step / 10]
    # Six digits are printed; ours are scaled so that rows sum to 1, which moves the last one.
    assert deficiency_matrix(kind, step / 10) == pytest.approx(np.asarray(theirs), abs=3e-6)


@pytest.mark.parametrize("kind", KINDS)
def test_between_the_steps_matrices_run_straight(kind: str) -> None:
    below, above = deficiency_matrix(kind, 0.3), deficiency_matrix(kind, 0.4)
    assert deficiency_matrix(kind, 0.325) == pytest.approx(0.75 * below + 0.25 * above, abs=3e-6)


def test_red_green_deficiency_of_full_severity_as_printed() -> None:
    # [Machado2009], the matrix for protanomaly of severity 1.0.
    printed = [
        [0.152286, 1.052583, -0.204868],
        [0.114503, 0.786281, 0.099216],
        [-0.003882, -0.048116, 1.051998],
    ]
    assert deficiency_matrix("protan", 1.0) == pytest.approx(np.array(printed), abs=2e-6)


@pytest.mark.parametrize("kind", KINDS)
def test_simulation_acts_on_linear_light(kind: str) -> None:
    rgb = np.random.default_rng(1).uniform(0, 1, (50, 3))
    seen = colorimetry.as_seen_with(colorimetry.xyz_from_linear_rgb(rgb), kind, 0.7)
    expected = rgb @ deficiency_matrix(kind, 0.7).T
    assert colorimetry.linear_rgb_from_xyz(seen) == pytest.approx(expected, abs=1e-13)


@pytest.mark.parametrize("kind", KINDS)
def test_no_severity_changes_nothing(kind: str) -> None:
    xyz = colorimetry.xyz_from_lab(random_lab(1, 20))
    assert colorimetry.as_seen_with(xyz, kind, 0) == pytest.approx(xyz, abs=1e-14)


@given(st.sampled_from(list(KINDS)), st.floats(0, 1), st.floats(0, 1))
def test_greys_stay_grey(kind: str, severity: float, level: float) -> None:
    grey = level * colorimetry.D65_WHITE
    assert colorimetry.as_seen_with(grey, kind, severity) == pytest.approx(grey, abs=1e-14)


def test_red_and_green_come_together_but_not_for_tritan() -> None:
    # A red and a green of like lightness: the pair that red-green deficiency is known for.
    red, green = colorimetry.xyz_from_lab([[50, 45, 40], [50, -35, 45]])

    def gap(kind: str) -> float:
        pair = (colorimetry.as_seen_with(c, kind) for c in (red, green))
        one, two = (colorimetry.lab_from_xyz(c) for c in pair)
        return float(np.hypot(*(one - two)[1:]))

    normal = float(np.hypot(80, -5))
    assert gap("protan") < 0.35 * normal
    assert gap("deutan") < 0.35 * normal
    assert gap("tritan") > 0.8 * normal


def test_float32_stays_float32() -> None:
    xyz = np.full((2, 3), 0.5, dtype=np.float32)
    assert colorimetry.as_seen_with(xyz, "deutan", 0.5).dtype == np.float32


def test_each_kind_has_plain_words() -> None:
    assert list(colorimetry.DEFICIENCIES) == list(KINDS)
    assert all(colorimetry.DEFICIENCIES.values())


def test_bad_input_is_one_sentence() -> None:
    xyz = np.ones(3)
    with pytest.raises(UnknownNameError, match=r'"protann".*"protan"'):
        colorimetry.as_seen_with(xyz, "protann")
    for severity in (-0.1, 1.1, float("nan")):
        with pytest.raises(InputError, match="severity"):
            colorimetry.as_seen_with(xyz, "protan", severity)
