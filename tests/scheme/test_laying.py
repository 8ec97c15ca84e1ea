"""Recipes laid on a zone: what comes, what goes, and who gets it."""

from dataclasses import replace

import pytest

from schemeforge.errors import UnknownNameError
from schemeforge.scheme import (
    Coat,
    Ingredient,
    Placement,
    Project,
    Share,
    ShareKind,
    Spray,
    Technique,
    coloured_steps,
    edits,
)
from tests.builders import small_project


def coat(name: str, paint_id: str = "ochre") -> edits.NewCoat:
    return edits.NewCoat(
        name=name,
        ingredients=(Ingredient(paint_id=paint_id, parts=2.0),),
        technique=Technique.GLAZE,
        wet_um=25.0,
        passes=2,
        placement=Placement(),
    )


@pytest.fixture
def project() -> Project:
    return small_project()


def stack(project: Project, zone_id: str) -> list[str]:
    return [step.id for step in coloured_steps(project.schemes[0], zone_id)]


def first_paint(project: Project) -> str:
    return next(p.id for p in project.paints if not p.kind.is_clear)


def test_new_coats_lie_on_top_in_their_order(project: Project) -> None:
    zone, paint = project.zones[0].id, first_paint(project)
    before = stack(project, zone)
    coats = [coat("ground tone", paint), coat("upper tone", paint)]
    new, laid = edits.lay_coats(project, project.schemes[0].id, zone, coats)
    assert stack(new, zone) == [*before, *laid]
    scheme = new.schemes[0]
    names = [scheme.step(step_id).name for step_id in laid]
    assert names == ["ground tone glaze", "upper tone glaze"]
    layer = scheme.step(laid[1]).coat
    assert isinstance(layer, Coat)
    assert (layer.wet_um, layer.passes) == (25.0, 2)
    assert scheme.mix(layer.mix_id).ingredients == coats[1].ingredients
    for other in project.zones[1:]:
        assert stack(new, other.id) == stack(project, other.id)


def test_a_coat_of_this_zone_alone_keeps_its_step(project: Project) -> None:
    scheme, paint = project.schemes[0], first_paint(project)
    zone = project.zones[0].id
    own, laid = edits.lay_coats(project, scheme.id, zone, [coat("own", paint)])
    timed = replace(own.schemes[0].step(laid[0]), minutes_per_model=7.0, note="mine")
    own = edits.update_step(own, scheme.id, timed)
    new, again = edits.lay_coats(
        own, scheme.id, zone, [coat("other", paint), coat("third", paint)], instead_of=laid
    )
    kept = new.schemes[0].step(again[0])
    assert again[0] == laid[0]
    assert (kept.name, kept.minutes_per_model, kept.note) == ("own glaze", 7.0, "mine")
    assert new.schemes[0].mix(kept.mix_id or "").name == "other"
    assert "own" not in {mix.name for mix in new.schemes[0].mixes}
    assert stack(new, zone)[-2:] == list(again)


def test_a_coat_of_several_zones_only_leaves_this_one(project: Project) -> None:
    scheme, paint = project.schemes[0], first_paint(project)
    zone, other = project.zones[0].id, project.zones[1].id
    wide, laid = edits.lay_coats(project, scheme.id, zone, [coat("wide", paint)])
    wide = edits.set_zones(wide, scheme.id, laid[0], (zone, other))
    new, again = edits.lay_coats(wide, scheme.id, zone, [coat("own", paint)], instead_of=laid)
    assert again != laid
    assert laid[0] in stack(new, other)
    assert again[0] in stack(new, zone)
    assert again[0] not in stack(new, other)
    assert laid[0] not in stack(new, zone)


def test_the_new_coats_lie_where_the_lowest_that_went_lay(project: Project) -> None:
    scheme, paint = project.schemes[0], first_paint(project)
    zone = project.zones[0].id
    coats = [coat(name, paint) for name in ("one", "two", "three")]
    three, laid = edits.lay_coats(project, scheme.id, zone, coats)
    new, again = edits.lay_coats(
        three, scheme.id, zone, [coat("single", paint)], instead_of=laid[:2]
    )
    assert stack(new, zone)[-2:] == [again[0], laid[2]]


@pytest.mark.parametrize("kind", [ShareKind.SHORT, ShareKind.OWN])
def test_who_had_or_missed_the_old_coats_has_or_misses_the_new(
    project: Project, kind: ShareKind
) -> None:
    scheme, paint = project.schemes[0], first_paint(project)
    zone, other, group = project.zones[0].id, project.zones[1].id, project.groups[0].id
    wide, laid = edits.lay_coats(project, scheme.id, zone, [coat("wide", paint)])
    wide = edits.set_zones(wide, scheme.id, laid[0], (zone, other))
    share = Share(group_id=group, zone_id=zone, kind=kind, step_ids=laid)
    wide = edits.set_share(wide, scheme.id, share)
    new, again = edits.lay_coats(
        wide, scheme.id, zone, [coat("a", paint), coat("b", paint)], instead_of=laid
    )
    assert new.schemes[0].share(group, zone).step_ids == again


def test_a_zone_that_is_not_there_is_refused(project: Project) -> None:
    with pytest.raises(UnknownNameError):
        edits.lay_coats(project, project.schemes[0].id, "nowhere", [coat("a")])


def test_a_brush_takes_the_place_of_the_spray(project: Project) -> None:
    scheme = project.schemes[0]
    spray = next(step for step in scheme.steps if isinstance(step.layer, Spray))
    mix = scheme.mix(spray.mix_id or "")
    layer = coat("x").layer(mix.id)
    same = edits.brush_instead(project, scheme.id, spray.id, layer, mix)
    assert same.schemes[0].step(spray.id).coat == layer
    assert same.schemes[0].mixes == scheme.mixes
    neat = replace(mix, name="neat", ingredients=mix.ingredients[:1], note="kept")
    if neat.ingredients == mix.ingredients:
        neat = replace(neat, ingredients=(replace(mix.ingredients[0], parts=99.0),))
    new = edits.brush_instead(project, scheme.id, spray.id, layer, neat)
    step = new.schemes[0].step(spray.id)
    assert step.zone_ids == spray.zone_ids
    assert new.schemes[0].mix(step.mix_id or "").ingredients == neat.ingredients
