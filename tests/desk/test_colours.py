"""The colour book: what it keeps is what the engine says now, whatever was edited before."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schemeforge.appearance import zone_stages
from schemeforge.desk import Direction
from schemeforge.desk import colours as colours_module
from schemeforge.desk.colours import ColourBook, ZoneView, bytes_of, cut_points
from schemeforge.desk.cutaway import cut_bands
from schemeforge.errors import SchemeForgeError
from schemeforge.paint import Paint
from schemeforge.scheme import Coat, Finish, Project, Share, ShareKind, Spray, UserLight, edits
from tests.builders import red_glaze, small_project
from tests.scheme.strategies import PLACEMENTS, SPRAYS

COUNT = 9
Edit = Callable[[Project], Project]


def look(book: ColourBook, project: Project, zone_id: str, group_id: str | None = None) -> ZoneView:
    scheme, zone = project.schemes[0], project.zone(zone_id)
    return book.zone(project, scheme, zone, project.viewing, count=COUNT, group_id=group_id)


def engine(project: Project, zone_id: str, group_id: str | None = None) -> np.ndarray:
    """The oracle: the engine asked anew."""
    zone = project.zone(zone_id)
    points = cut_points(zone, Direction.RELIEF, 0.5, COUNT)
    stages = zone_stages(project, project.schemes[0], zone_id, points, project.viewing, group_id)
    return np.stack([stage.xyz for stage in stages])


def view_edits() -> st.SearchStrategy[Edit]:
    def change(finish: Finish, light: str, observer: int, wet: bool) -> Edit:
        def edit(project: Project) -> Project:
            viewing = replace(
                project.viewing, finish=finish, light=light, observer=observer, wet=wet
            )
            return edits.set_viewing(project, viewing)

        return edit

    return st.builds(
        change,
        st.sampled_from(Finish),
        st.sampled_from(["D65", "A", "lamp"]),
        st.sampled_from([2, 10]),
        st.booleans(),
    )


def lamp(slope: float) -> Edit:
    power = tuple(1.0 + slope * n for n in range(36))
    waves = tuple(380.0 + 10.0 * n for n in range(36))
    return lambda p: edits.add_light(p, UserLight(name="lamp", wavelengths_nm=waves, power=power))


def weigh(wet_um: float) -> Edit:
    return lambda p: edits.set_coat(p, "first", "wash", wet_um=wet_um)


def place(placement: object) -> Edit:
    return lambda p: edits.set_coat(p, "first", "red", placement=placement)  # type: ignore[arg-type]


def spray(layer: Spray) -> Edit:
    return lambda p: edits.set_layer(p, "first", "spray", layer)


def parts(value: float) -> Edit:
    return lambda p: edits.set_parts(p, "first", "red-pot", "red-glaze", value)


def stronger(factor: float) -> Edit:
    glaze = red_glaze()
    paint: Paint = replace(glaze, absorption=tuple(K * factor for K in glaze.absorption))
    return lambda p: edits.put_paint(p, paint)


def reshape(low: float, high: float) -> Edit:
    def edit(project: Project) -> Project:
        zone = project.zone("cloak")
        return edits.update_zone(
            project, replace(zone, tone_range=(min(low, high), max(low, high)))
        )

    return edit


def share(kind: ShareKind) -> Edit:
    return lambda p: edits.set_share(
        p, "first", Share(group_id="rank", zone_id="cloak", kind=kind, step_ids=("wash",))
    )


UNIT = st.floats(0.0, 1.0)
OTHERS: list[Edit] = [
    lambda p: edits.move_in_zone(p, "first", "wash", "cloak", 1),
    lambda p: edits.duplicate_step(p, "first", "wash"),
    lambda p: edits.rename_project(p, p.name + "."),
    lambda p: edits.rename_mix(p, "first", "red-pot", "another name"),
    lambda p: edits.own_pot(p, "first", "warm"),
    lambda p: edits.set_zones(p, "first", "wash", ("hide",)),
    lambda p: edits.set_zones(p, "first", "wash", ("hide", "cloak")),
    lambda p: edits.remove_step(p, "first", p.schemes[0].steps[-2].id),
]
EDITS = st.one_of(
    view_edits(),
    st.floats(0.0, 0.2).map(lamp),
    st.floats(0.0, 300.0).map(weigh),
    PLACEMENTS.map(place),
    SPRAYS.map(spray),
    st.floats(0.1, 5.0).map(parts),
    st.floats(0.1, 5.0).map(stronger),
    st.builds(reshape, UNIT, UNIT),
    st.sampled_from(ShareKind).map(share),
    st.sampled_from(OTHERS),
)


@given(st.lists(EDITS, max_size=8))
@settings(max_examples=60, deadline=None)
def test_never_stale_after_any_edits(changes: list[Edit]) -> None:
    book, project = ColourBook(), lamp(0.0)(small_project())
    history = [project]
    for change in changes:
        try:
            project = change(project)
        except SchemeForgeError:
            continue
        history.append(project)
        for zone_id, group_id in (("cloak", None), ("cloak", "rank"), ("hide", "captains")):
            view = look(book, project, zone_id, group_id)
            np.testing.assert_array_equal(view.xyz, engine(project, zone_id, group_id))
    for earlier in history:  # as undo would show it again
        np.testing.assert_array_equal(look(book, earlier, "cloak").xyz, engine(earlier, "cloak"))


def test_what_an_edit_did_not_touch_is_found_again() -> None:
    book, project = ColourBook(), small_project()
    hide, cloak = look(book, project, "hide"), look(book, project, "cloak")
    after = edits.set_coat(project, "first", "red", wet_um=50.0)
    assert look(book, after, "hide") is hide
    assert look(book, after, "cloak") is not cloak
    assert look(book, project, "cloak") is cloak


def test_a_view_tells_zone_steps_and_finish() -> None:
    project = small_project()
    view = look(ColourBook(), project, "cloak")
    assert view.zone is project.zone("cloak")
    assert [step.id for step in view.steps] == ["prime", "spray", "wash", "red"]
    assert view.xyz.shape == (4, COUNT, 3)
    np.testing.assert_array_equal(view.final, view.xyz[-1])
    bare = replace(project, schemes=(replace(project.schemes[0], steps=(), shares=(), mixes=()),))
    empty = look(ColourBook(), bare, "cloak")
    assert empty.steps == ()
    assert empty.xyz.shape == (1, COUNT, 3)


@pytest.mark.parametrize("direction", Direction)
def test_cuts_run_from_end_to_end(direction: Direction) -> None:
    zone = small_project().zone("cloak")
    points = cut_points(zone, direction, 0.25, 5)
    low, high = zone.tones
    if direction is Direction.RELIEF:
        np.testing.assert_allclose(points.tone, np.linspace(low, high, 5))
        np.testing.assert_allclose(points.relief, np.linspace(0, 1, 5))
        np.testing.assert_allclose(points.along, 0.25)
    else:
        np.testing.assert_allclose(points.along, np.linspace(0, 1, 5))
        np.testing.assert_allclose(points.relief, 0.25)
        np.testing.assert_allclose(points.tone, low + 0.25 * (high - low))


def test_cuts_differ_by_direction_place_and_count() -> None:
    book, project = ColourBook(), small_project()
    scheme, zone, viewing = project.schemes[0], project.zone("cloak"), project.viewing

    def cut(direction: Direction, across: float, count: int) -> ZoneView:
        return book.zone(
            project, scheme, zone, viewing, direction=direction, across=across, count=count
        )

    views = [
        cut(direction, across, count)
        for direction in Direction
        for across in (0.2, 0.9)
        for count in (5, 7)
    ]
    assert len({id(view) for view in views}) == 8
    assert cut(Direction.ALONG, 0.9, 7) is views[-1]


def test_the_oldest_are_given_up_and_worked_out_again(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(colours_module, "_MOST_KEPT", 2)
    book, worked = ColourBook(), list[str]()
    one, two, three = object(), object(), object()

    def ask(name: str, thing: object) -> str:
        def compute() -> str:
            worked.append(name)
            return name

        return book.keep(("kind",), (thing,), compute)

    for name, thing in (("1", one), ("2", two), ("1", one), ("3", three), ("1", one), ("2", two)):
        assert ask(name, thing) == name
    assert worked == ["1", "2", "3", "2"]


def test_no_more_memory_is_held_than_allowed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(colours_module, "_MOST_BYTES", 10_000)
    book, things = ColourBook(), [object() for _ in range(6)]
    made: list[int] = []

    def ask(number: int, size: int) -> np.ndarray:
        def compute() -> np.ndarray:
            made.append(number)
            return np.zeros(size, np.uint8)[:1]

        return book.keep(("kind",), (things[number],), compute)

    for number in range(5):
        ask(number, 3_000)
    ask(4, 3_000)
    ask(2, 3_000)
    assert made == [0, 1, 2, 3, 4]
    ask(0, 3_000)
    assert made == [0, 1, 2, 3, 4, 0]
    ask(5, 50_000)  # larger than all that is allowed: kept alone, and only until the next
    ask(5, 50_000)
    ask(1, 3_000)
    ask(5, 50_000)
    assert made[6:] == [5, 1, 5]


def test_memory_is_that_of_whole_arrays() -> None:
    whole = np.zeros((10, 100))
    assert bytes_of(whole) == bytes_of(whole[3]) == bytes_of(whole.T[:5]) == 8000
    assert bytes_of((whole, [whole, "words"])) == 16_000
    view = look(ColourBook(), small_project(), "cloak")
    assert bytes_of(view) == view.xyz.nbytes
    project = small_project()
    bands = cut_bands(
        project,
        project.schemes[0],
        project.zone("cloak"),
        project.viewing,
        Direction.RELIEF,
        0.5,
    )
    assert bytes_of(bands) >= sum(band.dry_um.nbytes for band in bands)


def test_a_result_of_none_is_kept_like_any_other() -> None:
    book, asked = ColourBook(), list[int]()
    thing = object()
    for _ in range(3):
        assert book.keep((), (thing,), lambda: asked.append(1)) is None
    assert asked == [1]


def test_a_coat_is_what_the_edits_above_change() -> None:
    """Guards the oracle: the edits do change colours."""
    project = small_project()
    assert isinstance(project.schemes[0].steps[2].layer, Coat)
    before = engine(project, "cloak")
    for change in (weigh(20.0), parts(4.0), stronger(3.0), reshape(0.1, 0.4)):
        assert np.max(np.abs(engine(change(project), "cloak") - before)) > 1e-3
