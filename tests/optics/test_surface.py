"""The paint's surface: Saunderson's formula, Fresnel's constants, finishes and geometries."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from schemeforge import optics
from schemeforge.errors import InputError, ReadingError
from tests.optics.tables import grounds, half_digit, rows

FRESNEL = rows("fresnel_internal_external.csv")
surfaces = st.builds(
    optics.Surface,
    st.floats(0, 1),
    st.floats(0, 0.2),
    st.floats(0, 0.8),
    st.floats(0.5, 1.2),
)


def fresnel(cosine: float, index: float) -> float:
    """Reflectance of a smooth surface for unpolarised light, from Fresnel's equations."""
    inside = np.sqrt(1 - (1 - cosine**2) / index**2)
    across = (cosine - index * inside) / (cosine + index * inside)
    along = (index * cosine - inside) / (index * cosine + inside)
    return float((across**2 + along**2) / 2)


@pytest.mark.parametrize(
    "row", rows("saunderson_checks.csv"), ids=lambda r: f"{r['constants']} {r['R_internal']}"
)
def test_published_formula_table(row: dict[str, str]) -> None:
    # saunderson_checks.csv: [Saunderson1942] in 40 digits, 15 decimals printed. Its k2 is
    # printed with 10 decimals and moves the result by less than that.
    k1, k2, R = float(row["k1"]), float(row["k2"]), float(row["R_internal"])
    for name, w in (("included", 1.0), ("excluded", 0.0)):
        text = row[f"R_measured_specular_{name}"]
        surface = optics.Surface(w, k1, k2)
        slack = half_digit(text) + (half_digit(row["k2"]) if "n=1.5" in row["constants"] else 0)
        assert optics.seen(R, surface) == pytest.approx(float(text), rel=0, abs=2 * slack)
        # The slope of the inverse is steepest in the dark: 1/((1 - k1)(1 - k2)).
        back = optics.internal(float(text), surface)
        assert back == pytest.approx(R, rel=0, abs=2 * slack / ((1 - k1) * (1 - k2)))


@pytest.mark.parametrize("row", FRESNEL, ids=lambda row: row["n"])
def test_constants_equal_fresnels_equations_integrated(row: dict[str, str]) -> None:
    # fresnel_internal_external.csv: integration of Fresnel's equations, 10 decimals. The
    # closed form [Walsh1926] is what is shipped.
    constants = optics.diffuse_constants(float(row["n"]))
    table = (row["k1_normal_incidence"], row["k1_diffuse_external"], row["k2_diffuse_internal"])
    for value, text in zip(constants, table, strict=True):
        assert value == pytest.approx(float(text), rel=0, abs=1.01 * half_digit(text))


def test_constants_equal_an_integration_made_here() -> None:
    for n in (1.2, 1.5, 2.4):
        # Diffuse light weighs each direction by 2 cos(theta) d cos(theta).
        diffuse, error = quad(lambda c, n=n: 2 * c * fresnel(c, n), 0, 1, epsabs=1e-12)
        assert optics.diffuse_constants(n).k1_diffuse == pytest.approx(diffuse, abs=10 * error)


def test_factor_of_45_0_instruments() -> None:
    # Computed for n = 1.5 from Fresnel's equations: 1.045736, six decimals.
    assert optics.forty_five_zero_factor(1.5) == pytest.approx(1.045736, rel=0, abs=5e-7)
    row = next(row for row in FRESNEL if row["n"] == "1.50")
    ratio = (1 - float(row["F_45deg"])) / (1 - float(row["k1_diffuse_external"]))
    assert optics.forty_five_zero_factor(1.5) == pytest.approx(ratio, rel=0, abs=2e-10)
    R = np.linspace(0, 1, 5)
    np.testing.assert_allclose(
        optics.seen(R, optics.FORTY_FIVE_ZERO),
        optics.FORTY_FIVE_ZERO.factor * optics.seen(R, optics.SPECULAR_EXCLUDED),
    )


@pytest.mark.parametrize("index", [1.0, 0.5, 5.0, float("nan")])
def test_an_index_out_of_range_is_refused(index: float) -> None:
    for function in (optics.diffuse_constants, optics.forty_five_zero_factor):
        with pytest.raises(InputError, match="index"):
            function(index)


def test_finishes_differ_only_in_the_first_reflection_seen() -> None:
    finishes = (optics.MATT, optics.UNVARNISHED, optics.SATIN, optics.GLOSS)
    assert [finish.w for finish in finishes] == [1.0, 0.8, 0.5, 0.0]
    assert [float(optics.seen(0.0, finish)) for finish in finishes] == pytest.approx(
        [0.04, 0.032, 0.02, 0.0]
    )
    assert (optics.SPECULAR_INCLUDED, optics.SPECULAR_EXCLUDED) == (optics.MATT, optics.GLOSS)


def test_a_perfect_white_stays_white_and_matt_black_is_no_darker_than_l_23_7() -> None:
    assert optics.seen(1.0, optics.MATT) == pytest.approx(1.0)
    black = float(optics.seen(0.0, optics.MATT))
    assert 116 * np.cbrt(black) - 16 == pytest.approx(23.7, abs=0.05)


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("w", -0.1),
        ("w", 1.1),
        ("k1", 1.0),
        ("k1", float("nan")),
        ("k2", 1.0),
        ("k2", -1.0),
        ("factor", 0.0),
        ("factor", 2.5),
        ("factor", float("inf")),
    ],
)
def test_a_surface_that_cannot_be_names_its_field(field: str, value: float) -> None:
    with pytest.raises(InputError, match=f"surface, {field}"):
        optics.Surface(**{"w": 0.5, field: value})


def test_a_reading_darker_than_the_surface_names_the_band() -> None:
    reading = np.full(36, 0.2)
    reading[6] = 0.03
    with pytest.raises(ReadingError, match=r"440 nm band: .* below 0\.04"):
        optics.internal(reading, optics.SPECULAR_INCLUDED)
    assert optics.internal(reading, optics.SPECULAR_EXCLUDED)[6] > 0


def test_a_reading_lighter_than_white_names_the_band() -> None:
    reading = np.full(36, 0.9)
    reading[0] = 0.97
    with pytest.raises(ReadingError, match=r"380 nm band: .* above 0\.96"):
        optics.internal(reading, optics.SPECULAR_EXCLUDED)
    with pytest.raises(ReadingError):
        optics.internal(np.nan, optics.MATT)


def test_an_internal_reflectance_out_of_range_is_refused() -> None:
    with pytest.raises(InputError, match="internal, band 2 of 2"):
        optics.seen([0.5, 1.1], optics.MATT)


def test_float32_is_kept() -> None:
    R = np.linspace(0, 1, 9, dtype=np.float32)
    outside = optics.seen(R, optics.SATIN)
    assert outside.dtype == np.float32
    back = optics.internal(outside, optics.SATIN)
    assert back.dtype == np.float32
    np.testing.assert_allclose(back, R, atol=1e-6)  # 16 roundings at 1.2e-7 / 0.384


@given(R=grounds, surface=surfaces)
def test_reading_and_seeing_undo_one_another(R: Any, surface: optics.Surface) -> None:
    outside = optics.seen(R, surface)
    back = optics.internal(outside, surface)
    # Rounding of the reading times the steepest slope of the inverse, 1/(0.5 x 0.8 x 0.2).
    np.testing.assert_allclose(back, R, rtol=0, atol=16 * 12.5 * np.finfo(np.float64).eps)


@given(R=grounds, surface=surfaces)
def test_more_within_is_more_seen(R: Any, surface: optics.Surface) -> None:
    order = np.argsort(R)
    assert np.all(np.diff(optics.seen(R[order], surface)) >= 0)
