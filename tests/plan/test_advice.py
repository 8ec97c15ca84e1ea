from dataclasses import replace

from schemeforge import plan
from schemeforge.plan.advice import Trial
from schemeforge.scheme import Group, Sitting
from tests.plan.batch import large_project, scheme_of


def trial(models: int, lost: float, *, end: float = 600.0, is_late: bool = False) -> Trial:
    return Trial(models=models, end=end, lost=lost, is_late=is_late)


def test_sizes_are_tried_and_the_best_is_named() -> None:
    project = replace(
        large_project(), sittings=tuple(Sitting(id=f"s{n}", minutes=240.0) for n in range(6))
    )
    tried = plan.trials(project, scheme_of(project))
    assert [t.models for t in tried] == [3, 4, 5, 6, 8, 10, 15, 30]
    best = plan.best_trial(tried)
    assert all(best.is_late <= t.is_late for t in tried)
    # A trial is the plan made with that size.
    six = next(t for t in tried if t.models == 6)
    made = plan.schedule(project, scheme_of(project), sub_batch=6, tries=0)
    assert six.end == made.end
    assert six.lost > 0.0


def test_the_painters_own_size_is_always_tried_and_large_batches_try_fewer() -> None:
    project = large_project()
    habits = replace(project.habits, sub_batch=7)
    groups = (Group(id="rank", name="rank", count=400),)
    project = replace(
        project, groups=groups, habits=habits, schemes=(replace(scheme_of(project), shares=()),)
    )
    sizes = [t.models for t in plan.trials(project, scheme_of(project))]
    assert sizes == [5, 6, 7, 8, 10, 15, 400]


def test_what_is_advised() -> None:
    assert plan.sub_batch_words((), 6) == ""
    same = (trial(6, 100.0), trial(10, 98.0))
    assert plan.sub_batch_words(same, 6) == (
        "6 models at a time lose 100 min, as little as any size tried."
    )
    better = (trial(6, 200.0), trial(10, 150.0))
    assert plan.sub_batch_words(better, 6) == (
        "10 models at a time instead of 6 lose 2.5 h instead of 3.3 h."
    )
    saved = (trial(6, 100.0, is_late=True), trial(10, 99.0))
    assert plan.sub_batch_words(saved, 5).endswith("and the batch is in time.")


def test_zones_in_the_order_of_the_plan() -> None:
    project = large_project()
    made = plan.schedule(project, scheme_of(project))
    order = plan.zone_order(project, made)
    assert set(order) == {"hide", "plates", "cloak", "blade", "base", "rim"}
    assert order == plan.zone_order(project, made)
