"""Targets and beds: what is asked for, and what lies below and above."""

from dataclasses import replace

import numpy as np
import pytest

from schemeforge import colorimetry, optics
from schemeforge.appearance import Points, final_xyz, look_of, zone_stages
from schemeforge.errors import InputError, UnknownNameError
from schemeforge.optics import bands
from schemeforge.recipe import (
    Target,
    UnderLight,
    chip_target,
    colour_target,
    look_for,
    paint_target,
    plain_bed,
    resampled,
    screen_target,
    typed_target,
    zone_bed,
    zone_target,
)
from schemeforge.recipe.kernel import Kernel
from schemeforge.scheme import Viewing
from tests.builders import POOLED, coat_step, small_project
from tests.recipe.shelves import LOOK, ramp_bed, seen_lab, shelf

PLACES = (0.0, 0.25, 0.5, 0.75, 1.0)


def test_a_screen_colour_is_the_colour_that_the_screen_shows() -> None:
    # White and a mid grey of IEC 61966-2-1: L* 100 and, for code 119, about 50.
    assert np.allclose(screen_target("#ffffff").lab[0], (100.0, 0.0, 0.0), atol=1e-9)
    assert abs(screen_target("777777").lab[0][0] - 50.0) < 0.1
    for code in ("#8a5a3c", "#012345"):
        target = screen_target(code.upper())
        assert colorimetry.hex_codes(colorimetry.xyz_from_lab(target.lab)) == [code]
        assert target.name == code


@pytest.mark.parametrize("code", ["", "#12345", "#12345g", "red", "#1234567"])
def test_what_is_no_screen_colour_is_told(code: str) -> None:
    with pytest.raises(InputError, match="not a screen colour; write it like"):
        screen_target(code)


@pytest.mark.parametrize(
    "text", ["52,12,-30", " 52 ; 12.0 ; -30 ", "52 12 -30", "52, 12, \N{MINUS SIGN}30"]
)
def test_numbers_are_read_as_they_are_typed(text: str) -> None:
    target = typed_target(text)
    assert target is not None
    assert target.lab == ((52.0, 12.0, -30.0),)


def test_what_is_typed_is_a_screen_colour_or_three_numbers_or_neither() -> None:
    assert typed_target(" #8a5a3c ") == screen_target("#8a5a3c")
    for text in ("facade", "8a5a3c", "52, 12", "1, 2, 3, 4", "", "hide"):
        assert typed_target(text) is None
    with pytest.raises(InputError, match="not a screen colour"):
        typed_target("#8a5a3")
    with pytest.raises(InputError, match="L\\* of the target"):
        typed_target("520, 0, 0")


def test_targets_hold_what_colours_can_be() -> None:
    assert colour_target((50, 1, -2)).lab == ((50.0, 1.0, -2.0),)
    assert len(colour_target(np.full((3, 3), 20.0)).lab) == 3
    for bad in ((50, 1), "red", [[[1, 2, 3]]]):
        with pytest.raises(InputError, match="three numbers"):
            colour_target(bad)
    for lab in ((), ((float("nan"), 0.0, 0.0),), ((-1.0, 0.0, 0.0),), ((50.0, 300.0, 0.0),)):
        with pytest.raises(InputError):
            Target(lab=lab)
    with pytest.raises(InputError, match="another number of tones"):
        Target(lab=((1.0, 0.0, 0.0),), others=(UnderLight(light="A", lab=()),))


def test_a_measured_chip_knows_its_colour_under_other_lights() -> None:
    R = np.linspace(0.2, 0.8, bands.COUNT)
    target = chip_target(R, lights=("A", "FL11"), name="chip")
    assert np.allclose(target.lab[0], colorimetry.lab(R))
    assert [other.light for other in target.others] == ["A", "FL11"]
    assert np.allclose(target.others[1].lab[0], colorimetry.lab(R, "FL11"))
    for bad in (R[:30], np.full(bands.COUNT, 1.2)):
        with pytest.raises(InputError):
            chip_target(bad)


def test_a_plain_bed_is_one_ground_a_tone() -> None:
    assert plain_bed(0.3).tones == 1
    bed = plain_bed(np.full((4, bands.COUNT), 0.2))
    assert (bed.tones, bed.relief[0], bed.relief[-1]) == (4, 0.0, 1.0)
    assert np.allclose(bed.mean, 0.2)
    for bad in (np.zeros((2, 3)), 1.5, np.zeros((0, bands.COUNT))):
        with pytest.raises(InputError):
            plain_bed(bad)


@pytest.mark.parametrize("step_id", ["wash", "red"])
@pytest.mark.parametrize("light", ["D65", "FL11"])
def test_a_coat_laid_on_its_own_bed_gives_the_zone_as_it_was(step_id: str, light: str) -> None:
    """What lies below, above, where it goes and the sprayed droplets: all as appearance has it."""
    project = small_project()
    viewing = Viewing(light=light)
    (scheme,) = project.schemes
    over = coat_step("over", "wash-pot", "cloak", wet_um=30.0, placement=POOLED)
    scheme = replace(scheme, steps=(*scheme.steps, over))
    step = scheme.step(step_id)
    coat = step.coat
    assert coat is not None
    bed = zone_bed(
        project,
        scheme,
        "cloak",
        relief=PLACES,
        instead_of=(step_id,),
        placement=coat.placement,
        along=0.7,
    )
    mix = scheme.mix(coat.mix_id)
    paints = [project.paint(one.paint_id) for one in mix.ingredients]
    parts = np.array([one.parts for one in mix.ingredients])
    left = coat.wet_um * coat.passes * parts / parts.sum()
    K = np.array([paint.absorption for paint in paints])
    S = np.array([paint.scattering for paint in paints])
    kernel = Kernel(
        (left @ K)[np.newaxis],
        (left @ S)[np.newaxis],
        np.zeros((1, 2, bands.COUNT)),
        bed,
        look_for(project, viewing),
        (0,),
    )
    XYZ = kernel.xyz(np.zeros((1, 1), np.int16), np.ones((1, 1, 1)))[0, :, 0]
    zone = project.zone("cloak")
    tone = np.array(zone.tones[0] + (zone.tones[1] - zone.tones[0]) * np.array(PLACES))
    wanted = final_xyz(project, scheme, "cloak", Points(tone, np.array(PLACES), 0.7), viewing)
    assert np.abs(XYZ - wanted).max() < 1e-9


def test_a_bed_after_a_step_has_nothing_above() -> None:
    project = small_project()
    (scheme,) = project.schemes
    bare = zone_bed(project, scheme, "hide", relief=PLACES)
    washed = zone_bed(project, scheme, "hide", relief=PLACES, after="wash")
    assert bare.above is None
    assert washed.above is None
    assert (washed.mean[-1] < bare.mean[-1]).all()
    look = look_of(project)
    points = Points(np.array(PLACES), np.array(PLACES), 0.5)
    stage = zone_stages(project, scheme, "hide", points)[2]
    spots = optics.seen(np.clip(washed.reflectance, 0, 1), look.surface)
    seen = (washed.weights * spots).sum(axis=0)
    assert np.abs(seen @ look.matrix() - stage.xyz).max() < 1e-9


def test_beds_name_what_is_not_there() -> None:
    project = small_project()
    (scheme,) = project.schemes
    with pytest.raises(UnknownNameError, match="zone"):
        zone_bed(project, scheme, "tail")
    with pytest.raises(UnknownNameError, match="step"):
        zone_bed(project, scheme, "hide", after="wahs")
    with pytest.raises(InputError, match='"red" does not touch'):
        zone_bed(project, scheme, "hide", instead_of=("red",))
    for bad in ((), (1.2,), (float("nan"),)):
        with pytest.raises(InputError, match="0 to 1"):
            zone_bed(project, scheme, "hide", relief=bad)


def test_a_zone_is_a_target_dry_and_under_every_light() -> None:
    project = small_project()
    (scheme,) = project.schemes
    target = zone_target(project, scheme, "hide", viewing=Viewing(wet=True), lights=("A", "D65"))
    ramp = np.array(PLACES)
    wanted = final_xyz(project, scheme, "hide", Points(ramp, ramp, 0.5))
    assert np.allclose(target.array, colorimetry.lab_from_xyz(wanted), atol=1e-9)
    assert [other.light for other in target.others] == ["A"]
    stage = zone_target(project, scheme, "hide", after="spray")
    assert stage.lab[-1][0] > target.lab[-1][0]
    with pytest.raises(InputError, match='"red" does not touch "hide"'):
        zone_target(project, scheme, "hide", after="red")


def test_a_ramp_from_elsewhere_is_stretched_to_the_tones() -> None:
    assert resampled([(10, 0, 0), (50, 4, 8)], 3).lab[1] == (30.0, 2.0, 4.0)
    for bad in ([(1, 2, 3)], [[1, 2], [3, 4]]):
        with pytest.raises(InputError, match="two tones or more"):
            resampled(bad, 5)


def test_look_for_is_dry() -> None:
    assert not look_for(small_project(), Viewing(wet=True)).is_wet


def test_a_paint_over_a_bed_is_a_target() -> None:
    (paint,) = shelf(6, 1)
    bed = ramp_bed()
    K, S = np.array(paint.absorption), np.array(paint.scattering)
    target = paint_target(paint, 30.0, bed, LOOK)
    assert target.name == paint.name
    assert np.allclose(target.array, seen_lab([(30.0 * K, 30.0 * S)], bed, LOOK), atol=1e-9)
    bare = paint_target(paint, 0.0, bed, LOOK)
    assert np.allclose(bare.array, seen_lab([(0.0 * K, 0.0 * S)], bed, LOOK), atol=1e-9)
    with pytest.raises(InputError, match="Film of the paint"):
        paint_target(paint, -1.0, bed, LOOK)
