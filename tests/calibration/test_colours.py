"""Paints from two colours and from one."""

from itertools import pairwise

import numpy as np
import pytest

from schemeforge import colorimetry, optics
from schemeforge.calibration import (
    BLACK,
    GREY,
    WHITE,
    Opacity,
    Seen,
    colour_of_code,
    from_one_colour,
    from_two_colours,
    ground_of_colour,
)
from schemeforge.calibration.outcome import WIDTH
from schemeforge.errors import InputError
from schemeforge.paint import Basis, Paint, PaintKind
from schemeforge.shelf import starter_paints
from tests.benchmarks.calibration import coats_to_hide
from tests.benchmarks.calibration_truths import Truth
from tests.calibration.swatches import FILM_UM, errors, linear, paint, red, seen


def test_two_colours_predict_other_grounds_and_films() -> None:
    found = from_two_colours(seen(red(), BLACK), seen(red(), WHITE), film_um=FILM_UM)
    assert found.findings == ()
    assert found.surface == optics.MATT
    assert np.median(errors(found, red())) < 0.6


def test_a_paint_comes_of_it_with_basis_and_uncertainty() -> None:
    found = from_two_colours(seen(red(), BLACK), seen(red(), WHITE), film_um=FILM_UM)
    made = found.paint(id="red", name="own red", kind=PaintKind.TRANSLUCENT)
    assert isinstance(made, Paint)
    assert made.basis is Basis.TWO_COLOURS
    assert made.volume_solids == 0.33
    assert np.allclose(made.absorption, found.fit.absorption, rtol=1e-5)
    factor = made.uncertainty.factor()
    assert factor.shape == (16, 72)
    # The sixteen main directions hold nearly all of the posterior's variance.
    kept, whole = (factor**2).sum() / WIDTH[Basis.TWO_COLOURS] ** 2, (found.fit.factor**2).sum()
    assert 0.97 * whole < kept <= whole * (1 + 1e-5)
    wash = found.paint(id="w", name="w", kind=PaintKind.WASH)
    assert wash.volume_solids == 0.1


def test_opaque_pairs_ask_for_a_thinner_swatch() -> None:
    spectra = paint("brick-red")
    dark, light = (seen(spectra, ground, 20) for ground in (BLACK, WHITE))
    with pytest.raises(InputError, match="nothing is known of thin films; paint a thinner swatch"):
        from_two_colours(dark, light)
    dark, light = (seen(spectra, ground, 1) for ground in (BLACK, WHITE))
    found = from_two_colours(dark, light, film_um=FILM_UM)
    assert found.findings == (
        "The coat nearly hides its ground: thin films are guessed at; paint a thinner swatch.",
    )


def test_exchanged_colours_are_refused() -> None:
    with pytest.raises(InputError, match="is the lighter one; exchange the two"):
        from_two_colours(seen(red(), WHITE), seen(red(), BLACK))


def test_what_no_film_can_do_is_flagged() -> None:
    # Green over black and deep red over white: no film gives both.
    found = from_two_colours(colour_of_code("#1f5f2f"), colour_of_code("#8f3f4f"))
    assert any(f.startswith('No film gives the colour "over') for f in found.findings)


def test_colours_at_the_end_of_the_scale_are_flagged() -> None:
    found = from_two_colours(colour_of_code("#3f4045"), colour_of_code("#00a0ff"))
    assert any(
        '"over light" stands at the end of the scale in red and blue' in f for f in found.findings
    )


def test_colours_too_dark_for_a_matt_surface_get_another() -> None:
    found = from_two_colours(colour_of_code("#201008"), colour_of_code("#b06030"))
    assert found.surface == optics.GLOSS
    assert found.findings == ("Colours so dark cannot be matt: taken as seen with a gloss finish.",)
    kept = from_two_colours(
        colour_of_code("#201008"), colour_of_code("#b06030"), surface=optics.MATT
    )
    assert kept.surface == optics.MATT
    assert kept.findings[0].startswith("No film gives")


@pytest.mark.parametrize(
    ("name", "kind", "coats"),
    [
        ("brick-red", PaintKind.OPAQUE, Opacity.FEW),
        ("chalk-white", PaintKind.OPAQUE, Opacity.FEW),
        ("reed-ochre", PaintKind.OPAQUE, Opacity.FEW),
    ],
)
def test_the_answer_about_opacity_helps(name: str, kind: PaintKind, coats: Opacity) -> None:
    spectra = paint(name)
    thick = Seen(linear=seen(spectra, BLACK, 300).linear)
    told = from_one_colour(thick, kind, coats, film_um=FILM_UM)
    silent = from_one_colour(thick, kind, film_um=FILM_UM)
    assert told.basis is Basis.ONE_COLOUR
    # Known to a factor of two or so instead of an order of magnitude.
    assert told.fit.errors[36:].mean() < 0.7 * silent.fit.errors[36:].mean()
    assert errors(told, spectra).mean() < 6.0


def test_one_coat_over_a_ground() -> None:
    spectra = paint("amber")
    found = from_one_colour(
        seen(spectra, WHITE), PaintKind.TRANSLUCENT, Opacity.NEVER, ground=WHITE, film_um=FILM_UM
    )
    assert found.patches[0].name == "one coat"
    assert errors(found, spectra)[1, 2] < 0.2


def test_other_films_of_one_coat_lie_within_what_is_stated() -> None:
    inside = []
    for held in starter_paints():
        if held.kind is not PaintKind.TRANSLUCENT:
            continue
        spectra = paint(held.id)
        truth = Truth(name=held.id, K=spectra[0], S=spectra[1], synthetic=True)
        coats = coats_to_hide(truth)
        answer = next((o for o in Opacity if coats <= o.coats[1]), Opacity.NEVER)
        found = from_one_colour(
            seen(spectra, WHITE), held.kind, answer, ground=WHITE, film_um=FILM_UM
        )
        draws = np.random.default_rng(3).standard_normal((80, len(found.uncertainty().factors)))
        logs = found.fit.logs + draws @ np.array(found.uncertainty().factors)
        nominal = (found.fit.absorption, found.fit.scattering)
        apart = [errors((np.exp(d[:36]), np.exp(d[36:])), nominal) for d in logs]
        inside.append(errors(found, spectra) <= np.percentile(apart, 90, axis=0))
    assert len(inside) >= 12
    # 90 % stated; the films of one paint err together, so that the paints count: among fifteen
    # paints two standard deviations are 15 %.
    assert np.mean(inside) >= 0.75


def test_answers_leave_no_gap() -> None:
    ranges = [answer.coats for answer in Opacity]
    assert all(a[1] == b[0] for a, b in pairwise(ranges))


def test_water_has_no_colour() -> None:
    with pytest.raises(InputError, match="has no colour of its own; choose another kind"):
        from_one_colour(seen(red(), WHITE), PaintKind.MEDIUM)


def test_codes() -> None:
    found = colour_of_code(" 7F00ff ")
    # IEC 61966-2-1: 0x7f/255 decodes to 0.21223.
    assert found.linear == pytest.approx((0.21223, 0.0, 1.0), abs=1e-5)
    assert found.clipped == (0, -1, 1)
    for wrong in ("", "#12345", "red", "#1234567"):
        with pytest.raises(InputError, match="is not a colour; write six digits"):
            colour_of_code(wrong)


@pytest.mark.parametrize("ground", [BLACK, GREY, WHITE])
def test_a_neutral_ground_is_flat(ground: tuple[float, ...]) -> None:
    found = ground_of_colour(linear(np.array(ground)))
    assert np.allclose(found, ground, atol=2e-4)


def test_a_coloured_ground_has_its_colour() -> None:
    wanted = np.array([0.5, 0.3, 0.12])
    found = np.array(ground_of_colour(tuple(wanted)))
    assert 0 < found.min() < found.max() < 1
    made = np.array(linear(found))
    difference = colorimetry.ciede2000(
        *(colorimetry.lab_from_xyz(colorimetry.xyz_from_linear_rgb(v)) for v in (made, wanted))
    )
    assert float(difference) < 0.3
    with pytest.raises(InputError, match="outside what a surface can have"):
        ground_of_colour((2.0, 0.1, 0.1))
