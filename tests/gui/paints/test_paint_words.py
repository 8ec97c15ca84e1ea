"""What a card says of how surely a paint is known."""

from dataclasses import replace

import pytest

from schemeforge.gui.paints.swatches import coat_tolerance
from schemeforge.gui.paints.words import sure_words
from schemeforge.paint import Uncertainty
from tests.builders import red_glaze


@pytest.mark.parametrize(
    ("spread", "words"),
    [
        (0.0, "taken as exact"),
        (0.02, "well known"),
        (0.1, "fairly well known"),
        (0.25, "roughly known"),
        (0.9, "hardly known"),
    ],
)
def test_words_go_by_the_colour_of_a_coat(spread: float, words: str) -> None:
    """A level of K that is off by a share moves the colour by as much, whatever the paint."""
    paint = replace(red_glaze(), uncertainty=Uncertainty(factors=((spread,) * 36 + (0.0,) * 36,)))
    if spread == 0.0:
        paint = replace(paint, uncertainty=Uncertainty())
    assert sure_words(paint, numbers=False) == words
    told = sure_words(paint, numbers=True)
    off = coat_tolerance(paint)
    assert told == (words if spread == 0.0 else f"{words} (±{off:.1f} dE)")


def test_what_does_not_show_counts_for_nothing() -> None:
    """Scattering of a paint that has none: its share may be off threefold, and no eye sees it."""
    clear = replace(red_glaze(), scattering=(1e-6,) * 36)
    paint = replace(clear, uncertainty=Uncertainty(factors=((0.0,) * 36 + (1.0,) * 36,)))
    assert sure_words(paint, numbers=False) == "well known"
