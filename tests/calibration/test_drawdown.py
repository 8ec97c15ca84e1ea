"""Paints from spectra."""

from dataclasses import replace

import numpy as np
import pytest

from schemeforge import optics
from schemeforge.calibration import (
    BLACK,
    WHITE,
    Outcome,
    Read,
    from_drawdown,
    from_spectra,
    spectrum_patch,
)
from schemeforge.errors import InputError, ReadingError
from schemeforge.paint import Basis, PaintKind
from tests.calibration.swatches import FILM_UM, Floats, errors, paint, red, reflectance

GEOMETRIES = {
    "included": optics.SPECULAR_INCLUDED,
    "excluded": optics.SPECULAR_EXCLUDED,
    "45/0": optics.FORTY_FIVE_ZERO,
}


def read(values: Floats, **more: tuple[int, ...]) -> Read:
    return Read(reflectance=tuple(float(v) for v in values), **more)


def drawn(
    spectra: tuple[Floats, Floats],
    surface: optics.Surface = optics.MATT,
    film_um: float = FILM_UM,
) -> Outcome:
    over = [read(reflectance(spectra, film_um, g, surface)) for g in (BLACK, WHITE)]
    bare = [Read(reflectance=ground) for ground in (BLACK, WHITE)]
    return from_drawdown(*over, *bare, film_um=film_um, surface=surface)


@pytest.mark.parametrize("geometry", GEOMETRIES)
def test_a_drawdown_gives_the_paint_back(geometry: str) -> None:
    found = drawn(red(), GEOMETRIES[geometry])
    assert found.basis is Basis.MEASURED
    assert found.findings == ()
    assert errors(found, red()).max() < 0.5
    K, S = red()
    settled = ~np.isin(np.arange(380, 731, 10), found.flagged_nm)
    assert settled.sum() > 20
    assert np.allclose(found.fit.absorption[settled], K[settled], rtol=0.15)
    assert np.allclose(found.fit.scattering[settled], S[settled], rtol=0.15)


def test_what_is_not_resolved_is_flagged() -> None:
    # Check values of the inverse: one drawdown knows neither S of a clear glaze nor K of white.
    clear = (red()[0], np.full(36, 2e-6))
    assert len(drawn(clear).flagged_nm) > 30
    white = drawn(paint("chalk-white"), film_um=8.0)
    assert len(white.flagged_nm) > 25
    made = white.paint(id="w", name="w", kind=PaintKind.OPAQUE)
    assert made.flagged_bands_nm == white.flagged_nm


def test_bands_beyond_the_instrument_are_less_sure() -> None:
    over = [reflectance(red(), FILM_UM, g) for g in (BLACK, WHITE)]
    ends = (380, 390, 710, 720, 730)
    reads = [read(v, unsure_nm=ends) for v in over]
    bare = [Read(reflectance=g, unsure_nm=ends) for g in (BLACK, WHITE)]
    found = from_drawdown(*reads, *bare, film_um=FILM_UM, surface=optics.MATT)
    assert set(ends) <= set(found.flagged_nm)
    whole = drawn(red())
    assert (found.fit.errors[[0, 35]] > whole.fit.errors[[0, 35]]).all()


def test_noise_averages_over_neighbouring_bands() -> None:
    fitted, band_by_band = [], []
    for seed in range(4):
        rng = np.random.default_rng(seed)
        over = [
            read(reflectance(red(), FILM_UM, g) + 0.008 * rng.standard_normal(36))
            for g in (BLACK, WHITE)
        ]
        bare = [Read(reflectance=ground) for ground in (BLACK, WHITE)]
        found = from_drawdown(*over, *bare, film_um=FILM_UM, surface=optics.MATT, noise=0.008)
        fitted.append(np.abs(np.log(found.fit.absorption / red()[0])))
        closed = optics.film_from_two_grounds(
            *(optics.internal(np.array(r.reflectance), optics.MATT) for r in (*over, *bare)),
            noise=0.016,
        )
        alone = np.maximum(closed.absorption, 1e-9) / FILM_UM
        band_by_band.append(np.abs(np.log(alone / red()[0])))
    assert np.mean(fitted) < 0.9 * np.mean(band_by_band)


def test_a_ladder_over_one_ground() -> None:
    patches = [
        spectrum_patch(
            f"{um} um",
            read(reflectance(red(), um, WHITE)),
            Read(reflectance=WHITE),
            film_um=um,
            hand=0.0,
        )
        for um in (10.0, 40.0, 160.0)
    ]
    found = from_spectra(patches, surface=optics.MATT)
    over_white = errors(found, red())[:, 2]
    assert over_white.max() < 0.3


def test_readings_that_cannot_be_are_told() -> None:
    spectra = red()
    dark, light = (reflectance(spectra, FILM_UM, g) for g in (BLACK, WHITE))
    bare = [Read(reflectance=ground) for ground in (BLACK, WHITE)]
    where = {"film_um": FILM_UM, "surface": optics.MATT}
    with pytest.raises(ReadingError, match="darker over the light ground"):
        from_drawdown(read(light), read(dark), *bare, **where)  # type: ignore[arg-type]
    with pytest.raises(ReadingError, match=r"nm band: The reading is below 0.04"):
        from_drawdown(read(dark * 0.5), read(light), *bare, **where)  # type: ignore[arg-type]
    with pytest.raises(InputError, match="paint a thinner swatch"):
        drawn(paint("brick-red"), film_um=900.0)
    with pytest.raises(InputError, match="has 3 bands, not 36"):
        Read(reflectance=(0.1, 0.2, 0.3))


def test_a_spectrum_that_does_not_belong_is_told() -> None:
    patches = list(drawn(red()).patches)
    odd = replace(patches[0], name="odd", reflectance=tuple(np.full(36, 0.6).tolist()), stroke="")
    found = from_spectra([*patches, odd], surface=optics.MATT)
    assert any('"odd"' in finding for finding in found.findings)
