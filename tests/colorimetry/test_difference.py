"""Differences against the published pairs, colour-science and coloraide."""

import numpy as np
import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st

from schemeforge import colorimetry
from schemeforge.errors import InputError
from tests.colorimetry.oracles import check_rows, colour_science, random_lab

LAB = st.tuples(st.floats(0, 100), st.floats(-120, 120), st.floats(-120, 120))


def test_the_34_published_pairs() -> None:
    # [Sharma2005], table 1: printed to four digits, exact opposite hues (pairs 10, 14) included.
    rows = check_rows("ciede2000_sharma34.csv")
    assert len(rows) == 34
    one = np.array([[float(row[key]) for key in ("L1", "a1", "b1")] for row in rows])
    two = np.array([[float(row[key]) for key in ("L2", "a2", "b2")] for row in rows])
    published = np.array([float(row["dE00_published"]) for row in rows])
    assert colorimetry.ciede2000(one, two) == pytest.approx(published, abs=1e-4)
    assert colorimetry.ciede2000(two, one) == pytest.approx(published, abs=1e-4)


def test_ciede2000_agrees_with_colour_science_and_coloraide() -> None:
    one, two = random_lab(1, 2000), random_lab(2, 2000)
    ours = colorimetry.ciede2000(one, two)
    theirs = np.asarray(colour_science().difference.delta_E_CIE2000(one, two))
    assert ours == pytest.approx(theirs, abs=1e-11)
    pairs = zip(one[:200].tolist(), two[:200].tolist(), strict=True)
    other = [
        Color("lab-d65", a).delta_e(Color("lab-d65", b), method="2000", space="lab-d65")
        for a, b in pairs
    ]
    assert ours[:200] == pytest.approx(np.array(other), abs=1e-11)


def test_cie76_and_cie94_agree_with_colour_science() -> None:
    one, two = random_lab(3, 500), random_lab(4, 500)
    difference = colour_science().difference
    assert colorimetry.cie76(one, two) == pytest.approx(
        np.asarray(difference.delta_E_CIE1976(one, two)), abs=1e-12
    )
    assert colorimetry.cie94(one, two) == pytest.approx(
        np.asarray(difference.delta_E_CIE1994(one, two)), abs=1e-11
    )


@given(LAB, LAB)
def test_a_difference_is_symmetric_and_not_negative(
    one: tuple[float, ...], two: tuple[float, ...]
) -> None:
    there = float(colorimetry.ciede2000(one, two))
    back = float(colorimetry.ciede2000(two, one))
    assert there >= 0
    # Hues opposite each other within rounding may tip either way; not the matter here.
    opposite = abs(one[1] * two[2] - one[2] * two[1]) <= 1e-9 * (1 + abs(one[1] * two[1]))
    assert opposite or there == pytest.approx(back, abs=1e-9)


@given(LAB)
def test_no_difference_to_itself(lab: tuple[float, ...]) -> None:
    assert colorimetry.ciede2000(lab, lab) == 0
    assert colorimetry.cie76(lab, lab) == 0
    assert colorimetry.cie94(lab, lab) == 0


def test_greys_differ_by_lightness_alone() -> None:
    # eq. 15-16 and 22 with a = b = 0, L 50 and 60: 10 / (1 + 0.015 25 / sqrt(45)).
    got = colorimetry.ciede2000([50.0, 0, 0], [60.0, 0, 0])
    assert float(got) == pytest.approx(10 / (1 + 0.375 / 45**0.5), abs=1e-12)


def test_shapes_broadcast() -> None:
    grid = colorimetry.ciede2000(random_lab(5, 4)[:, None], random_lab(6, 3)[None])
    assert grid.shape == (4, 3)
    assert grid[2, 1] == colorimetry.ciede2000(random_lab(5, 4)[2], random_lab(6, 3)[1])
    assert colorimetry.ciede2000([50.0, 0, 0], [60.0, 0, 0]).shape == ()


def test_float32_stays_float32() -> None:
    one, two = (random_lab(n, 300).astype(np.float32) for n in (7, 8))
    single = colorimetry.ciede2000(one, two)
    assert single.dtype == np.float32
    double = colorimetry.ciede2000(one.astype(np.float64), two.astype(np.float64))
    # Colours up to 99 carry 4e-6 of rounding each; hues add as much again and the slopes are
    # at most 1: well below a thousandth.
    assert single == pytest.approx(double, abs=1e-3)


@pytest.mark.parametrize(
    ("difference", "words"),
    [
        (0, "unseen"),
        (0.99, "unseen"),
        (1, "seen side by side"),
        (2, "shows in the ranks"),
        (4.99, "shows in the ranks"),
        (5, "another colour"),
        (float("inf"), "another colour"),
    ],
)
def test_words_for_differences(difference: float, words: str) -> None:
    assert colorimetry.difference_words(difference) == words


@pytest.mark.parametrize("difference", [-0.1, float("nan")])
def test_a_difference_that_cannot_be(difference: float) -> None:
    with pytest.raises(InputError, match="does not exist"):
        colorimetry.difference_words(difference)


def test_bad_input_is_one_sentence() -> None:
    with pytest.raises(InputError, match=r"shapes \(2, 3\) and \(4, 3\) cannot be compared"):
        colorimetry.ciede2000(np.zeros((2, 3)), np.zeros((4, 3)))
    with pytest.raises(InputError, match="second CIELAB holds nan"):
        colorimetry.cie76([0.0, 0, 0], [0, np.nan, 0])
    with pytest.raises(InputError, match="first CIELAB has the shape"):
        colorimetry.cie94([0.0, 0], [0, 0, 0])
