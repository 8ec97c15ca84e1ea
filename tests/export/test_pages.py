"""Nothing is clipped, nothing overlaps, whatever the project: checked on the pages as data."""

import itertools
from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest

from schemeforge.export.blocks import SMALLER, Block, fitted_into
from schemeforge.export.desk_sheet import sheet_pages
from schemeforge.export.options import SheetOptions
from schemeforge.export.page import Box, Disc, Frame, Item, Page, Path, Picture, Text
from schemeforge.export.side import MARGIN_MM
from schemeforge.export.swatches import RAMP_MM
from schemeforge.export.typeface import Typeface
from schemeforge.export.typesetting import LEAST_PT
from schemeforge.resources import asset
from schemeforge.scheme import Project, project_file
from tests.builders import small_project
from tests.export import hard_projects as hard
from tests.export.reading import ink

FACE = Typeface()
TOLERANCE_MM = 0.05


def demo() -> Project:
    return project_file.load(asset("demo", "saltmarsh_wardens.schemeforge"))


PROJECTS: dict[str, Callable[[], Project]] = {
    "small": small_project,
    "demo": demo,
    "bare": hard.nothing_but_a_base,
    "German": lambda: hard.renamed(hard.GERMAN),
    "longest": lambda: hard.renamed(hard.LONGEST),
    "scripts": lambda: hard.renamed(" / ".join(hard.SCRIPTS.values())),
    "markup": lambda: hard.renamed("<b>bold</b> &amp; <para/>"),
    "12 zones": lambda: hard.many_zones(12),
    "40 groups": lambda: hard.many_zones(14, groups=40),
    "notes": lambda: hard.with_notes("mind the gap " * 300),
    "one endless note": lambda: hard.with_notes("x" * 4000),
    "12 longest zones": hard.longest_of_everything,
}
HARDEST = ("demo", "German", "12 zones", "12 longest zones")
PAPERS = {
    "A4": SheetOptions(),
    "Letter": SheetOptions(paper="Letter"),
    "A4 landscape": SheetOptions(landscape=True),
    "A4 in large type": SheetOptions(roomy=True),
}


def extent(item: Item) -> Frame:
    match item:
        case Text():
            left, top, right, bottom = ink(item, FACE.measure)
            return Frame(x=left, y=top, width=right - left, height=bottom - top)
        case Box() | Picture():
            return item.frame
        case Disc():
            r = item.radius
            return Frame(x=item.x - r, y=item.y - r, width=2 * r, height=2 * r)
        case Path():
            xs, ys = [x for x, _ in item.points], [y for _, y in item.points]
            return Frame(x=min(xs), y=min(ys), width=max(xs) - min(xs), height=max(ys) - min(ys))


def overlap_mm(one: Frame, other: Frame) -> float:
    """The smaller side of what two rectangles share, 0 or less where they share nothing."""
    across = min(one.right, other.right) - max(one.x, other.x)
    down = min(one.bottom, other.bottom) - max(one.y, other.y)
    return min(across, down)


@cache
def pages_of(name: str, paper: str) -> tuple[Page, ...]:
    project = PROJECTS[name]()
    scheme_id = project.chosen_scheme_id or project.schemes[0].id
    return sheet_pages(project, scheme_id, PAPERS[paper], FACE.measure)


@pytest.mark.parametrize(
    ("name", "paper"),
    [
        *((name, "A4") for name in PROJECTS),
        *((name, paper) for name in HARDEST for paper in list(PAPERS)[1:]),
    ],
)
def test_every_item_keeps_its_place(name: str, paper: str) -> None:
    for page in pages_of(name, paper):
        sheet = Frame(x=0.0, y=0.0, width=page.width, height=page.height)
        for item in page.items:
            where = extent(item)
            assert where.x >= MARGIN_MM - TOLERANCE_MM, item
            assert where.y >= MARGIN_MM - TOLERANCE_MM, item
            assert where.right <= sheet.right - MARGIN_MM + TOLERANCE_MM, item
            assert where.bottom <= sheet.bottom - MARGIN_MM + TOLERANCE_MM, item
        for text in page.texts:
            where = extent(text)
            assert where.x >= text.within.x - TOLERANCE_MM, text
            assert where.right <= text.within.right + TOLERANCE_MM, text


@pytest.mark.parametrize("name", PROJECTS)
def test_no_text_runs_into_another_or_into_a_picture(name: str) -> None:
    for page in pages_of(name, "A4"):
        texts = [(text, extent(text)) for text in page.texts if text.text.strip()]
        for (one, a), (other, b) in itertools.combinations(texts, 2):
            assert overlap_mm(a, b) <= TOLERANCE_MM, (one.text, other.text)
        solid = [i for i in page.items if isinstance(i, Picture)]
        for text, a in texts:
            for picture in solid:
                assert overlap_mm(a, picture.frame) <= 0.15, text.text


@pytest.mark.parametrize("name", HARDEST)
def test_boxes_to_write_in_stay_empty_of_pictures_and_of_each_other(name: str) -> None:
    roles = {"tick", "chip", "minutes taken", "hours used", "write", "pot"}
    for page in pages_of(name, "Letter"):
        boxes = [i for i in page.items if isinstance(i, Box) and i.role in roles]
        pictures = [i for i in page.items if isinstance(i, Picture)]
        for one, other in itertools.combinations(boxes, 2):
            assert overlap_mm(one.frame, other.frame) <= 0.0
        for box, picture in itertools.product(boxes, pictures):
            assert overlap_mm(box.frame, picture.frame) <= 0.0


def test_no_word_of_a_long_note_is_lost() -> None:
    note = " ".join(f"word{n}" for n in range(400))
    pages = sheet_pages(hard.with_notes(note), "first", SheetOptions(), FACE.measure)
    last = " ".join(text.text for text in pages[-1].texts)
    everything = " ".join(text.text for page in pages for text in page.texts)
    assert "word399" in last
    assert all(f"word{n}" in everything for n in range(400))
    assert "in full on the last page" in everything


def test_long_names_are_whole_on_the_page() -> None:
    pages = sheet_pages(hard.renamed(hard.LONGEST), "first", SheetOptions(), FACE.measure)
    for page in pages:
        joined = "".join(t.text for t in page.texts if set(t.text) <= set("W:"))
        assert joined.count("W") >= len(hard.LONGEST)


def test_long_tables_flow_over_the_page_instead_of_shrinking() -> None:
    project = hard.many_zones(6, groups=8)
    named = tuple(replace(group, name=hard.LONGEST) for group in project.groups)
    pages = sheet_pages(replace(project, groups=named), "first", SheetOptions(), FACE.measure)
    names = [t for page in pages for t in page.texts if set(t.text) == {"W"}]
    assert names
    assert min(text.size_pt for text in names) >= 7.0


def below_head(page: Page) -> float:
    """Lower edge of the last thing on a side that is neither foot nor note line."""
    foot = max(
        i.points[0][1] for i in page.items if isinstance(i, Path) and i.width_mm == FOOT_RULE_MM
    )
    notes = [i.points[0][1] for i in page.items if isinstance(i, Path) and i.role == "note line"]
    end = min([foot, *(y - 8.5 for y in notes)])
    return max(where.bottom for i in page.items if (where := extent(i)).bottom <= end)


FOOT_RULE_MM = 0.5


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_demo_takes_a_front_and_as_few_sides_a_sitting_as_hold_it(paper: str) -> None:
    """Four sittings and what goes beyond; the second begins eleven steps, the third six."""
    titles = [page.title for page in pages_of("demo", paper)]
    assert titles == [
        "Before you start", "Sitting 1", *("Sitting 2",) * 3, *("Sitting 3",) * 2, "Sitting 4",
        "Not in a sitting yet",
    ]  # fmt: skip


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("name", ["demo", "small", "12 zones", "German"])
def test_no_side_but_the_last_of_a_sitting_is_less_than_half_full(name: str, paper: str) -> None:
    pages = pages_of(name, paper)
    for page, after in itertools.pairwise(pages):
        if after.title == page.title:
            assert below_head(page) > page.height / 2.0, (name, page.title)


@pytest.mark.parametrize("paper", ["A4", "Letter", "A4 landscape", "A4 in large type"])
def test_no_type_is_smaller_than_can_be_read(paper: str) -> None:
    for name in ("demo", "small", "bare", "German", "12 zones"):
        for page in pages_of(name, paper) if (name, paper) in READ else ():
            assert min(text.size_pt for text in page.texts) >= LEAST_PT


READ = {
    *(("demo", paper) for paper in PAPERS),
    *((name, "A4") for name in ("small", "bare", "German", "12 zones")),
}


@pytest.mark.parametrize("name", PROJECTS)
def test_what_is_drawn_smaller_says_that_its_swatches_are_not_to_size(name: str) -> None:
    for page in pages_of(name, "A4"):
        swatches = [i for i in page.items if isinstance(i, Picture)]
        off_size = [i for i in swatches if abs(i.frame.width - RAMP_MM) > TOLERANCE_MM]
        tiny = [text for text in page.texts if text.size_pt < LEAST_PT - 0.01]
        said = any(text.text == SMALLER for text in page.texts)
        assert said == bool(off_size or tiny), page.title


def test_a_card_that_no_side_holds_is_drawn_smaller_and_says_so() -> None:
    line = Text(
        x=10.0, y=50.0, text="x", size_pt=10.0,
        within=Frame(x=10.0, y=46.0, width=20.0, height=5.0),
    )  # fmt: skip
    block = fitted_into(Block(items=(line,), height=400.0), 203.0, FACE.measure)
    assert block.height == 203.0
    small, note = block.items
    assert isinstance(small, Text)
    assert isinstance(note, Text)
    assert small.size_pt == pytest.approx(5.0, abs=0.05)
    assert note.text == SMALLER
    assert extent(note).bottom <= 203.0
    assert extent(note).y >= small.y


@pytest.mark.parametrize("name", ["demo", "German", "12 zones", "notes"])
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_panels_ticks_and_minutes_of_cards_do_not_overlap(name: str, paper: str) -> None:
    roles = {"swatch panel", "tick", "minutes taken", "hours used", "pot"}
    for page in pages_of(name, paper) if paper == "A4" or name in HARDEST else ():
        boxes = [i for i in page.items if isinstance(i, Box) and i.role in roles]
        rules = [i for i in page.items if isinstance(i, Path) and i.role == "rule"]
        for one, other in itertools.combinations(boxes, 2):
            assert overlap_mm(one.frame, other.frame) <= 0.0, (one.role, other.role)
        for box, rule in itertools.product(boxes, rules):
            y = rule.points[0][1]
            across = overlap_mm(box.frame, extent(rule).moved(0.0, -1.0)) > 0.0
            assert not (across and box.frame.y < y < box.frame.bottom), box.role


@pytest.mark.parametrize("paper", ["A4", "Letter", "A4 in large type"])
def test_notes_are_a_few_lines_at_the_end_of_a_sitting(paper: str) -> None:
    pages = pages_of("demo", paper)
    for page, after in itertools.zip_longest(pages, pages[1:]):
        lines = [i for i in page.items if isinstance(i, Path) and i.role == "note line"]
        assert len(lines) <= 4
        if after is not None and after.title == page.title:
            assert not lines
