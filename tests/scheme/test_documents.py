"""What the documents refuse, and the few numbers that they work out."""

from collections.abc import Callable
from dataclasses import FrozenInstanceError, replace
from datetime import date
from math import nan, pi

import pytest
from hypothesis import given

from schemeforge.errors import InputError, PaintMissingError, UnknownNameError
from schemeforge.paint import WATER
from schemeforge.scheme.candidate import MOST_STEPS, Scheme, Share, ShareKind
from schemeforge.scheme.model import (
    AreaBasis,
    Build,
    Facing,
    Group,
    ModelSize,
    Zone,
    iso_date,
)
from schemeforge.scheme.project import Project
from schemeforge.scheme.settings import (
    Habits,
    Pin,
    PotUse,
    Sitting,
    Timing,
    UserLight,
    Viewing,
)
from schemeforge.scheme.steps import Coat, Ingredient, Mix, Primer, Spray, Step, Work
from tests.builders import coat_step, mix, small_project, small_scheme, small_steps
from tests.scheme.strategies import projects


def light(nm: tuple[float, ...], power: tuple[float, ...]) -> UserLight:
    return UserLight(name="lamp", wavelengths_nm=nm, power=power)


def timing(**values: object) -> Timing:
    usual: dict[str, object] = {
        "id": "t", "scheme_id": "s", "step_id": "s", "group_id": "g", "models": 1, "minutes": 2.0,
    }  # fmt: skip
    return Timing(**(usual | values))  # type: ignore[arg-type]


def pot_use(**values: object) -> PotUse:
    usual: dict[str, object] = {
        "id": "u", "scheme_id": "s", "mix_id": "m", "models": 1, "mixed_ml": 5.0, "left_ml": 1.0,
    }  # fmt: skip
    return PotUse(**(usual | values))  # type: ignore[arg-type]


PIN = Pin(scheme_id="first", step_id="wash", sitting_id="evening")
MANY = tuple(mix(f"m{i}", water=1.0) for i in range(MOST_STEPS + 1))
REFUSED: list[tuple[Callable[[], object], str]] = [
    (lambda: ModelSize(base_mm=5.0), "Base diameter is 5, outside 10 to 300 mm"),
    (lambda: Zone(id="z z", name="z"), "Zone has an id that is not usable"),
    (lambda: Zone(id="z", name=" "), "Zone has no name; give it one."),
    (lambda: Zone(id="z", name="z", area_cm2=0.0), 'Zone "z": area is 0'),
    (lambda: Zone(id="z", name="z", body_share=1.1), 'Zone "z": share of the body is 1.1'),
    (lambda: Zone(id="z", name="z", tone_range=(0.1, 2.0)), "tone is 2"),
    (lambda: Zone(id="z", name="z", tone_range=(0.6, 0.5)), "recesses are lighter"),
    (lambda: Zone(id="z", name="z", touches=("z",)), "touches itself"),
    (lambda: Zone(id="z", name="z", touches=("a", "a")), "stands twice"),
    (lambda: Zone(id="z", name="z", along_words=("", "tip")), "end of the part has no name"),
    (lambda: Group(id="g", name="g", count=-1), "number of models is -1"),
    (lambda: Group(id="g", name="g", count=1, priority=0), "priority is 0"),
    (lambda: Group(id="g", name="g", count=1, note="\x07"), "control characters"),
    (lambda: Group(id="g", name="g", count=1, needed_by="soon"), "write the date as YYYY-MM-DD"),
    (lambda: Ingredient(paint_id="p", parts=0.0), 'Parts of "p" are zero'),
    (lambda: Ingredient(paint_id="p", parts=-1.0), 'Parts of "p" is -1'),
    (lambda: Ingredient(paint_id="p", parts=nan), 'Parts of "p" is nan'),
    (lambda: Ingredient(paint_id="", parts=1.0), "Ingredient has an id"),
    (lambda: Mix(id="m", name="m", ingredients=()), "has 0 ingredients; give 1 to 8"),
    (
        lambda: Mix(id="m", name="m", ingredients=(Ingredient(paint_id="p", parts=1.0),) * 2),
        '"p" stands twice',
    ),
    (lambda: Spray(mix_id="m", peak_um=-1.0), "Spray at its peak is -1"),
    (lambda: Spray(mix_id="m", droplet_um=0.0), "Droplet film is 0"),
    (lambda: Spray(mix_id="m", spread_n=0.9), "Light spread n is 0.9"),
    (lambda: Coat(mix_id="m", wet_um=1001.0), "Wet film is 1001"),
    (lambda: Coat(mix_id="m", passes=13), "Passes is 13"),
    (lambda: coat_step("s", "m"), 'Step "s" touches no zone'),
    (lambda: coat_step("s", "m", "z", "z"), "stands twice"),
    (lambda: replace(small_steps()[0], wait_minutes=-1.0), "minutes to wait is -1"),
    (lambda: replace(small_steps()[0], cure="x" * 4001), "4001 characters long"),
    (lambda: Share(group_id="g", zone_id="z", kind=ShareKind.SHORT, step_ids=("a", "a")), "twice"),
    (lambda: Scheme(id="s", name="s", mixes=MANY), "more than 200 steps or mixes"),
    (lambda: Scheme(id="s", name="s", mixes=MANY[:1] * 2), "mix"),
    (lambda: replace(small_scheme(), steps=small_steps()[:1] * 2), 'step "prime" stands twice'),
    (lambda: replace(small_scheme(), shares=small_scheme().shares[:1] * 2), "who gets what"),
    (lambda: light((400.0,), (1.0,)), "as many powers as wavelengths"),
    (lambda: light((400.0, 500.0), (1.0,)), "as many powers as wavelengths"),
    (lambda: light((400.0, 100.0), (1.0, 1.0)), "wavelength is 100"),
    (lambda: light((400.0, 500.0), (1.0, -1.0)), "power is -1"),
    (lambda: light((500.0, 400.0), (1.0, 1.0)), "wavelengths must rise"),
    (lambda: light((400.0, 500.0), (0.0, 0.0)), "some power be above zero"),
    (lambda: Viewing(observer=5), "Observer is 5 degrees; choose 2 or 10."),
    (lambda: Viewing(light=""), "Light has no name"),
    (lambda: Viewing(milk_per_um=1.0), "Milkiness when wet is 1"),
    (lambda: Habits(waste=0.5), "Waste factor is 0.5"),
    (lambda: Habits(hands=0), "Hands is 0"),
    (lambda: Habits(break_every_minutes=1.0), "Work between breaks is 1, outside 5 to 1440 min"),
    (lambda: Pin(scheme_id="s", step_id="", sitting_id="e"), "Pinned step has an id"),
    (lambda: pot_use(models=0), "Models done from a pot is 0"),
    (lambda: pot_use(left_ml=5.5), "A pot has 5.5 ml left of 5 ml mixed; give no more"),
    (lambda: pot_use(group_id="g g"), "Use of a pot has an id"),
    (lambda: timing(sitting_id="s s"), "Sitting of a timing has an id"),
    (
        lambda: replace(small_project(), pins=(PIN, replace(PIN, sitting_id="evening"))),
        'Pinned step "first wash" stands twice',
    ),
    (lambda: replace(small_project(), pins=(replace(PIN, sitting_id="later"),)), "no sitting"),
    (lambda: replace(small_project(), pins=(replace(PIN, step_id="wsh"),)), 'did you mean "wash"'),
    (lambda: replace(small_project(), pins=(replace(PIN, scheme_id="x"),)), "no scheme called"),
    (lambda: Sitting(id="s", minutes=0.0), "Length of a sitting is 0"),
    (lambda: Sitting(id="s", minutes=60.0, day="2031-02-30"), "Day of a sitting"),
    (lambda: timing(models=0), "Models timed is 0"),
    (lambda: timing(minutes=-1.0), "Minutes timed is -1"),
    (lambda: timing(group_id=""), "Timing has an id"),
    (lambda: timing(at="\u2028"), "control characters"),
    (lambda: timing(passes=13), "Passes of a timing is 13"),
    (lambda: timing(technique="\x07"), "control characters"),
    (lambda: Project(id="", name="p"), "Project has an id"),
    (lambda: replace(small_project(), zones=small_project().zones * 30), "90 zones, more than 64"),
    (lambda: replace(small_project(), groups=small_project().groups * 2), 'Group "rank" stands'),
    (
        lambda: Project(id="p", name="p", lights=(light((400.0, 500.0), (1.0, 1.0)),) * 2),
        'Light "lamp" stands twice',
    ),
]  # fmt: skip


@pytest.mark.parametrize(("make", "words"), REFUSED)
def test_bad_values_are_refused_in_a_sentence(make: Callable[[], object], words: str) -> None:
    with pytest.raises(InputError) as caught:
        make()
    assert words in str(caught.value)
    assert str(caught.value).endswith(".")


def test_references_must_lead_somewhere() -> None:
    project = small_project()
    scheme = project.schemes[0]
    cell = scheme.shares[0]
    cases: list[tuple[Callable[[], object], str]] = [
        (lambda: replace(project, chosen_scheme_id="frist"), 'did you mean "first"'),
        (lambda: replace(project, yardstick_id="nowhere"), 'no scheme called "nowhere"'),
        (
            lambda: replace(project, zones=(*project.zones[:2], replace(
                project.zones[2], touches=("cloack",)))),
            'did you mean "cloak"',
        ),
        (
            lambda: replace(project, schemes=(replace(scheme, steps=(
                *scheme.steps, coat_step("new", "red-pot", "helmet"))),)),
            'no zone called "helmet"',
        ),
        (
            lambda: replace(project, schemes=(replace(scheme, shares=(
                replace(cell, group_id="ranks"),)),)),
            'did you mean "rank"',
        ),
        (
            lambda: replace(project, schemes=(replace(scheme, shares=(
                replace(cell, zone_id="x"),)),)),
            'no zone called "x"',
        ),
        (
            lambda: replace(project, schemes=(replace(scheme, shares=(
                replace(cell, step_ids=("reed",)),)),)),
            'did you mean "red"',
        ),
        (lambda: replace(scheme, mixes=scheme.mixes[1:]), 'no mix called "primer-pot"'),
    ]  # fmt: skip
    for make, words in cases:
        with pytest.raises(UnknownNameError) as caught:
            make()
        assert words in str(caught.value)


def test_paints_must_be_carried() -> None:
    project = small_project()
    with pytest.raises(PaintMissingError) as caught:
        replace(project, paints=project.paints[1:])
    assert 'Mix "primer pot" needs the paint "black-primer"' in str(caught.value)


def undercoat(*layers: Primer | Spray | Coat | Work) -> Scheme:
    steps = tuple(
        Step(id=f"s{i}", name=f"step {i}", layer=layer, zone_ids=("z",))
        for i, layer in enumerate(layers)
    )
    return Scheme(id="s", name="s", mixes=(mix("m", water=1.0),), steps=steps)


PRIME, SPRAY, COAT = Primer(mix_id="m"), Spray(mix_id="m"), Coat(mix_id="m")


@pytest.mark.parametrize(
    "layers",
    [(), (PRIME,), (SPRAY,), (PRIME, SPRAY, COAT, COAT), (COAT,), (PRIME, Work(), SPRAY, Work())],
)
def test_undercoats_in_order_are_taken(layers: tuple[Primer | Spray | Coat | Work, ...]) -> None:
    assert len(undercoat(*layers).steps) == len(layers)


@pytest.mark.parametrize(
    ("layers", "words"),
    [
        ((PRIME, PRIME), 'zone "z" is primed over a later layer by "step 1"'),
        ((SPRAY, PRIME), "is primed over"),
        ((COAT, PRIME), "is primed over"),
        ((SPRAY, SPRAY), "is sprayed from above over"),
        ((PRIME, COAT, SPRAY), 'is sprayed from above over a later layer by "step 2"'),
    ],
)
def test_undercoats_out_of_order_are_refused(
    layers: tuple[Primer | Spray | Coat, ...], words: str
) -> None:
    with pytest.raises(InputError) as caught:
        undercoat(*layers)
    assert words in str(caught.value)


def test_another_zone_may_be_primed_later() -> None:
    steps = (
        coat_step("a", "m", "hide"),
        Step(id="b", name="b", layer=PRIME, zone_ids=("cloak",)),
    )
    assert Scheme(id="s", name="s", mixes=(mix("m", water=1.0),), steps=steps).steps == steps


def test_areas_by_hand() -> None:
    size = ModelSize(base_mm=32.0, build=Build.BULKY)
    zone = Zone(id="z", name="z", area_cm2=3.0, body_share=0.25)
    areas = {basis: replace(zone, area_basis=basis).area_on(size) for basis in AreaBasis}
    # round base of 32 mm: top 8.04 cm2, rim 3.5 mm high 3.52 cm2 (geometry)
    assert areas[AreaBasis.BY_HAND] == 3.0
    assert areas[AreaBasis.BASE_TOP] == pytest.approx(pi * 1.6**2)
    assert areas[AreaBasis.RIM] == pytest.approx(pi * 3.2 * 0.35)
    assert areas[AreaBasis.BODY_SHARE] == pytest.approx(0.25 * 28.0)
    # twice the diameter, four times the surface
    assert ModelSize(base_mm=64.0, build=Build.SLIM).body_cm2 == pytest.approx(4 * 18.0)


def test_tones_follow_the_facing_unless_told() -> None:
    zone = Zone(id="z", name="z")
    tones = [replace(zone, facing=facing).tones for facing in Facing]
    assert tones == sorted(tones, reverse=True)  # up gets most of a spray from above
    assert tones[0] == (0.0, 1.0)
    assert replace(zone, tone_range=(0.2, 0.4)).tones == (0.2, 0.4)


def test_dates_are_written_in_one_way() -> None:
    assert iso_date("2031-05-01", "Day") == date(2031, 5, 1)
    for other in ("20310501", "2031-W18-4", "2031-5-1", "1 May", 20310501):
        with pytest.raises(InputError, match="YYYY-MM-DD"):
            iso_date(other, "Day")  # type: ignore[arg-type]


def test_mixes_know_their_parts() -> None:
    wash = mix("wash", brown_wash=30.0, clear_medium=30.0, water=40.0)
    assert wash.total_parts == 100.0
    assert wash.parts_of("water") == 40.0
    assert wash.parts_of("red-glaze") == 0.0


def test_steps_know_their_mix_and_coat() -> None:
    by_id = {step.id: step for step in small_steps()}
    assert by_id["prime"].mix_id == "primer-pot"
    assert by_id["mud"].mix_id is None
    assert by_id["prime"].coat is None
    coat = by_id["wash"].coat
    assert coat is not None
    assert coat.wet_um == 140.0


def test_things_are_found_by_id() -> None:
    project = small_project()
    assert project.zone("hide").name == "hide"
    assert project.group("rank").count == 10
    scheme = project.scheme("first")
    assert scheme.mix("red-pot").name == "red pot"
    assert scheme.step("mud").name == "mud on the base"
    assert project.paint("off-white").name == "off white"
    assert project.paint("water") is WATER
    for missing in (
        lambda: project.zone("hidr"),
        lambda: project.group("x"),
        lambda: project.scheme("x"),
        lambda: scheme.mix("x"),
        lambda: scheme.step("x"),
    ):
        with pytest.raises(UnknownNameError):
            missing()
    with pytest.raises(PaintMissingError, match='"off-whit"'):
        project.paint("off-whit")


def test_a_paint_is_used_where_a_mix_holds_it() -> None:
    project = small_project()
    assert project.is_used("red-glaze")
    assert not replace(project, schemes=(), chosen_scheme_id="").is_used("red-glaze")


@given(projects())
def test_documents_are_values(project: Project) -> None:
    twin = replace(project)
    assert twin == project
    assert hash(twin) == hash(project)
    with pytest.raises(FrozenInstanceError):
        project.name = "other"  # type: ignore[misc]
