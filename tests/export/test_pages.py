"""Nothing is clipped, nothing overlaps, whatever the project: checked on the pages as data."""

import itertools
from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest

from schemeforge.export.desk_sheet import MARGIN_MM, sheet_pages
from schemeforge.export.options import SheetOptions
from schemeforge.export.page import Box, Disc, Frame, Item, Page, Path, Picture, Text
from schemeforge.export.typeface import Typeface
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
        *((name, paper) for name in HARDEST for paper in ("Letter", "A4 landscape")),
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
    roles = {"tick", "chip", "minutes taken", "hours used", "write"}
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
