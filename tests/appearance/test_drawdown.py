"""Swatch cards: the one path to colour, on known films and grounds."""

from dataclasses import replace

import numpy as np
import pytest

from schemeforge import colorimetry, optics
from schemeforge.appearance.drawdown import (
    FULL_UM,
    GROUNDS,
    THINNEST_UM,
    drawdown_films,
    drawdown_tolerance,
    drawdowns,
)
from schemeforge.appearance.look import look_of
from schemeforge.paint import CERTAIN, WATER, Uncertainty
from schemeforge.scheme import Finish, Viewing
from tests.builders import black_primer, off_white, red_glaze, small_project

FILMS = drawdown_films(7)


def test_films_go_from_none_over_thin_to_full() -> None:
    assert FILMS[0] == 0.0
    assert FILMS[1] == THINNEST_UM
    assert FILMS[-1] == FULL_UM
    assert np.all(np.diff(FILMS[1:]) == pytest.approx((FULL_UM - THINNEST_UM) / 5))


def test_without_film_the_card_itself_is_seen_whatever_the_paint() -> None:
    gloss = look_of(small_project(), Viewing(finish=Finish.GLOSS))
    bare = drawdowns((WATER, red_glaze()), np.zeros(1), gloss)
    assert bare[0] == pytest.approx(bare[1])
    # Gloss sends no first-surface light to the eye, as the card's own figures are given.
    assert bare[0, :, 0, 1] == pytest.approx([R for _, R in GROUNDS], rel=1e-9)


def test_one_film_agrees_with_the_optics_band_by_band() -> None:
    paint = red_glaze()
    seen = drawdowns((paint,), np.array([20.0]), look_of(small_project()))
    matt = look_of(small_project()).surface
    for place, (_, card) in enumerate(GROUNDS):
        ground = float(optics.internal(np.array([card]), optics.Surface(w=0.0))[0])
        R = [
            float(
                optics.reflectance_over(np.array([ground]), np.array([20 * k]), np.array([20 * s]))[
                    0
                ]
            )
            for k, s in zip(paint.absorption, paint.scattering, strict=True)
        ]
        expected = colorimetry.xyz(optics.seen(np.array(R), matt), "D65", 2)
        assert seen[0, place, 0] == pytest.approx(expected, rel=1e-9)


def test_an_opaque_paint_hides_the_card_sooner_than_a_glaze() -> None:
    films = np.array([20.0, 100.0])
    white, glaze = drawdowns((off_white(), red_glaze()), films, look_of(small_project()))
    assert np.ptp(white[:, 1, 1]) < 0.05 < np.ptp(glaze[:, 0, 1])
    for paint in (white, glaze):
        assert np.ptp(paint[:, 1, 1]) < np.ptp(paint[:, 0, 1])


def test_a_thicker_film_never_comes_nearer_the_card() -> None:
    over_white = drawdowns((black_primer(),), FILMS, look_of(small_project()))[0, 2, :, 1]
    assert np.all(np.diff(over_white) <= 0.0)


def test_wet_is_milky_over_black() -> None:
    gloss = Viewing(finish=Finish.GLOSS)
    dry, wet = (
        drawdowns((WATER,), FILMS, look_of(small_project(), replace(gloss, wet=on)))[0, 0, :, 1]
        for on in (False, True)
    )
    assert wet[0] == pytest.approx(dry[0])
    assert np.all(np.diff(wet) > 0.0)


def test_many_paints_at_once_are_the_same_as_one_by_one() -> None:
    paints = (red_glaze(), off_white(), black_primer())
    together = drawdowns(paints, FILMS, look_of(small_project()))
    assert together.shape == (3, 3, 7, 3)
    for place, paint in enumerate(paints):
        alone = drawdowns((paint,), FILMS, look_of(small_project()))[0]
        assert together[place] == pytest.approx(alone, rel=1e-12)


def test_no_paint_gives_no_colours() -> None:
    assert drawdowns((), FILMS, look_of(small_project())).shape == (0, 3, 7, 3)


def test_what_is_known_exactly_has_no_tolerance_and_bare_card_none_ever() -> None:
    look = look_of(small_project())
    exact = replace(red_glaze(), uncertainty=CERTAIN)
    assert drawdown_tolerance(exact, FILMS, look) == pytest.approx(0.0)
    known = drawdown_tolerance(red_glaze(), FILMS, look)
    assert known.shape == (3, len(FILMS))
    assert known[:, 0] == pytest.approx(0.0)
    assert (known[:, 1:] > 0.1).all()
    unsure = replace(red_glaze(), uncertainty=replace(red_glaze().uncertainty, level_k=0.6))
    assert (drawdown_tolerance(unsure, FILMS, look)[:, 1:] > known[:, 1:]).all()


def test_the_tolerance_is_that_of_a_level_known_to_a_factor() -> None:
    """A level of K alone is one number: its 90 % interval follows from two films of exact paint."""
    sigma = 0.2
    paint = replace(red_glaze(), uncertainty=Uncertainty(level_k=sigma))
    look = look_of(small_project())
    found = drawdown_tolerance(paint, FILMS, look)
    labs = []
    for sign in (-1.0, 0.0, 1.0):
        factor = float(np.exp(sign * 1.645 * sigma))
        twin = replace(paint, absorption=tuple(k * factor for k in paint.absorption))
        labs.append(colorimetry.lab_from_xyz(drawdowns((twin,), FILMS, look)[0]))
    ends = [colorimetry.ciede2000(lab, labs[1]) for lab in (labs[0], labs[2])]
    low, high = np.minimum(*ends), np.maximum(*ends)
    # Of 160 draws the 90th percentile lies within a fifth, and between what both sides give.
    assert (found <= 1.2 * high + 1e-9).all()
    assert (found >= 0.8 * low - 1e-9).all()
