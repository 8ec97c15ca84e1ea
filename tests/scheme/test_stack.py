"""Who gets what, by the rules of the grid: full, short, own stack, none."""

from dataclasses import replace

import pytest
from hypothesis import given

from schemeforge.scheme.candidate import Scheme, Share, ShareKind
from schemeforge.scheme.project import Project
from schemeforge.scheme.stack import coloured_steps, groups_getting, models_getting, zone_steps
from schemeforge.scheme.steps import Step, Work, WorkKind
from tests.builders import small_project, small_scheme
from tests.scheme.strategies import projects


def ids(steps: tuple[Step, ...]) -> list[str]:
    return [step.id for step in steps]


def with_share(kind: ShareKind, *step_ids: str) -> Scheme:
    """The small scheme in which the rank's hide is the only cell that is told."""
    share = Share(group_id="rank", zone_id="hide", kind=kind, step_ids=step_ids)
    return replace(small_scheme(), shares=(share,))


@pytest.mark.parametrize(
    ("kind", "named", "expected"),
    [
        (ShareKind.FULL, (), ["prime", "spray", "wash"]),
        (ShareKind.SHORT, ("wash",), ["prime", "spray"]),
        (ShareKind.SHORT, (), ["prime", "spray", "wash"]),
        # its own stack takes what it names, in painting order, by-name steps included
        (ShareKind.OWN, ("warm", "prime"), ["prime", "warm"]),
        (ShareKind.OWN, (), []),
        (ShareKind.NONE, (), []),
        (ShareKind.NONE, ("wash",), []),
    ],
)
def test_each_kind_of_share(kind: ShareKind, named: tuple[str, ...], expected: list[str]) -> None:
    scheme = with_share(kind, *named)
    assert ids(zone_steps(scheme, "hide", "rank")) == expected
    # another group, and no group, get the full recipe without what is by name only
    assert ids(zone_steps(scheme, "hide", "captains")) == ["prime", "spray", "wash"]
    assert ids(zone_steps(scheme, "hide")) == ["prime", "spray", "wash"]


def test_an_own_stack_cannot_name_what_does_not_touch_the_zone() -> None:
    assert ids(zone_steps(with_share(ShareKind.OWN, "red", "wash"), "hide", "rank")) == ["wash"]


def test_a_cell_that_is_not_listed_is_full() -> None:
    share = small_scheme().share("rank", "base")
    assert (share.kind, share.step_ids) == (ShareKind.FULL, ())


def test_work_has_no_colour() -> None:
    scheme = small_scheme()
    assert ids(zone_steps(scheme, "base", "rank")) == ["prime", "mud"]
    assert ids(coloured_steps(scheme, "base", "rank")) == ["prime"]


def test_models_are_counted_by_group() -> None:
    project = small_project()
    scheme = project.schemes[0]
    counts = {
        (step.id, zone): models_getting(project, scheme, step, zone)
        for step in scheme.steps
        for zone in ("hide", "cloak", "base")
    }
    assert counts["prime", "hide"] == 12
    assert counts["red", "cloak"] == 2  # the rank goes without
    assert counts["red", "hide"] == 0  # it does not touch that zone
    assert counts["warm", "hide"] == 2  # the captains' own stack names it
    assert counts["mud", "base"] == 12


def test_groups_that_get_a_step() -> None:
    project = small_project()
    scheme = project.schemes[0]
    by_step = {step.id: groups_getting(project, scheme, step) for step in scheme.steps}
    assert by_step == {
        "prime": ("rank", "captains"),
        "spray": ("rank", "captains"),
        "wash": ("rank", "captains"),
        "red": ("captains",),
        "warm": ("captains",),
        "mud": ("rank", "captains"),
    }


def test_work_on_the_whole_model_is_for_every_group() -> None:
    project = small_project()
    clean = Step(id="clean", name="clean", layer=Work(kind=WorkKind.CLEANING))
    scheme = replace(project.schemes[0], steps=(clean, *project.schemes[0].steps))
    assert groups_getting(project, scheme, clean) == ("rank", "captains")


@given(projects())
def test_stacks_keep_the_painting_order_and_touch_the_zone(project: Project) -> None:
    for scheme in project.schemes:
        for zone in project.zones:
            for group in (None, *(g.id for g in project.groups)):
                got = zone_steps(scheme, zone.id, group)
                places = [scheme.steps.index(step) for step in got]
                assert places == sorted(places)
                assert all(zone.id in step.zone_ids for step in got)
                coloured = coloured_steps(scheme, zone.id, group)
                assert not any(isinstance(step.layer, Work) for step in coloured)
