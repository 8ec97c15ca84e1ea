from collections.abc import Callable
from dataclasses import replace
from math import inf, nan

import pytest

from schemeforge.errors import InputError
from schemeforge.optics import bands
from schemeforge.paint import WATER, WATER_ID, Basis, PaintKind, Stock
from tests.builders import flat, red_glaze


def at_band(value: float, band: int = 0) -> tuple[float, ...]:
    spectrum = list(flat(0.1))
    spectrum[band] = value
    return tuple(spectrum)


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: replace(red_glaze(), id="red glaze"), "Paint has an id that is not usable"),
        (lambda: replace(red_glaze(), name=""), "Paint has no name"),
        (lambda: replace(red_glaze(), absorption=(0.1,) * 35), "absorption has 35 values"),
        (lambda: replace(red_glaze(), scattering=at_band(-0.1)), "scattering at 380 nm is -0.1"),
        (lambda: replace(red_glaze(), absorption=at_band(nan, 35)), "absorption at 730 nm is nan"),
        (lambda: replace(red_glaze(), absorption=at_band(inf, 1)), "absorption at 390 nm is inf"),
        (lambda: replace(red_glaze(), scattering=at_band(1.1e4)), "give 0 to 10000 per micrometre"),
        (lambda: replace(red_glaze(), volume_solids=1.1), "volume solids is 1.1"),
        (lambda: replace(red_glaze(), density_g_per_ml=0.1), "density is 0.1"),
        (lambda: replace(red_glaze(), colour_index="\0"), "colour index contains control"),
        (lambda: replace(red_glaze(), note="\0"), "note contains control"),
        (lambda: replace(red_glaze(), flagged_bands_nm=(375,)), "flagged band is 375"),
        (lambda: Stock(bottle_ml=0.0), "Bottle size is 0"),
        (lambda: Stock(left_ml=-1.0), "Paint left is -1"),
        (lambda: Stock(price=nan), "Price is nan"),
    ],
)
def test_bad_paints_are_refused_in_a_sentence(make: Callable[[], object], words: str) -> None:
    with pytest.raises(InputError) as caught:
        make()
    assert words in str(caught.value)


def test_the_strongest_paint_is_taken() -> None:
    assert replace(red_glaze(), absorption=flat(1e4), scattering=flat(0.0)).absorption[0] == 1e4
    assert replace(red_glaze(), flagged_bands_nm=(380, 730)).flagged_bands_nm == (380, 730)


def test_stock_may_be_unknown() -> None:
    assert Stock() == Stock(bottle_ml=17.0, left_ml=None, price=None)
    assert Stock(left_ml=0.0, price=3.5).price == 3.5


def test_water_leaves_nothing() -> None:
    assert WATER.id == WATER_ID
    assert WATER.kind.is_clear
    assert len(WATER.absorption) == bands.COUNT
    assert not any(WATER.absorption)
    assert not any(WATER.scattering)
    assert WATER.volume_solids == 0.0
    assert not WATER.uncertainty.factor().size


def test_only_medium_and_water_are_clear() -> None:
    assert {kind for kind in PaintKind if kind.is_clear} == {PaintKind.MEDIUM, PaintKind.WATER}


def test_every_basis_says_what_it_is_in_its_own_words() -> None:
    words = [basis.words for basis in Basis]
    assert len(set(words)) == len(Basis)
    assert Basis.TYPICAL.words == "typical, not measured"
