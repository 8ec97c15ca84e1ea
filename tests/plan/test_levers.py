from dataclasses import replace

import numpy as np
import pytest

from schemeforge import colorimetry, plan
from schemeforge.appearance import zone_tile
from schemeforge.plan import LeverKind, cuts
from schemeforge.plan.levers import Lever
from schemeforge.plan.seen_change import Seen
from schemeforge.scheme import (
    Coat,
    Group,
    Primer,
    Project,
    Scheme,
    Sitting,
    Spray,
    Step,
    Technique,
    Timing,
    Way,
    Work,
    WorkKind,
    edits,
    zone_steps,
)
from tests.builders import TIPS, coat_step, small_project
from tests.plan.batch import large_project, scheme_of, with_steps


def late() -> Project:
    """The large batch with too few hours, priorities told."""
    project = large_project()
    groups = tuple(
        replace(group, priority=n) for group, n in zip(project.groups, (3, 2, 1), strict=True)
    )
    sittings = tuple(Sitting(id=f"s{n}", minutes=180.0) for n in range(3))
    return replace(project, groups=groups, sittings=sittings)


def offered(project: Project) -> tuple[Lever, ...]:
    return plan.levers(project, scheme_of(project))


def by_key(project: Project, key: str) -> Lever:
    return next(lever for lever in offered(project) if lever.key == key)


def test_levers_come_in_the_painters_order() -> None:
    found = offered(late())
    kinds = [lever.kind for lever in found]
    assert kinds == sorted(kinds, key=list(LeverKind).index)
    assert set(kinds) == set(LeverKind) - {LeverKind.PASSES}
    assert len({lever.key for lever in found}) == len(found)


def test_never_drying_priming_or_varnish() -> None:
    project = late()
    for lever in offered(project):
        after = lever.edit(project).schemes[0]
        for before, now in ((s, _step(after, s.id)) for s in scheme_of(project).steps):
            fixed = isinstance(before.layer, Primer | Spray) or (
                isinstance(before.layer, Work)
                and before.layer.kind in {WorkKind.VARNISH, WorkKind.CLEANING, WorkKind.ASSEMBLY}
            )
            if fixed:
                assert now == before
                for group in project.groups:
                    for zone in project.zones:
                        if before in zone_steps(scheme_of(project), zone.id, group.id):
                            assert before in zone_steps(after, zone.id, group.id)
            elif now is not None:
                assert now.wait_minutes == before.wait_minutes


def _step(scheme: Scheme, step_id: str) -> Step | None:
    return next((step for step in scheme.steps if step.id == step_id), None)


def test_leaders_keep_the_full_recipe() -> None:
    project = late()
    for lever in offered(project):
        if lever.kind in {LeverKind.COAT, LeverKind.SHORT}:
            assert lever.group_id == "rank"
            after = lever.edit(project).schemes[0]
            for group_id in ("bearers", "captains"):
                for zone in project.zones:
                    full = zone_steps(scheme_of(project), zone.id, group_id)
                    assert zone_steps(after, zone.id, group_id) == full


def test_hours_saved_by_hand() -> None:
    project = late()
    # "second cloak" on 30 of the rank at 1 minute; the others still need it set up. Breaks come
    # with it: 30 minutes of work less out of the whole.
    lever = by_key(project, "coat second-cloak rank")
    assert lever.title == 'Leave "second cloak" out on rank and file'
    assert lever.saved_minutes in (pytest.approx(35.0), pytest.approx(40.0))
    calm = replace(project, habits=replace(project.habits, break_minutes=0.0))
    assert by_key(calm, "coat second-cloak rank").saved_minutes == pytest.approx(30.0)
    short = by_key(calm, "short second-hide+wash+second-cloak+edges rank".replace(
        "second-hide+wash+second-cloak+edges", "wash+second-hide+second-cloak+edges"))  # fmt: skip
    # wash 1.5, second hide 1, second cloak 1, edges 0.5: 4 minutes on 30 models.
    assert short.saved_minutes == pytest.approx(120.0)
    assert short.loses.startswith("rank and file keep undercoat, first coats and varnish, and go")


def test_a_zone_keeps_at_least_one_coat_of_colour() -> None:
    project = late()
    keys = {lever.key for lever in offered(project)}
    assert "coat mud rank" not in keys  # the only coat of the base
    assert "coat rim rank" not in keys
    assert "coat wash rank" in keys
    assert not cuts.droppable(project, scheme_of(project), "rank", frozenset({"mud"}))
    assert not cuts.droppable(project, scheme_of(project), "rank", frozenset({"clean"}))


def test_details_are_left_out_whole_where_they_have_no_zone() -> None:
    project = late()
    lever = by_key(project, "detail details ")
    assert lever.group_id == ""
    assert "details" not in {s.id for s in lever.edit(project).schemes[0].steps}
    basing = by_key(project, "detail basing rank")
    after = basing.edit(project).schemes[0]
    assert "basing" in {s.id for s in zone_steps(after, "base", "captains")}
    assert "basing" not in {s.id for s in zone_steps(after, "base", "rank")}


def test_one_pass_fewer_scales_the_painters_own_minutes() -> None:
    step = replace(coat_step("red", "red-pot", "cloak", passes=3), minutes_per_model=3.0)
    project = with_steps(step, coat_step("glaze", "red-pot", "cloak"))
    lever = by_key(project, "passes red ")
    assert lever.title == 'Lay "red" twice instead of 3 times'
    after = lever.edit(project).schemes[0].step("red")
    assert after.minutes_per_model == pytest.approx(2.0)
    assert after.coat is not None
    assert after.coat.passes == 2
    twice = by_key(lever.edit(project), "passes red ")
    assert twice.title == 'Lay "red" once instead of twice'


def test_a_quicker_technique_is_as_heavy_for_its_way_and_has_hard_ends() -> None:
    step = coat_step("tips", "red-pot", "cloak", technique=Technique.FEATHERED_GLAZE,
                     wet_um=40.0, placement=TIPS)  # fmt: skip
    edge = coat_step("edge", "white-pot", "hide", technique=Technique.EDGE_HIGHLIGHT, wet_um=18.0)
    project = with_steps(step, edge, coat_step("glaze", "red-pot", "cloak"))
    lever = by_key(project, "technique tips ")
    assert lever.title == 'Lay "tips" as a glaze instead of a feathered glaze'
    coat = lever.edit(project).schemes[0].step("tips").coat
    assert coat is not None
    assert (coat.technique, coat.wet_um) == (Technique.GLAZE, 40.0)
    assert (coat.placement.along.start, coat.placement.along.feather_start) == (0.4, 0.0)
    dry = by_key(project, "technique edge ").edit(project).schemes[0].step("edge").coat
    assert dry is not None
    assert dry.technique is Technique.DRY_BRUSH
    assert dry.wet_um == pytest.approx(8.0)
    assert "an edge highlight" in by_key(project, "technique edge ").title
    # 12 models at 1.5 minutes less (2 to 0.5), set-up stays.
    calm = replace(project, habits=replace(project.habits, break_minutes=0.0))
    assert by_key(calm, "technique edge ").saved_minutes == pytest.approx(18.0)


def test_one_group_first() -> None:
    project = late()
    lever = by_key(project, "group_first  captains")
    assert lever.sentence == (
        "Finish captains first: rank and file, bearers come after, and setting up is done more "
        "than once."
    )
    after = lever.edit(project)
    assert after.habits.way is Way.BY_GROUP
    assert {g.id: g.priority for g in after.groups} == {"captains": 1, "bearers": 2, "rank": 3}
    before = plan.schedule(project, scheme_of(project))
    bearers = by_key(project, "group_first  bearers")
    made = plan.with_lever(project, "first", bearers)
    ends = [{f.group.id: f.end for f in p.groups} for p in (before, made)]
    assert ends[0]["captains"] < ends[0]["rank"]
    assert ends[1]["bearers"] < min(ends[1]["captains"], ends[1]["rank"])


def test_nothing_that_is_done_is_cut() -> None:
    project = late()
    for group in project.groups:
        for step_id in ("second-cloak", "details"):
            timing = Timing(
                id=f"{group.id}-{step_id}", scheme_id="first", step_id=step_id,
                group_id=group.id, models=group.count, minutes=0.0,
            )  # fmt: skip
            project = edits.add_timing(project, timing)
    scheme = scheme_of(project)
    known = plan.progress(project, scheme)
    keys = {lever.key for lever in plan.levers(project, scheme, known)}
    assert not any("second-cloak" in key or "details" in key for key in keys)


def test_a_single_group_and_none_at_all() -> None:
    project = small_project()
    project = replace(project, schemes=(replace(scheme_of(project), shares=()),))
    one = replace(project, groups=(Group(id="only", name="only", count=6),))
    found = offered(one)
    assert LeverKind.GROUP_FIRST not in {lever.kind for lever in found}
    assert {lever.group_id for lever in found} <= {"", "only"}
    # Texture on one zone: with one group it is left out whole.
    assert "mud" not in {s.id for s in by_key(one, "detail mud ").edit(one).schemes[0].steps}
    assert offered(replace(project, groups=())) == ()


def test_a_group_of_its_own_stack_loses_the_step_from_it() -> None:
    project = small_project()
    after = cuts.without_steps(project, "first", "captains", frozenset({"warm"}))
    kept = after.schemes[0].share("captains", "hide")
    assert kept.step_ids == ("prime", "spray", "wash")
    # Where the group never got it nothing changes.
    assert cuts.without_steps(project, "first", "rank", frozenset({"warm"})) == project


def test_what_saves_nothing_is_not_offered() -> None:
    free = replace(coat_step("free", "red-pot", "cloak"), minutes_per_model=0.0, set_up_minutes=0.0)
    project = with_steps(coat_step("glaze", "red-pot", "cloak"), free)
    keys = {lever.key for lever in offered(project)}
    assert "coat free rank" not in keys
    assert "coat glaze rank" in keys


def test_only_coats_have_passes() -> None:
    with pytest.raises(TypeError, match="prime is no coat"):
        cuts.one_pass_fewer(small_project(), "first", "prime")


def test_every_lever_saves_what_the_plan_then_shows() -> None:
    project = late()
    before = plan.schedule(project, scheme_of(project), tries=0)
    for lever in offered(project):
        if lever.kind is not LeverKind.GROUP_FIRST:
            after = plan.with_lever(project, "first", lever)
            painting = [sum(t.minutes for t in p.job.tasks) for p in (before, after)]
            assert lever.saved_minutes > 0.0
            assert painting[1] < painting[0]


# Seen change


def test_the_seen_change_of_a_coat_is_the_mean_difference_over_what_it_covers() -> None:
    project = small_project()
    scheme = scheme_of(project)
    after = edits.remove_step(project, "first", "red")
    found = Seen(project, "first").change(after)
    # The red lies on the captains' cloak from 40 % of its length on: two models of 6 cm2, at 0,
    # 0.25, 0.5, 0.75 and 1 of the length, of which the last three are covered.
    assert found.area_cm2 == pytest.approx(2 * 6.0 * 3 / 5)
    with_it = zone_tile(project, scheme, "cloak", relief_count=9, along_count=5,
                        group_id="captains")[-1]  # fmt: skip
    without = zone_tile(after, after.schemes[0], "cloak", relief_count=9, along_count=5,
                        group_id="captains")[-1]  # fmt: skip
    delta = colorimetry.ciede2000(
        colorimetry.lab_from_xyz(with_it.xyz), colorimetry.lab_from_xyz(without.xyz)
    )
    assert found.delta_e == pytest.approx(float(np.mean(delta[:, 2:])))
    assert found.delta_e > 1.0


def test_no_change_and_changes_without_colour_are_not_seen() -> None:
    project = small_project()
    eye = Seen(project, "first")
    assert (eye.change(project).delta_e, eye.change(project).area_cm2) == (0.0, 0.0)
    assert eye.change(edits.remove_step(project, "first", "mud")).area_cm2 == 0.0
    empty = replace(project, groups=tuple(replace(g, count=0) for g in project.groups))
    assert Seen(empty, "first").change(edits.remove_step(empty, "first", "red")).area_cm2 == 0.0


def test_a_change_of_the_undercoat_is_seen_all_over() -> None:
    project = small_project()
    white = Spray(mix_id="white-pot", peak_um=80.0)
    after = edits.set_layer(project, "first", "spray", white)
    found = Seen(project, "first").change(after)
    size = project.size
    assert found.area_cm2 == pytest.approx(12 * (0.5 * size.body_cm2 + 6.0))


def test_a_coat_of_no_film_is_not_seen() -> None:
    step = coat_step("nothing", "red-pot", "cloak", wet_um=0.0)
    project = with_steps(*scheme_of(small_project()).steps[:2], step)
    after = edits.remove_step(project, "first", "nothing")
    assert Seen(project, "first").change(after).area_cm2 == 0.0


def test_coats_are_ranked_by_least_seen_change_an_hour() -> None:
    project = late()
    scheme = scheme_of(project)
    first = plan.levers(project, scheme)
    seen = plan.seen_by_lever(project, scheme, first)
    ranked = [
        lever for lever in plan.levers(project, scheme, seen=seen) if lever.kind is LeverKind.COAT
    ]
    rates = [lever.seen_per_hour for lever in ranked]
    assert all(rate is not None for rate in rates)
    assert rates == sorted(rates, key=lambda rate: rate or 0.0)
    top = ranked[0]
    assert top.seen is not None
    assert top.seen_per_hour == pytest.approx(top.seen.delta_e / (top.saved_minutes / 60.0))
    assert f"dE {top.seen.delta_e:.1f} where it lay." in top.sentence
    assert "detail details " not in seen
    assert next(x for x in first if x.kind is LeverKind.COAT).seen_per_hour is None
    assert "saves" in first[-1].sentence


def test_every_coat_that_is_faster_exists() -> None:
    assert all(isinstance(t, Technique) for pair in cuts.FASTER.items() for t in pair)
    assert Coat(mix_id="m", technique=Technique.GLAZE).technique not in cuts.FASTER
