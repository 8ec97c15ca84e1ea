"""Zones of any project find their parts."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schemeforge.scheme import AreaBasis, Facing, Project, Surfacing, Zone
from schemeforge.stand_in import WARDEN, Slot, model, model_names, zones_worn
from tests.builders import small_project


def of(*zones: Zone) -> Project:
    """A project of those zones only."""
    return replace(small_project(), zones=zones, schemes=(), chosen_scheme_id="", groups=())


def by_slot(project: Project) -> dict[Slot, set[str]]:
    """Ids of the zones on the warden's parts by what these stand for."""
    found: dict[Slot, set[str]] = {}
    for part, index in zip(WARDEN.parts, zones_worn(project, WARDEN.parts), strict=True):
        found.setdefault(part.slot, set()).add(project.zones[index].id)
    return found


def test_the_demo_wears_its_own_zones(demo: Project) -> None:
    assert by_slot(demo) == {slot: {slot.value} for slot in Slot}


def test_names_in_other_words_and_any_order() -> None:
    zones = (
        Zone(id="z1", name="edge of the base", area_basis=AreaBasis.RIM),
        Zone(id="z2", name="robes", area_cm2=7.0),
        Zone(id="z3", name="green skin", area_cm2=7.0),
        Zone(id="z4", name="sand", area_basis=AreaBasis.BASE_TOP),
        Zone(id="z5", name="steel", area_cm2=5.0),
        Zone(id="z6", name="gems", area_cm2=1.0),
    )
    wanted = dict(zip(Slot, ({n} for n in ("z3", "z5", "z2", "z6", "z4", "z1")), strict=True))
    assert by_slot(of(*zones)) == wanted
    assert by_slot(of(*reversed(zones))) == wanted


def test_names_that_say_nothing_go_by_kind() -> None:
    found = by_slot(
        of(
            Zone(id="a", name="first", surfacing=Surfacing.FLAT, area_cm2=5.5),
            Zone(id="b", name="second", surfacing=Surfacing.FOLDED, facing=Facing.SIDE),
            Zone(id="c", name="third", surfacing=Surfacing.TEXTURED, area_cm2=8.0),
        )
    )
    assert (found[Slot.PLATES], found[Slot.CLOAK], found[Slot.HIDE]) == ({"a"}, {"b"}, {"c"})


def test_few_zones_cover_the_whole_model() -> None:
    assert set(zones_worn(of(Zone(id="a", name="all")), WARDEN.parts)) == {0}
    assert zones_worn(of(), WARDEN.parts) == (-1,) * len(WARDEN.parts)
    rim = Zone(id="r", name="rim", area_basis=AreaBasis.RIM)
    assert set(zones_worn(of(rim), model("sphere").parts)) == {0}


def test_more_zones_than_slots_take_single_parts(demo: Project) -> None:
    extra = (
        Zone(id="bill", name="bill", area_cm2=0.5),
        Zone(id="staff", name="wooden staff", area_cm2=2.0),
        Zone(id="belt", name="belt", area_cm2=0.5),
    )
    project = of(*(replace(z, touches=()) for z in demo.zones), *extra)
    worn = dict(zip([p.name for p in WARDEN.parts], zones_worn(project, WARDEN.parts), strict=True))
    ids = [zone.id for zone in project.zones]
    for name in ("bill", "staff", "belt"):
        assert ids[worn[name]] == name
    assert {ids[n] for n in worn.values()} == set(ids)


ZONES = st.lists(
    st.builds(
        Zone,
        id=st.uuids().map(str),
        name=st.text("abcdehilmnoprst ", min_size=1, max_size=12).filter(lambda t: bool(t.strip())),
        area_basis=st.sampled_from(AreaBasis),
        area_cm2=st.floats(0.1, 40.0),
        surfacing=st.sampled_from(Surfacing),
        facing=st.sampled_from(Facing),
    ),
    min_size=1,
    max_size=30,
    unique_by=lambda zone: zone.id,
)


@settings(max_examples=40, deadline=None)
@given(zones=ZONES)
@pytest.mark.parametrize("name", model_names())
def test_every_part_wears_a_zone_whatever_the_project(name: str, zones: list[Zone]) -> None:
    project = of(*zones)
    parts = model(name).parts
    worn = zones_worn(project, parts)
    assert len(worn) == len(parts)
    assert all(0 <= n < len(zones) for n in worn)
    assert worn == zones_worn(project, parts)
