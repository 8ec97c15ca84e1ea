"""Each remark where it belongs and not where it does not; its numbers against plain floats."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from schemeforge import colorimetry
from schemeforge.appearance.remarks import Remark, Severity, zone_remarks
from schemeforge.errors import UnknownNameError
from schemeforge.paint import Paint
from schemeforge.scheme import (
    AlongProfile,
    Coat,
    Mix,
    Placement,
    Project,
    Spray,
    Step,
    Surfacing,
    Technique,
    Viewing,
    Zone,
)
from tests.appearance import oracle
from tests.builders import POOLED, TIPS, coat_step, flat, mix, small_project, synthetic_paint

SURE_POT = mix("sure-pot", red_glaze=20.0, clear_medium=40.0, water=40.0)
WASH_POT = mix("deep-pot", brown_wash=40.0, clear_medium=30.0, water=30.0)


def zone_of(surfacing: Surfacing = Surfacing.TEXTURED, **changes: Any) -> Zone:
    return replace(Zone(id="hide", name="hide", surfacing=surfacing), **changes)


def with_coats(
    *coats: Step,
    zone: Zone | None = None,
    mixes: tuple[Mix, ...] = (),
    paints: tuple[Paint, ...] = (),
    peak_um: float = 200.0,
) -> Project:
    """Primed and sprayed hide with those coats, alone in the project."""
    project = small_project()
    scheme = project.schemes[0]
    prime, spray = (replace(s, zone_ids=("hide",)) for s in scheme.steps[:2])
    under = (prime, replace(spray, layer=Spray(mix_id="white-pot", peak_um=peak_um)))
    scheme = replace(
        scheme,
        mixes=(*scheme.mixes, SURE_POT, WASH_POT, *mixes),
        steps=under + coats,
        shares=(),
    )
    zones = (zone_of() if zone is None else zone,)
    return replace(
        project,
        zones=zones,
        schemes=(scheme,),
        groups=(),
        chosen_scheme_id="",
        paints=(*project.paints, *paints),
    )


def remarks(project: Project, zone: str = "hide") -> dict[str, Remark]:
    found = zone_remarks(project, project.schemes[0], zone)
    for remark in found:
        assert remark.zone_id == zone
        assert remark.sentence.endswith(".")
        assert all(np.isfinite(value) for _, value in remark.numbers)
        assert {name for name, _ in remark.numbers}
    return {remark.key: remark for remark in found}


def number(remark: Remark, name: str) -> float:
    return dict(remark.numbers)[name]


def plain_lab(project: Project, at: tuple[float, float, float]) -> Any:
    """CIELAB of every stage of the hide in plain floats."""
    return colorimetry.lab_from_xyz(oracle.stages_at(project, project.schemes[0], "hide", at))


def test_a_sound_stack_gets_no_remark() -> None:
    assert remarks(with_coats(coat_step("glaze", "sure-pot", "hide", wet_um=40.0))) == {}


def test_a_zone_without_steps_or_coats_is_not_remarked_on() -> None:
    assert remarks(with_coats()) == {}
    project = small_project()
    scheme = replace(project.schemes[0], steps=project.schemes[0].steps[:1], shares=())
    bare = replace(project, schemes=(scheme,), zones=(*project.zones, Zone(id="tail", name="tail")))
    assert remarks(bare, "tail") == {}
    with pytest.raises(UnknownNameError):
        zone_remarks(project, scheme, "wing")


PALE = synthetic_paint("pale-glaze", absorption=flat(0.00002), scattering=flat(0.0006))
PALE_POT = mix("pale-pot", pale_glaze=50.0, clear_medium=50.0)
DARK = coat_step("dark", "deep-pot", "hide", wet_um=300.0)


def test_a_pale_translucent_coat_over_dark_cannot_lighten() -> None:
    veil = coat_step("veil", "pale-pot", "hide", wet_um=12.0)
    project = with_coats(DARK, veil, mixes=(PALE_POT,), paints=(PALE,))
    remark = remarks(project)["cannot lighten"]
    assert (remark.step_id, remark.severity) == ("veil", Severity.WARNING)
    lab = plain_lab(project, (1.0, 1.0, 0.5))
    assert number(remark, "before") == pytest.approx(lab[2, 0], abs=0.01)
    assert number(remark, "after") == pytest.approx(lab[3, 0], abs=0.01)
    # The masstone of 1 : 1 with a medium that only scatters, seen matt.
    R = oracle.thick(0.00001, 0.00045)
    seen = 0.04 + 0.384 * R / (1 - 0.6 * R)
    assert number(remark, "masstone") == pytest.approx(116 * np.cbrt(seen) - 16, abs=0.01)
    assert "unseen coat" not in remarks(project)


@pytest.mark.parametrize(
    "coat",
    [
        coat_step("opaque", "white-pot", "hide", wet_um=60.0),  # it does lighten
        coat_step("medium", "clear-pot", "hide", wet_um=12.0),  # not meant to
        coat_step("glaze", "sure-pot", "hide", wet_um=12.0),  # dark of itself
        coat_step(  # not meant to reach the edge
            "pin",
            "pale-pot",
            "hide",
            wet_um=12.0,
            placement=Placement(relief=replace(POOLED.relief, depth=1.0)),
        ),
    ],
)
def test_a_coat_that_lightens_or_is_not_meant_to_is_left_alone(coat: Step) -> None:
    clear = mix("clear-pot", clear_medium=1.0)
    project = with_coats(DARK, coat, mixes=(PALE_POT, clear), paints=(PALE,))
    assert "cannot lighten" not in remarks(project)


def test_a_coat_that_nobody_sees() -> None:
    faint = coat_step("faint", "sure-pot", "hide", wet_um=0.1)
    project = with_coats(faint)
    remark = remarks(project)["unseen coat"]
    stages = [plain_lab(project, (t, t, 0.5)) for t in np.linspace(0, 1, 17)]
    changes = [float(colorimetry.ciede2000(lab[2], lab[1])) for lab in stages]
    assert number(remark, "change") == pytest.approx(max(changes), abs=0.01)
    assert number(remark, "change") < 1.0
    assert "unseen coat" not in remarks(with_coats(coat_step("g", "sure-pot", "hide", wet_um=9.0)))
    # seen at one end of the part only is seen
    tips = coat_step("tips", "sure-pot", "hide", wet_um=30.0, placement=TIPS)
    assert "unseen coat" not in remarks(with_coats(tips))


def test_an_opaque_coat_hides_the_undercoats_light() -> None:
    opaque = with_coats(coat_step("base", "white-pot", "hide", wet_um=90.0))
    remark = remarks(opaque)["hides the light"]
    recess, edge = (plain_lab(opaque, (t, t, 0.5))[:, 0] for t in (0.0, 1.0))
    assert number(remark, "before") == pytest.approx(edge[1] - recess[1], abs=0.01)
    assert number(remark, "after") == pytest.approx(edge[2] - recess[2], abs=0.01)
    glazed = with_coats(coat_step("glaze", "sure-pot", "hide", wet_um=40.0))
    assert "hides the light" not in remarks(glazed)
    # no light to hide on a zone that got little of the spray
    dark = zone_of(tone_range=(0.0, 0.002))
    again = with_coats(coat_step("base", "white-pot", "hide", wet_um=90.0), zone=dark)
    assert "hides the light" not in remarks(again)


def test_pools_and_tide_marks_on_flat_panels() -> None:
    panel = zone_of(Surfacing.FLAT)
    wash = coat_step(
        "wash", "deep-pot", "hide", technique=Technique.WASH, wet_um=120.0, placement=POOLED
    )
    project = with_coats(wash, zone=panel)
    remark = remarks(project)["pools on a panel"]
    assert remark.severity is Severity.WARNING
    assert "pale ground" in remark.sentence
    once = plain_lab(project, (0.5, 0.5, 0.5))
    twice = plain_lab(
        with_coats(replace(wash, layer=replace(coat_of(wash), wet_um=240.0)), zone=panel),
        (0.5, 0.5, 0.5),
    )
    assert number(remark, "below") == pytest.approx(once[1, 0], abs=0.01)
    assert number(remark, "pool") == pytest.approx(
        float(colorimetry.ciede2000(twice[2], once[2])), abs=0.01
    )
    # worse over a pale undercoat than over a dark one
    dim = remarks(with_coats(wash, zone=panel, peak_um=12.0))["pools on a panel"]
    assert dim.severity is Severity.ADVICE
    assert "pale ground" not in dim.sentence
    # only on panels, only of what pools, and only where it shows
    assert "pools on a panel" not in remarks(with_coats(wash))
    glaze = coat_step("glaze", "sure-pot", "hide", wet_um=40.0)
    assert "pools on a panel" not in remarks(with_coats(glaze, zone=panel))
    weak = coat_step("wash", "deep-pot", "hide", technique=Technique.WASH, wet_um=0.8)
    assert "pools on a panel" not in remarks(with_coats(weak, zone=panel))


def test_a_mix_of_few_drops() -> None:
    glaze = coat_step("glaze", "red-pot", "hide", wet_um=40.0)  # 1 : 2 : 2
    twice = coat_step("again", "red-pot", "hide", wet_um=5.0)
    project = with_coats(glaze, twice)
    found = zone_remarks(project, project.schemes[0], "hide")
    (remark,) = (r for r in found if r.key == "few drops")  # once a pot
    assert (remark.step_id, remark.severity) == ("glaze", Severity.NOTE)
    assert "red glaze" in remark.sentence
    assert number(remark, "drops") == 5.0
    more = mix("more-pot", red_glaze=2.0, clear_medium=2.0, water=2.0)
    other = with_coats(
        replace(glaze, layer=replace(coat_of(glaze), mix_id="more-pot")), mixes=(more,)
    )
    relief = np.linspace(0, 1, 17)
    shifts = [
        float(
            colorimetry.ciede2000(
                plain_lab(other, (t, t, 0.5))[2], plain_lab(project, (t, t, 0.5))[2]
            )
        )
        for t in relief
    ]
    assert number(remark, "shift") == pytest.approx(max(shifts), abs=0.02)
    # many drops, one ingredient, or a shift that nobody sees
    assert "few drops" not in remarks(with_coats(coat_step("g", "sure-pot", "hide", wet_um=40.0)))
    neat = mix("neat-pot", red_glaze=1.0)
    alone = with_coats(coat_step("g", "neat-pot", "hide", wet_um=10.0), mixes=(neat,))
    assert "few drops" not in remarks(alone)
    faint = with_coats(coat_step("g", "red-pot", "hide", wet_um=0.3))
    assert "few drops" not in remarks(faint)


def test_the_undercoat_caps_a_translucent_colour() -> None:
    glaze = coat_step("glaze", "sure-pot", "hide", wet_um=40.0)
    project = with_coats(glaze, peak_um=20.0)
    remark = remarks(project)["capped by the undercoat"]
    assert remark.step_id == "spray"
    at = (1.0, 1.0, 0.5)
    here, more = plain_lab(project, at), plain_lab(with_coats(glaze, peak_um=30.0), at)
    assert number(remark, "undercoat") == pytest.approx(here[1, 0], abs=0.01)
    assert number(remark, "final") == pytest.approx(here[2, 0], abs=0.01)
    assert number(remark, "gain") == pytest.approx(more[2, 0] - here[2, 0], abs=0.02)
    # not under an opaque coat, not where the spray is full, not where nothing lies on it
    assert "capped by the undercoat" not in remarks(
        with_coats(coat_step("base", "white-pot", "hide", wet_um=150.0), peak_um=20.0)
    )
    assert "capped by the undercoat" not in remarks(with_coats(glaze, peak_um=200.0))
    assert "capped by the undercoat" not in remarks(with_coats(peak_um=20.0))


def two_zones(*coats: Step) -> Project:
    """Hide and cloak, touching, with those coats on either."""
    project = with_coats()
    scheme = project.schemes[0]
    both = tuple(replace(s, zone_ids=("hide", "cloak")) for s in scheme.steps)
    cloak = Zone(id="cloak", name="cloak", touches=("hide",))
    tail = Zone(id="tail", name="tail", touches=("hide",))  # never painted
    return replace(
        project,
        zones=(zone_of(), cloak, tail),
        schemes=(replace(scheme, steps=both + coats),),
    )


def test_touching_zones_that_run_together() -> None:
    red = coat_step("red", "sure-pot", "hide", "cloak", wet_um=40.0)
    project = two_zones(red)
    for zone, other in (("hide", "cloak"), ("cloak", "hide")):
        remark = remarks(project, zone)["runs together"]
        assert remark.step_id == ""
        assert f'"{other}"' in remark.sentence
        assert number(remark, "lightness") == pytest.approx(0.0, abs=1e-9)
        assert number(remark, "hue") == pytest.approx(0.0, abs=1e-9)
    # two greys are alike whatever their hue
    assert "runs together" in remarks(two_zones(), "hide")
    # another hue, another lightness, or a colour beside a grey part them
    blue = synthetic_paint("blue-glaze", absorption=tuple(0.06 * (n > 18) for n in range(36)))
    pot = mix("blue-pot", blue_glaze=20.0, clear_medium=40.0, water=40.0)
    reds = coat_step("red", "sure-pot", "hide", wet_um=40.0)
    blues = coat_step("blue", "blue-pot", "cloak", wet_um=40.0)
    hues = two_zones()
    scheme = hues.schemes[0]
    scheme = replace(scheme, mixes=(*scheme.mixes, pot), steps=(*scheme.steps, reds, blues))
    hues = replace(hues, schemes=(scheme,), paints=(*hues.paints, blue))
    assert "runs together" not in remarks(hues)
    deep = coat_step("deep", "deep-pot", "hide", wet_um=900.0)
    assert "runs together" not in remarks(two_zones(deep))
    assert "runs together" not in remarks(two_zones(reds))


def test_the_viewing_is_taken_dry_and_counts() -> None:
    glaze = coat_step("glaze", "sure-pot", "hide", wet_um=40.0)
    project = with_coats(glaze, peak_um=20.0)
    scheme = project.schemes[0]
    wet = zone_remarks(project, scheme, "hide", Viewing(wet=True))
    dry = zone_remarks(project, scheme, "hide", Viewing())
    assert wet == dry == zone_remarks(project, scheme, "hide")
    assert zone_remarks(project, scheme, "hide", Viewing(light="A")) != dry


def coat_of(step: Step) -> Coat:
    """Its coat."""
    assert step.coat is not None
    return step.coat


def test_a_coat_within_a_part_is_judged_where_it_lies() -> None:
    tip = Placement(along=AlongProfile(start=0.7, end=1.0, feather_start=0.2))
    veil = coat_step("veil", "pale-pot", "hide", wet_um=12.0, placement=tip)
    project = with_coats(DARK, veil, mixes=(PALE_POT,), paints=(PALE,))
    remark = remarks(project)["cannot lighten"]
    lab = plain_lab(project, (1.0, 1.0, 1.0))
    assert number(remark, "after") == pytest.approx(lab[3, 0], abs=0.01)
