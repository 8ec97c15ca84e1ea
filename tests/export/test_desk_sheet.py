"""What stands on the desk sheet, against the plan and the appearance engine."""

import re
from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from schemeforge import appearance, colorimetry, plan
from schemeforge.appearance import Points
from schemeforge.errors import InputError, UnknownNameError
from schemeforge.export.blocks import Block
from schemeforge.export.desk_sheet import _Sheet, sheet_pages
from schemeforge.export.facts import gather, recipe_version
from schemeforge.export.options import Section, SheetOptions
from schemeforge.export.page import Box, Disc, Frame, Page, Path
from schemeforge.export.side import Side
from schemeforge.export.swatches import PIXELS_PER_MM, UNSEEN_DE, Swatches, seen
from schemeforge.export.typeface import Typeface
from schemeforge.scheme import Project, Viewing, edits
from schemeforge.scheme.settings import Finish, Sitting, Timing
from tests.builders import small_project
from tests.export import hard_projects as hard
from tests.export.reading import pictures, swatch_pixels

FACE = Typeface()


def pages(project: Project | None = None, **options: object) -> tuple[Page, ...]:
    chosen = SheetOptions(**options)  # type: ignore[arg-type]
    return sheet_pages(project or small_project(), "first", chosen, FACE.measure)


def words(found: tuple[Page, ...]) -> str:
    return " ".join(text.text for page in found for text in page.texts)


def step_numbers(found: tuple[Page, ...], size_pt: float = 26.0) -> list[str]:
    return [t.text for page in found for t in page.texts if t.size_pt == size_pt]


def holds(outer: Frame, inner: Frame) -> bool:
    return (
        outer.x <= inner.x
        and outer.y <= inner.y
        and inner.right <= outer.right
        and inner.bottom <= outer.bottom
    )


def boxes(found: tuple[Page, ...], role: str) -> list[Box]:
    return [i for page in found for i in page.items if isinstance(i, Box) and i.role == role]


def without(*sections: Section) -> frozenset[Section]:
    return frozenset(Section) - set(sections)


def test_steps_stand_in_the_order_of_the_plan_with_big_numbers() -> None:
    project = small_project()
    made = plan.schedule(project, project.schemes[0])
    order = list(dict.fromkeys(str(stretch.number) for stretch in stretches_of(made)))
    assert sorted(order) == ["1", "2", "3", "4", "5", "6"]
    assert step_numbers(pages()) == order
    assert step_numbers(pages(roomy=True), 34.0) == order


def test_the_order_of_work_is_told_line_by_line() -> None:
    project = small_project()
    made = plan.schedule(project, project.schemes[0])
    said = words(pages())
    assert "In this order" in said
    for stretch in made.sittings[0].stretches:
        at = round(stretch.begin)
        assert f"{at // 60}:{at % 60:02d} {stretch.number} {stretch.name}" in said
    short = words(pages(include=without(Section.TIMES)))
    assert "In this order" in short
    assert "0:10" not in short


def test_every_pot_is_told_in_parts_drops_grams_and_ml() -> None:
    project = small_project()
    said = words(pages(project))
    for pot in plan.pots(project, project.schemes[0]):
        assert f"{pot.mix.name}" in said
        for amount in pot.amounts:
            row = f"{amount.name} {amount.parts:g} {amount.whole_drops} "
            assert row in said, row
            grams_and_ml = said.split(row)[1].split()[:2]
            assert float(grams_and_ml[0]) == pytest.approx(amount.grams, abs=0.06)
            assert float(grams_and_ml[1]) == pytest.approx(amount.ml, abs=0.06)


def test_the_general_wash_of_30_30_40_is_told_by_its_ratio() -> None:
    """30 wash, 30 medium, 40 water by volume (common practice, no source)."""
    said = words(pages())
    assert re.search(r"brown wash 30 (\d+) .*clear medium 30 \1 .*water 40 ", said)


def test_a_pot_is_told_once_a_sitting_then_by_its_ratio() -> None:
    said = words(pages())
    assert "Mixed for step 4; 1 : 2 : 2 by parts" in said  # step 5 uses the red pot again
    assert said.count("red glaze 1 ") == 1


def test_tick_boxes_match_runs_and_passes() -> None:
    project = small_project()
    expected = sum(
        len(step.sub_batches) * step.passes
        for step in plan.planned_steps(project, project.schemes[0])
    )
    assert len(boxes(pages(project), "tick")) == expected


def test_more_runs_than_boxes_are_drawn_together() -> None:
    habits = replace(small_project().habits, sub_batch=1)
    crowd = edits.set_habits(small_project(), habits)
    group = replace(crowd.groups[0], count=1000)
    crowd = edits.update_group(crowd, group)
    found = pages(crowd, include=without(Section.SWATCHES))
    assert "each box: 42 runs" in words(found)
    ticks = boxes(found, "tick")
    counts = [
        int(text.text)
        for page in found
        for text in page.texts
        if text.text.isdigit() and any(holds(box.frame, text.within) for box in ticks)
    ]
    assert max(counts) == 42


def test_minutes_waits_stops_and_cautions_are_told() -> None:
    said = words(pages())
    for text in (
        "plan", "taken", "dry", "2 h", "45 min", "30 min", "4 h",
        "STOP  Above 55 % humidity", "Half-dry paint", "TAKE CARE", "safety data sheet",
        "psi", "trust the painted chip", "50 mm when printed at full size",
    ):  # fmt: skip
        assert text in said, text


def test_cautions_stay_when_everything_else_is_left_out() -> None:
    found = pages(include=frozenset())
    said = words(found)
    assert "STOP  Above 55 % humidity" in said
    assert "extraction" in said
    assert not any(pictures(page, "swatch dry") for page in found)


@pytest.mark.parametrize(
    ("section", "gone"),
    [
        (Section.FINISHED, "Finished zones"),
        (Section.WHO, "Who gets what"),
        (Section.SITTINGS, "In this order"),
        (Section.STOCK, "Fetch before you start"),
        (Section.MIXES, "Top up by"),
        (Section.ADVICE, "Look for"),
        (Section.TIMES, "taken"),
        (Section.TOLERANCES, "guide only, within"),
        (Section.SWATCHES, "dry L*"),
    ],
)
def test_a_section_can_be_left_out(section: Section, gone: str) -> None:
    assert gone in words(pages())
    assert gone not in words(pages(include=without(section)))


def test_zones_are_lit_on_the_outline_and_feathers_have_arrows() -> None:
    found = pages()
    arrows = [i for p in found for i in p.items if isinstance(i, Path) and i.role == "arrow"]
    assert len(arrows) == 2  # one stroke and one head, on the cloak of the red glaze
    stroke, head = arrows
    assert min(y for _, y in head.points) == pytest.approx(min(y for _, y in stroke.points))
    assert "pull out towards collar" in words(found)


def test_a_zone_named_in_keep_out_is_hatched() -> None:
    project = small_project()
    plain = [i for p in pages(project) for i in p.items if isinstance(i, Path)]
    assert not any(path.role == "hatch" for path in plain)
    step = replace(project.schemes[0].step("red"), keep_out="Not the base.")
    kept = edits.update_step(project, "first", step)
    found = pages(kept)
    assert any(i.role == "hatch" for p in found for i in p.items if isinstance(i, Path))
    assert "hatched: keep off" in words(found)


def test_who_gets_what_is_told_by_zone_numbers_and_steps() -> None:
    said = words(pages())
    assert "Short on zone 2 for rank and file: steps 1, 2, 3" in said
    assert "own on zone 1 for captains: steps 1, 2, 3, 5" in said
    assert "captains 2" in said


def test_a_sheet_for_one_group_holds_its_steps_and_models_alone() -> None:
    project = small_project()
    said = words(pages(project, group_id="rank"))
    assert "for rank and file" in said
    assert "all 10 models" in said
    # Without the red and the captains' warm glaze.
    assert sorted(step_numbers(pages(project, group_id="rank"))) == ["1", "2", "3", "6"]
    whole = plan.pots(project, project.schemes[0])[0]
    assert f"{whole.ml:.1f} ml in all" in said  # one pot still serves all


def test_a_group_without_models_is_refused() -> None:
    project = small_project()
    empty = edits.update_group(project, replace(project.groups[0], count=0))
    with pytest.raises(InputError, match="has no models"):
        pages(empty, group_id="rank")
    with pytest.raises(UnknownNameError):
        pages(project, group_id="nobody")
    with pytest.raises(UnknownNameError):
        sheet_pages(project, "none", SheetOptions(), FACE.measure)
    with pytest.raises(UnknownNameError):
        pages(project, viewing=Viewing(light="no such light"))


def test_all_stands_on_one_side_where_it_fits() -> None:
    bare = hard.nothing_but_a_base()
    lean = frozenset({Section.MIXES, Section.TIMES, Section.WHO})
    found = pages(bare, include=lean)
    assert len(found) == 1
    assert "page 1 of 1" in words(found)


def test_each_sitting_begins_on_a_side_of_its_own() -> None:
    project = small_project()
    project = replace(
        project,
        sittings=(Sitting(id="a", minutes=60.0), Sitting(id="b", minutes=90.0, day="2031-04-05")),
    )
    found = pages(project, include=without(Section.SWATCHES))
    titles = [
        max(page.texts, key=lambda t: t.size_pt if t.size_pt < 25 else 0).text for page in found
    ]
    assert "Sitting 1" in titles
    assert "Sitting 2, 2031-04-05" in titles
    assert len(boxes(found, "hours used")) == 2
    assert "Goes on from an earlier sitting" in words(found)


def test_sittings_steps_and_minutes_are_those_of_the_plan() -> None:
    sittings = tuple(Sitting(id=f"s{n}", minutes=45.0) for n in range(3))
    project = replace(small_project(), sittings=sittings)
    made = plan.schedule(project, project.schemes[0])
    assert len(made.sittings) > 4, "more than one sitting that nobody planned"
    facts = gather(project, "first", SheetOptions())
    entries = facts.sittings
    assert [e.number for e in entries] == [1, 2, 3, 4]
    assert entries[-1].sitting is None
    for entry, sitting in zip(entries[:3], made.sittings, strict=False):
        assert entry.stretches == sitting.stretches
        assert entry.minutes == pytest.approx(sitting.minutes - sitting.spare)
        order = list(dict.fromkeys(stretch.number for stretch in sitting.stretches))
        assert sorted(s.number for s in (*entry.starts, *entry.goes_on)) == sorted(order)
        assert [s.number for s in entry.starts] == [n for n in order if n in numbers(entry.starts)]
    assert sorted(n for e in entries for n in numbers(e.starts)) == [1, 2, 3, 4, 5, 6]
    whole = sum(s.minutes - s.wait_minutes for s in stretches_of(made))
    assert sum(facts.minutes.values()) == pytest.approx(whole)
    used = sum(s.minutes - s.spare for s in made.sittings if s.stretches)
    assert sum(e.minutes for e in entries) == pytest.approx(used)


def numbers(steps: tuple[plan.PlannedStep, ...]) -> list[int]:
    return [step.number for step in steps]


def stretches_of(made: plan.Schedule) -> list[plan.Stretch]:
    return [stretch for sitting in made.sittings for stretch in sitting.stretches]


def test_what_is_done_is_not_told_again_and_all_of_it_once_nothing_is_left() -> None:
    project = small_project()
    done = [
        Timing(
            id=f"t-{step.id}-{group.id}",
            scheme_id="first",
            step_id=step.id,
            group_id=group.id,
            models=group.count,
            minutes=0.0,
        )
        for step in project.schemes[0].steps
        for group in project.groups
    ]
    begun = edits.put_timings(project, done[:4])  # primed and sprayed
    facts = gather(begun, "first", SheetOptions())
    assert sorted(n for e in facts.sittings for n in numbers(e.starts)) == [3, 4, 5, 6]
    over = edits.put_timings(project, done)
    again = gather(over, "first", SheetOptions())
    assert sorted(n for e in again.sittings for n in numbers(e.starts)) == [1, 2, 3, 4, 5, 6]


def test_mixing_takes_the_painters_own_minutes() -> None:
    project = small_project()
    slow = edits.set_habits(project, replace(project.habits, mixing_minutes=45.0))
    quick = edits.set_habits(project, replace(project.habits, mixing_minutes=5.0))
    took = [gather(p, "first", SheetOptions()).minutes["wash"] for p in (slow, quick)]
    assert took[0] - took[1] >= 30.0  # 40 minutes, less a break that may fall elsewhere


def test_a_group_is_told_its_own_share_of_the_plan() -> None:
    project = small_project()
    facts = gather(project, "first", SheetOptions(group_id="captains"))
    own = [part for e in facts.sittings for s in e.stretches for part in s.models]
    assert {part.group.id for part in own} == {"captains"}
    made = plan.schedule(project, project.schemes[0])
    whole = [part for s in stretches_of(made) for part in s.models if part.group.id == "captains"]
    assert sum(part.models for part in own) == pytest.approx(sum(p.models for p in whole))
    every = gather(project, "first", SheetOptions()).minutes
    assert all(minutes <= every[step_id] + 1e-9 for step_id, minutes in facts.minutes.items())


def test_the_recipe_version_follows_the_scheme_alone() -> None:
    project = small_project()
    scheme = project.schemes[0]
    assert recipe_version(scheme) in words(pages(project))
    mix = scheme.mix("red-pot")
    more = replace(mix.ingredients[0], parts=1.5)
    other = edits.update_mix(
        project, "first", replace(mix, ingredients=(more, *mix.ingredients[1:]))
    )
    assert recipe_version(other.schemes[0]) != recipe_version(scheme)
    assert recipe_version(edits.rename_project(project, "x").schemes[0]) == recipe_version(scheme)


def test_the_date_is_the_callers() -> None:
    assert "2031-04-02" in words(pages(today=date(2031, 4, 2)))
    assert not re.search(r"20\d\d-\d\d-\d\d recipe", words(pages()))


@pytest.mark.parametrize("viewing", [None, Viewing(light="A", finish=Finish.GLOSS)])
def test_swatches_are_the_engines_colours_within_8_bits(viewing: Viewing | None) -> None:
    """Dithering rounds each code up or down by less than one."""
    project = small_project()
    facts = gather(project, "first", SheetOptions(viewing=viewing))
    swatches = Swatches(facts, tolerances=False)
    for step in facts.steps:
        for swatch in swatches.of_step(step) if step.step.mix_id else ():
            zone = swatch.zones[0]
            group = "captains" if step.step.by_name_only else None
            rows = swatch.dry.rows
            relief = np.linspace(0.0, 1.0, swatch.dry.columns)
            for ramp, wet in ((swatch.dry, False), (swatch.wet, True)):
                assert ramp is not None
                got = np.frombuffer(ramp.pixels, np.uint8).reshape(ramp.rows, ramp.columns, 3)
                for row, along in ((0, 0.0), (ramp.rows - 1, 1.0)):
                    points = Points(zone.tones[0] + np.diff(zone.tones)[0] * relief, relief, along)
                    stages = appearance.zone_stages(
                        project, facts.scheme, zone.id, points,
                        seen(facts.viewing, wet=wet), group,
                    )  # fmt: skip
                    xyz = next(s.xyz for s in stages if s.step and s.step.id == step.step.id)
                    exact = colorimetry.srgb(xyz).rgb * 255.0
                    assert np.abs(got[row] - exact).max() < 1.0, (step.number, zone.id, rows)


def test_bare_plastic_says_nothing_of_how_sure_its_colour_is() -> None:
    project = small_project()
    facts = gather(project, "first", SheetOptions())
    bare = replace(facts.scheme, steps=(), shares=(), mixes=())
    project = replace(project, schemes=(bare,))
    swatches = Swatches(gather(project, "first", SheetOptions()), tolerances=True)
    assert {swatch.tolerance for swatch in swatches.finished()} == {None}
    painted = Swatches(facts, tolerances=True).finished()
    assert all(swatch.tolerance is not None for swatch in painted)


def test_swatches_are_true_to_size_on_the_page() -> None:
    for page in pages():
        for role in ("swatch dry", "swatch wet"):
            for picture in pictures(page, role):
                assert picture.frame.width == pytest.approx(40.0)
                assert picture.columns == 40 * PIXELS_PER_MM
                assert picture.frame.height * PIXELS_PER_MM == pytest.approx(picture.rows)


def test_swatches_have_the_heights_that_the_front_tells() -> None:
    found = pages()
    assert "40 mm long, dry 6 mm high (9.5 from root to tip), wet 4." in words(found)
    dry = {p.frame.height for page in found for p in pictures(page, "swatch dry")}
    wet = {p.frame.height for page in found for p in pictures(page, "swatch wet")}
    assert dry == {6.0, 9.5}
    assert wet == {4.0}


def test_a_single_swatch_in_large_type_is_8_mm_high_and_16_where_feathered() -> None:
    found = pages(roomy=True)[1:]
    heights = [p.frame.height for page in found for p in pictures(page, "swatch dry")]
    assert 8.0 in heights
    assert 16.0 in heights


def test_a_gap_never_opens_a_side_of_its_own() -> None:
    sheet = _Sheet(gather(small_project(), "first", SheetOptions()), FACE.measure)
    full = Block(items=(Disc(x=1.0, y=1.0, radius=1.0),), height=200.0)
    gap = Block(items=(), height=60.0)
    sides = sheet._flow(Side("title"), [(full, None), (gap, None)])
    assert len(sides) == 1
    assert len(sheet._flow(Side("title"), [(full, None), (full, None)])) == 2


def test_only_zones_that_nobody_can_tell_apart_share_a_swatch() -> None:
    project = hard.many_zones(12)
    facts = gather(project, "first", SheetOptions())
    swatches = Swatches(facts, tolerances=False).of_step(facts.steps[2])
    assert sorted(z.id for s in swatches for z in s.zones) == sorted(z.id for z in project.zones)
    assert len(swatches) < 12
    relief = np.linspace(0.0, 1.0, 33)
    for swatch in swatches:
        labs = []
        for zone in swatch.zones:
            points = Points(zone.tones[0] + np.diff(zone.tones)[0] * relief, relief, 0.5)
            stages = appearance.zone_stages(project, facts.scheme, zone.id, points)
            labs.append(colorimetry.lab_from_xyz(stages[2].xyz))
        for lab in labs[1:]:
            assert colorimetry.ciede2000(labs[0], lab).max() < UNSEEN_DE * 1.02


def test_a_step_that_nobody_gets_says_so_and_shows_no_swatch() -> None:
    project = small_project()
    step = replace(project.schemes[0].step("warm"), zone_ids=("base",))
    lonely = edits.update_step(project, "first", step)
    assert "Nobody gets this step" in words(pages(lonely))


def test_the_same_project_gives_the_same_pages() -> None:
    assert pages() == pages()


def test_swatches_of_steps_differ_where_colours_do() -> None:
    dry = [swatch_pixels(p) for page in pages() for p in pictures(page, "swatch dry")]
    assert len({picture.tobytes() for picture in dry}) >= 6


def test_an_unknown_paper_is_refused_in_a_sentence() -> None:
    with pytest.raises(UnknownNameError, match='There is no paper called "A5"'):
        SheetOptions(paper="A5")
    with pytest.raises(InputError, match="Dots per inch"):
        SheetOptions(dpi=5)
