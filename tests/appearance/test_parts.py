"""The small parts: points, pots, looks, grounds, and what is kept."""

from dataclasses import replace

import numpy as np
import pytest

from schemeforge import optics
from schemeforge.appearance import Points, look_of, pot_spectra, zone_grounds
from schemeforge.appearance.kept import Kept
from schemeforge.colorimetry import SpectralLight
from schemeforge.errors import InputError, PaintMissingError, UnknownNameError
from schemeforge.scheme import Finish, Spray, Viewing
from tests.appearance import oracle
from tests.appearance.projects import own_light, random_project
from tests.builders import mix, small_project


@pytest.mark.parametrize("bad", [-0.1, 1.1, float("nan"), float("inf")])
def test_points_outside_are_named(bad: float) -> None:
    for n, name in enumerate(("tone", "relief", "along")):
        values = [0.5, 0.5, 0.5]
        values[n] = bad
        with pytest.raises(InputError, match=name):
            Points(*values)


def test_points_that_do_not_fit_are_refused() -> None:
    with pytest.raises(InputError, match="shape"):
        Points([0.1, 0.2], [0.1, 0.2, 0.3], 0.5)
    assert Points(np.zeros((2, 1)), np.zeros(3), 0.5).shape == (2, 3)


def test_a_pot_is_the_sum_of_its_shares() -> None:
    project = small_project()
    wash = project.schemes[0].mix("wash-pot")
    pot = pot_spectra(project, wash)
    for band in (0, 17, 35):
        K, S = oracle.per_um(project, wash, band, 0.0)
        assert pot.absorption[band] == pytest.approx(K, rel=1e-14)
        assert pot.scattering[band] == pytest.approx(S, rel=1e-14)
    assert pot.binder == pytest.approx(0.6)  # 30 wash and 30 medium of 100
    assert pot_spectra(project, mix("w", water=1.0)).binder == 0.0
    assert not pot.absorption.flags.writeable
    assert pot_spectra(project, wash) is pot
    with pytest.raises(PaintMissingError, match="gone"):
        pot_spectra(project, mix("w", gone=1.0))


def test_a_look_has_its_finish_light_and_milk() -> None:
    project = replace(small_project(), lights=(own_light(),))
    finishes = {
        Finish.MATT: optics.MATT,
        Finish.UNVARNISHED: optics.UNVARNISHED,
        Finish.SATIN: optics.SATIN,
        Finish.GLOSS: optics.GLOSS,
    }
    for finish, surface in finishes.items():
        look = look_of(project, Viewing(finish=finish))
        assert look.surface == surface
        assert not look.is_wet
        wet = look_of(project, Viewing(finish=finish, wet=True, milk_per_um=0.002))
        assert wet.surface == optics.GLOSS
        assert (wet.is_wet, wet.milk_per_um) == (True, 0.002)
    assert look_of(project) == look_of(project, project.viewing)
    lamp = look_of(project, Viewing(light="kitchen lamp")).light
    assert isinstance(lamp, SpectralLight)
    assert lamp.power == own_light().power
    with pytest.raises(UnknownNameError, match=r"^viewing: .*kitchen lamp"):
        look_of(project, Viewing(light="kitchen lam"))
    # One rule of thumb, told in two places.
    assert Viewing().milk_per_um == optics.MILK_PER_UM


def test_grounds_follow_the_shape_of_the_tones() -> None:
    project = random_project(0, Spray(mix_id="white-pot"))
    scheme = project.schemes[0]
    tone = np.linspace(0, 1, 12)
    row = zone_grounds(project, scheme, scheme.steps[:2], tone)
    assert row.reflectance.shape == (4, 12, 36)
    grid = zone_grounds(project, scheme, scheme.steps[:2], tone.reshape(3, 4))
    np.testing.assert_array_equal(grid.reflectance.reshape(4, 12, 36), row.reflectance)
    again = zone_grounds(project, scheme, scheme.steps[:2], tone.copy())
    assert np.shares_memory(again.reflectance, row.reflectance)  # kept, not made anew
    np.testing.assert_allclose(row.weights.sum(axis=0), 1, rtol=1e-13)
    np.testing.assert_array_equal(row.weighted, row.weights * row.reflectance)
    for steps, ground in (((), oracle.PLASTIC), (scheme.steps[:1], None)):
        idle = zone_grounds(project, scheme, steps, tone)
        assert idle.is_idle
        assert idle.shaped((3, 4)) is idle
        assert idle.at(slice(0, 2)) is idle
        if ground is not None:
            np.testing.assert_array_equal(idle.reflectance, np.full((1, 36), ground))


def test_what_is_kept_is_told_by_identity_and_the_oldest_goes_first() -> None:
    kept: Kept[str] = Kept(2)
    one, twin, three = ("a", 1.0), ("a", float("1.0")), [3]
    assert one == twin
    assert one is not twin
    assert kept.get((one,), (), lambda: "one") == "one"
    assert kept.get((one,), (), lambda: "again") == "one"
    assert kept.get((twin,), (), lambda: "twin") == "twin"
    assert kept.get((one,), (5,), lambda: "plain") == "plain"  # drops the first
    assert len(kept) == 2
    assert kept.find((one,), ()) is None
    assert kept.find((twin,), ()) == "twin"
    assert kept.keep((three,), (), "three") == "three"
    assert kept.find((twin,), ()) is None
