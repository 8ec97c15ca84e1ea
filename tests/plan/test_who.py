from dataclasses import replace

import pytest

from schemeforge import plan
from schemeforge.scheme import (
    Group,
    Project,
    Share,
    ShareKind,
    WorkKind,
    groups_getting,
    models_getting,
)
from tests.builders import small_project
from tests.plan.batch import large_project, scheme_of, with_steps, work


@pytest.mark.parametrize("project", [small_project(), large_project()])
def test_grid_agrees_with_the_document(project: Project) -> None:
    scheme = scheme_of(project)
    cells = plan.grid(project, scheme)
    for step in scheme.steps:
        for zone_id in step.zone_ids:
            found = sum(c.group.count for c in cells[step.id] if c.zone.id == zone_id)
            assert found == models_getting(project, scheme, step, zone_id)
        receiving = plan.receivers(project, step.zone_ids, cells[step.id])
        assert tuple(r.group_id for r in receiving) == groups_getting(project, scheme, step)


def test_groups_without_models_receive_nothing() -> None:
    project = small_project()
    empty = replace(project, groups=(*project.groups, Group(id="later", name="later", count=0)))
    for step in plan.planned_steps(empty, scheme_of(empty)):
        cells = plan.grid(empty, scheme_of(empty))[step.step.id]
        assert "later" not in {cell.group.id for cell in cells}
        assert "later" not in {receiver.group_id for receiver in step.receivers}
    assert plan.planned_steps(empty, scheme_of(empty))[2].who == "all"


def test_who_in_words() -> None:
    project = small_project()
    who = {step.step.id: step.who for step in plan.planned_steps(project, scheme_of(project))}
    assert who == {
        "prime": "all",
        "spray": "all",
        "wash": "all",
        "red": "captains 2",
        "warm": "captains 2",
        "mud": "all",
    }


def test_a_group_that_gets_a_step_on_some_zones_is_told_with_those_zones() -> None:
    project = small_project()
    share = Share(group_id="rank", zone_id="hide", kind=ShareKind.NONE)
    scheme = replace(scheme_of(project), shares=(share,))
    steps = plan.planned_steps(replace(project, schemes=(scheme,)), scheme)
    assert steps[0].who == "rank and file 10 (cloak and base only), captains 2"
    assert [receiver.everywhere for receiver in steps[0].receivers] == [False, True]


def test_nobody() -> None:
    project = small_project()
    alone = replace(project, groups=tuple(replace(g, count=0) for g in project.groups))
    assert {step.who for step in plan.planned_steps(alone, scheme_of(alone))} == {"nobody"}


def test_work_on_the_whole_model_goes_to_every_group_whatever_the_grid_says() -> None:
    none = tuple(
        Share(group_id="rank", zone_id=zone, kind=ShareKind.NONE)
        for zone in ("hide", "cloak", "base")
    )
    project = with_steps(work("clean", WorkKind.CLEANING), shares=none)
    (step,) = plan.planned_steps(project, scheme_of(project))
    assert (step.who, step.models, step.zones) == ("all", 12, ())
