"""What the page opens on, and the sections that follow from the plan: cuts, sizes, pots."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from pytestqt.qtbot import QtBot

from schemeforge import plan
from schemeforge.desk import Surround
from schemeforge.export.facts import gather
from schemeforge.export.options import SheetOptions
from schemeforge.gui.batch.page import BatchPage
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.main_window import MainWindow
from schemeforge.plan import LeverKind
from schemeforge.scheme import PotUse, Project, ShareKind, Sitting, Timing, Way, edits
from tests.gui.batch.driving import choose, click
from tests.gui.batch.test_time_line import planned
from tests.plan.batch import large_project


def timed(step: str, group: str, models: int, days_ago: float) -> Timing:
    at = datetime.now().astimezone() - timedelta(days=days_ago)
    return Timing(
        id=f"t-{step}-{group}",
        scheme_id="first",
        step_id=step,
        group_id=group,
        models=models,
        minutes=models * 1.0,
        at=at.isoformat(timespec="seconds"),
    )


def test_the_page_opens_on_four_answers(qtbot: QtBot, page: BatchPage, bridge: Bridge) -> None:
    made = planned(qtbot, page)
    now = page.now
    assert page.area.verticalScrollBar().value() == 0
    assert made.standing.do_now is not None
    assert made.standing.do_now_words.startswith(now.now.text())
    assert "Spraying:" in now.care.text()
    assert [label.text() for label in now.next if label.isVisible()] == [
        todo.sentence for todo in made.standing.next[:3]
    ]
    assert now.drying.text() == "Nothing is drying."
    assert now.answer.text() == "No: 111 min of work too much"
    assert now.finish.text() == made.schedule.sentence
    assert "chance that all is in time" in now.chance.text()
    assert "Captains: " in now.groups.text()
    assert "Chance" in now.groups.text()
    assert now.stood_card.isHidden()
    click(now.begin)
    target = page.keeper.state.target
    assert target is not None
    assert target.step_id == made.standing.do_now.step.id
    assert page.keeper.state.running
    del bridge


def test_what_dries_is_told_with_its_zones(qtbot: QtBot, page: BatchPage, bridge: Bridge) -> None:
    bridge.edit("x", lambda p: edits.put_timings(p, [timed("prime", "rank", 10, 0.01)]))
    made = planned(qtbot, page)
    assert len(made.standing.drying) == 1
    assert page.now.drying.text().startswith("prime on rank and file (hide, cloak, base): ")


def test_after_months_it_says_where_the_work_stood(
    qtbot: QtBot, page: BatchPage, bridge: Bridge
) -> None:
    def worked(project: Project) -> Project:
        project = edits.put_timings(
            project,
            [
                timed("prime", "rank", 10, 92),
                timed("prime", "captains", 2, 92),
                timed("spray", "rank", 4, 91),
            ],
        )
        use = PotUse(
            id="u", scheme_id="first", mix_id="white-pot", models=6, mixed_ml=9.0, left_ml=4.0
        )
        return edits.put_pot_use(project, use)

    bridge.edit("worked", worked)
    made = planned(qtbot, page)
    assert page.now.stood_card.isVisible()
    assert page.now.stood.text() == made.standing.stood
    assert "91 days ago" in page.now.stood.text()
    assert "prime on all" in page.now.stood.text()
    assert "Pots mixed then: A (primer pot), B (white pot)" in page.now.stood.text()
    left = page.now.left.text()
    assert left.startswith("Left: ")
    assert "12 models" in left
    assert "Pot B, white pot: " in left
    bridge.edit("more", lambda p: edits.add_sitting(p, Sitting(id="more", minutes=240.0)))
    planned(qtbot, page)
    assert page.now.answer.text() == "Yes, as planned"


@pytest.fixture
def late(qtbot: QtBot, page: BatchPage, bridge: Bridge) -> BatchPage:
    """A batch of 36 models and two evenings: far too little time."""
    sittings = tuple(Sitting(id=f"s{n}", minutes=120.0) for n in (1, 2))
    bridge.session.begin(replace(large_project(), sittings=sittings))
    planned(qtbot, page)
    qtbot.waitUntil(lambda: bool(page.cut.levers), timeout=60_000)
    return page


def test_levers_stand_in_the_order_of_painters_with_what_they_cost(
    late: BatchPage, bridge: Bridge
) -> None:
    made = late.planner.latest
    assert made is not None
    assert late.now.answer.text().startswith("No: ")
    offered = plan.levers(made.project, made.scheme, made.progress)
    seen = plan.seen_by_lever(made.project, made.scheme, offered)
    wanted = plan.levers(made.project, made.scheme, made.progress, seen=seen)
    assert [lever.key for lever in late.cut.levers] == [lever.key for lever in wanted]
    kinds = [list(LeverKind).index(lever.kind) for lever in late.cut.levers]
    assert kinds == sorted(kinds)
    assert "ways, up to" in late.cut.heading.text()
    coat = next(lever for lever in late.cut.levers if lever.kind is LeverKind.COAT)
    assert "an hour" in late.cut.seen_words(coat)
    assert "dE" not in late.cut.seen_words(coat)
    bridge.session.prefer(numbers=True)
    assert "dE" in late.cut.seen_words(coat)
    assert "in sitting" in late.cut.rows[coat.key].toolTip()


def test_one_click_cuts_and_undo_brings_it_back(
    qtbot: QtBot, late: BatchPage, bridge: Bridge, window: MainWindow
) -> None:
    before = bridge.state.project
    short = next(lever for lever in late.cut.levers if lever.kind is LeverKind.SHORT)
    click(late.cut.rows[short.key])
    after = bridge.state.project
    assert after == short.edit(before)
    scheme = after.schemes[0]
    kinds = {scheme.share("rank", zone.id).kind for zone in after.zones}
    assert ShareKind.SHORT in kinds
    assert "Undo brings it back" in window.notice.text
    said = [late.shares.model.text(late.shares.model.index(row, 0)) for row in range(4)]
    assert any(text.startswith("short") for text in said)
    hours = planned(qtbot, late).schedule.worked
    bridge.session.undo()
    assert bridge.state.project == before
    assert planned(qtbot, late).schedule.worked > hours


def test_the_list_can_be_given_up_and_asked_for(
    qtbot: QtBot, page: BatchPage, bridge: Bridge
) -> None:
    bridge.edit("more", lambda p: edits.add_sitting(p, Sitting(id="more", minutes=240.0)))
    planned(qtbot, page)
    cut = page.cut
    assert cut.levers == ()
    assert cut.look.isVisible()
    click(cut.look)
    assert cut.bar.isVisible()
    cut.cancel()
    assert not cut.bar.isVisible()
    assert not bridge.jobs.is_busy("what to cut")
    click(page.now.what)
    qtbot.waitUntil(lambda: bool(cut.levers), timeout=60_000)
    assert not cut.look.isVisible()


def test_sizes_of_sub_batches_are_tried_and_taken(
    qtbot: QtBot, late: BatchPage, bridge: Bridge
) -> None:
    bridge.edit("x", lambda p: edits.set_habits(p, replace(p.habits, sub_batch=3)))
    made = planned(qtbot, late)
    trying = late.trying

    def tried() -> bool:
        return bool(trying.tried) and trying._tried_for == (made.project, made.scheme)

    qtbot.waitUntil(tried, timeout=60_000)
    wanted = plan.trials(made.project, made.scheme, made.progress)
    assert trying.tried == wanted
    assert trying.sentence.text() == plan.sub_batch_words(wanted, 3)
    best = plan.best_trial(wanted).models
    assert best != 3
    assert trying.take.text() == f"Take {best} at a time"
    click(trying.take)
    assert bridge.state.project.habits.sub_batch == best
    assert bridge.state.project.habits.way is Way.SUB_BATCHES
    assert made.spread.drivers[0].name in trying.doubt.text()
    assert trying.drivers.rows[0][0] == made.spread.drivers[0].name
    assert "Zones in this order" in trying.zones.text()


def test_pots_follow_what_was_used_and_warn_before_they_run_short(
    qtbot: QtBot, page: BatchPage, bridge: Bridge
) -> None:
    planned(qtbot, page)
    used = page.pots.used
    choose(used.pot, "wash-pot")
    (pot,) = [p for p in page.pots._pots if p.mix.id == "wash-pot"]
    assert used.mixed.value() == pytest.approx(pot.ml, abs=0.06)
    used.models.setValue(5)
    used.mixed.setValue(10.0)
    used.left.setValue(1.0)
    click(used.keep)
    (use,) = bridge.state.project.pot_uses
    assert (use.mix_id, use.models, use.mixed_ml, use.left_ml) == ("wash-pot", 5, 10.0, 1.0)
    assert bridge.state.undo_label == "record of a pot"
    assert used.mixed.value() == 1.0, "what there was the next time is what is left now"
    made = planned(qtbot, page)
    (state,) = [state for state in made.pots if state.left_ml is not None]
    assert state.is_reset
    assert page.pots.short.text() == state.sentence
    assert "runs short after" in page.pots.short.text()
    assert page.now.pot.text() == state.sentence
    page.clock.panel.begin("wash", "rank")
    assert page.clock.panel.care.text().startswith(state.sentence)
    (row,) = used.list.rows.values()
    assert "5 models" in row.said.text()
    click(row.remove)
    assert bridge.state.project.pot_uses == ()
    planned(qtbot, page)
    assert page.pots.short.isHidden()


def test_a_pot_that_ran_dry_is_taken_to_the_mixing_bench(
    qtbot: QtBot, page: BatchPage, bridge: Bridge
) -> None:
    planned(qtbot, page)
    used = page.pots.used
    choose(used.pot, "primer-pot")
    assert not used.dry.isEnabled(), "what is sprayed for the undercoat is no coat to remix"
    choose(used.pot, "wash-pot")
    used.models.setValue(5)
    with qtbot.waitSignal(bridge.asked) as asking:
        click(used.dry)
    asked = asking.args[0]
    (pot,) = [p for p in page.pots._pots if p.mix.id == "wash-pot"]
    total = sum(group.count for group in bridge.state.project.groups)
    assert (asked.scheme_id, asked.step_id) == (bridge.state.selection.scheme_id, pot.step_ids[0])
    assert asked.needed_ml == pytest.approx(pot.ml * (total - 5) / total)


def test_after_five_models_it_asks_what_is_left(
    qtbot: QtBot, page: BatchPage, bridge: Bridge
) -> None:
    bridge.edit("x", lambda p: edits.put_timings(p, [timed("prime", "rank", 4, 0.001)]))
    planned(qtbot, page)
    assert page.now.ask.isHidden()
    bridge.edit("x", lambda p: edits.put_timings(p, [timed("prime", "rank", 5, 0.001)]))
    made = planned(qtbot, page)
    assert made.standing.do_now is not None
    assert made.standing.do_now.step.id == "prime"
    assert page.now.ask.text().startswith("5 models are done from pot A: say under Pots")
    use = PotUse(
        id="u", scheme_id="first", mix_id="primer-pot", models=5, mixed_ml=20.0, left_ml=12.0
    )
    bridge.edit("x", lambda p: edits.put_pot_use(p, use))
    planned(qtbot, page)
    assert page.now.ask.isHidden()


def test_more_left_than_there_was_is_refused(
    page: BatchPage, bridge: Bridge, window: MainWindow
) -> None:
    used = page.pots.used
    used.mixed.setValue(2.0)
    used.left.setValue(3.0)
    assert not used.record()
    assert "no more than was mixed" in window.notice.text
    assert bridge.state.project.pot_uses == ()


def test_paints_are_held_against_their_bottles(page: BatchPage, bridge: Bridge) -> None:
    project = bridge.state.project
    needs = plan.paint_needs(project, project.schemes[0])
    rows = page.pots.needs_model.rows
    assert [row[0] for row in rows] == [need.name for need in needs]
    assert [row[2] for row in rows] == [f"{need.needed_ml:.1f}" for need in needs]
    assert {row[3] for row in rows} == {"12.0"}
    page.groups.list.rows["rank"].count.setValue(400)
    assert any("buy" in row[4] for row in page.pots.needs_model.rows)


def test_brush_loads_are_told_for_brushed_pots_only(page: BatchPage, bridge: Bridge) -> None:
    project = bridge.state.project
    pots = plan.pots(project, project.schemes[0])
    rows = page.pots.model.rows
    assert [row[6] for row in rows][:2] == ["–", "–"]  # primer and off-white are sprayed
    assert rows[2][6] == f"{pots[2].brush_loads:.0f}"
    assert pots[2].brush_loads == pytest.approx(pots[2].ml / 0.025)


def test_without_sittings_it_asks_for_some(qtbot: QtBot, page: BatchPage, bridge: Bridge) -> None:
    bridge.session.prefer(unfolded=())
    for sitting in bridge.state.project.sittings:
        bridge.edit("x", lambda p, s=sitting: edits.remove_sitting(p, s.id))  # type: ignore[misc]
    planned(qtbot, page)
    assert page.now.answer.text() == "No sittings are planned yet"
    page.window().activateWindow()
    click(page.now.sit)
    assert page.hours.is_open
    assert page.hours.add.hasFocus()
    click(page.hours.add)
    planned(qtbot, page)
    assert page.hours.heading.text() == "Your sittings: 1 sitting, 3 h 00 min"
    assert not page.now.sit.isVisible()


def test_sections_fold_and_stay_so(page: BatchPage, bridge: Bridge) -> None:
    assert page.zones.is_open
    click(page.zones.fold)
    assert not page.zones.is_open
    assert "zones" not in bridge.state.preferences.unfolded
    bridge.session.prefer(surround=Surround.DARK)
    assert not page.zones.is_open
    assert page.zones.fold.accessibleName().startswith("Open this section: Model and zones")
    click(page.zones.fold)
    assert page.zones.is_open


def test_the_sheet_tells_the_same_sittings(qtbot: QtBot, page: BatchPage, bridge: Bridge) -> None:
    bridge.edit("x", lambda p: edits.put_timings(p, [timed("prime", "rank", 10, 0.01)]))
    made = planned(qtbot, page)
    options = SheetOptions(now=made.progress.now)
    facts = gather(bridge.state.project, made.scheme.id, options)
    told = [entry for entry in facts.sittings if entry.sitting is not None]
    drawn = [s for s in made.schedule.sittings if s.is_planned]
    assert [entry.stretches for entry in told] == [s.stretches for s in drawn]
    assert facts.schedule.sentence == page.now.finish.text()
