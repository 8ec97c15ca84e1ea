"""What is written to disk: the front door, tables, the recipe strip, and hostile strips."""

import csv
import io
import struct
import zlib
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image

from schemeforge import plan
from schemeforge.errors import (
    DamagedFileError,
    FileError,
    MissingFileError,
    NewerVersionError,
    SchemeForgeError,
)
from schemeforge.export import recipe_strip
from schemeforge.export.csv_export import POT_COLUMNS, STEP_COLUMNS
from schemeforge.export.options import SheetOptions
from schemeforge.export.recipe_strip import (
    KEYWORD,
    SIGNATURE,
    read_strip,
    strip_of,
    strip_project,
    write_strip,
)
from schemeforge.export.sheet import SheetCancelledError, files_of, make_sheet, write_sheet
from schemeforge.scheme import Project, edits, project_file
from tests.builders import judged_model, small_project
from tests.export import hard_projects as hard
from tests.export.reading import sizes_mm

SMALL_PICTURES = SheetOptions(dpi=50)


def rows_of(data: bytes) -> list[dict[str, str]]:
    assert data.startswith(b"\xef\xbb\xbf")
    return list(csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline="")))


def names_in(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_a_pdf_is_one_document(tmp_path: Path) -> None:
    result = write_sheet(small_project(), "first", tmp_path / "sheet.PDF")
    assert result.files == (tmp_path / "sheet.PDF",)
    assert len(sizes_mm(result.files[0].read_bytes())) == result.pages
    assert names_in(tmp_path) == ["sheet.PDF"]


def test_pictures_are_numbered_from_the_second_page(tmp_path: Path) -> None:
    result = write_sheet(small_project(), "first", tmp_path / "sheet.png", SMALL_PICTURES)
    assert result.pages == len(result.files) > 1
    assert [path.name for path in result.files[:2]] == ["sheet.png", "sheet-2.png"]
    with Image.open(result.files[1]) as image:
        assert image.info["icc_profile"]
    assert names_in(tmp_path) == sorted(path.name for path in result.files)


def test_the_files_are_known_before_they_are_written(tmp_path: Path) -> None:
    for suffix in (".pdf", ".png", ".csv"):
        out = tmp_path / f"sheet{suffix}"
        result = write_sheet(small_project(), "first", out, SMALL_PICTURES)
        assert files_of(out, result.pages) == result.files


def test_a_sheet_made_before_is_written_as_it_is(tmp_path: Path) -> None:
    sheet = make_sheet(small_project(), "first")
    other = edits.rename_project(small_project(), "Another")
    write_sheet(other, "first", tmp_path / "sheet.pdf", sheet=sheet)
    assert (tmp_path / "sheet.pdf").read_bytes() == sheet.pdf.data


def test_what_the_watcher_raises_ends_the_work_before_anything_is_written(tmp_path: Path) -> None:
    shares: list[float] = []

    def watch(share: float) -> None:
        shares.append(share)
        if share > 0.0:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        write_sheet(small_project(), "first", tmp_path / "sheet.png", SMALL_PICTURES, watch=watch)
    assert shares[0] == 0.0
    assert len(shares) == 2
    assert names_in(tmp_path) == []


def test_a_page_knows_its_own_heading() -> None:
    for page in make_sheet(small_project(), "first").pages:
        assert page.title in {text.text for text in page.texts}


def test_tables_hold_steps_and_pots(tmp_path: Path) -> None:
    project = small_project()
    result = write_sheet(project, "first", tmp_path / "sheet.csv")
    steps, pots = (rows_of(path.read_bytes()) for path in result.files)
    assert tuple(steps[0]) == STEP_COLUMNS
    assert tuple(pots[0]) == POT_COLUMNS
    planned = plan.planned_steps(project, project.schemes[0])
    assert [row["step"] for row in steps] == [step.step.name for step in planned]
    assert [int(row["models"]) for row in steps] == [step.models for step in planned]
    assert [float(row["planned minutes"]) for row in steps] == pytest.approx(
        [step.total_minutes for step in planned], abs=0.05
    )
    for row, (pot, amount) in zip(
        pots,
        [(p, a) for p in plan.pots(project, project.schemes[0]) for a in p.amounts],
        strict=True,
    ):
        assert (row["pot"], row["ingredient"]) == (pot.letter, amount.name)
        assert float(row["ml"]) == pytest.approx(amount.ml, abs=0.0006)
        assert int(row["drops"]) == amount.whole_drops


@pytest.mark.parametrize(
    "name",
    [
        "=1+1",
        "+cmd",
        "-2",
        "@SUM(A1)",
        " =A1",
        "\u00a0=A1",
        "%x",
        "|x",
        '"=1",b',
        '=HYPERLINK("x")',
    ],
)
def test_no_cell_can_act_as_a_formula(name: str, tmp_path: Path) -> None:
    result = write_sheet(hard.renamed(name), "first", tmp_path / "sheet.csv")
    for path in result.files:
        for row in rows_of(path.read_bytes()):
            for column, cell in row.items():
                first = cell.lstrip(" \u00a0\u3000")[:1]
                assert first not in set("=+-@%|\t\r\n"), (column, cell)
    names = [row["step"] for row in rows_of(result.files[0].read_bytes())]
    assert all(cell.removeprefix("'") == name for cell in names)


def test_notes_over_several_lines_stay_one_cell(tmp_path: Path) -> None:
    result = write_sheet(hard.with_notes('a "b",\n=c'), "first", tmp_path / "sheet.csv")
    rows = rows_of(result.files[0].read_bytes())
    assert len(rows) == 6
    assert rows[0]["note"] == 'a "b",\n=c'


def test_other_suffixes_and_missing_folders_are_refused(tmp_path: Path) -> None:
    project = small_project()
    with pytest.raises(FileError, match=r'cannot be written as ".docx"; end its name in'):
        write_sheet(project, "first", tmp_path / "sheet.docx")
    with pytest.raises(FileError, match="does not say what to write"):
        write_sheet(project, "first", tmp_path / "sheet")
    with pytest.raises(FileError, match="The folder is not there; make it"):
        write_sheet(project, "first", tmp_path / "none" / "sheet.pdf")
    assert not list(tmp_path.iterdir())


def test_a_read_only_file_is_left_alone(tmp_path: Path) -> None:
    target = tmp_path / "sheet.csv"
    target.write_text("mine")
    target.chmod(0o444)
    with pytest.raises(FileError, match="read-only"):
        write_sheet(small_project(), "first", target)
    assert target.read_text() == "mine"


def test_nothing_is_written_when_the_sheet_cannot_be_made(tmp_path: Path) -> None:
    with pytest.raises(SchemeForgeError):
        write_sheet(small_project(), "none", tmp_path / "sheet.pdf")
    big = SheetOptions(dpi=1200)
    with pytest.raises(SchemeForgeError, match="too large"):
        write_sheet(small_project(), "first", tmp_path / "sheet.png", big)
    assert not list(tmp_path.iterdir())


# The recipe strip.


def test_a_strip_opens_as_the_project_it_shows(tmp_path: Path) -> None:
    project = hard.renamed(" ".join(hard.SCRIPTS.values()))
    out = tmp_path / "strip.png"
    write_strip(project, "first", out, SMALL_PICTURES)
    assert read_strip(out) == project
    with Image.open(out) as image:
        assert image.info["icc_profile"]
        assert image.width > 300


def test_a_strip_carries_what_test_models_told(tmp_path: Path) -> None:
    project = edits.add_evidence(small_project(), judged_model())
    out = tmp_path / "strip.png"
    write_strip(project, "first", out, SMALL_PICTURES)
    assert read_strip(out) == project
    assert names_in(tmp_path) == ["strip.png"]


def test_a_strip_shows_every_stage_of_every_zone() -> None:
    from schemeforge.export.facts import gather
    from schemeforge.export.page import Picture
    from schemeforge.export.strip_page import strip_page
    from schemeforge.export.typeface import Typeface
    from schemeforge.scheme import coloured_steps

    for project in (small_project(), hard.many_zones(12)):
        scheme = project.schemes[0]
        page = strip_page(gather(project, "first", SheetOptions()), Typeface().measure)
        tiles = [i for i in page.items if isinstance(i, Picture)]
        stages = [max(1, len(coloured_steps(scheme, zone.id))) for zone in project.zones]
        assert len(tiles) == sum(stages)
        said = " ".join(text.text for text in page.texts)
        for mix in scheme.mixes:
            assert mix.name in said
        assert "30 brown wash + 30 clear medium + 40 water" in said
        assert "wait 2 h" in said
        assert all(t.x >= 0 and t.y <= page.height for t in page.texts)


def test_a_strip_has_to_be_a_png(tmp_path: Path) -> None:
    with pytest.raises(FileError, match=r"end its name in \.png"):
        write_strip(small_project(), "first", tmp_path / "strip.jpg")


def chunk(kind: bytes, body: bytes) -> bytes:
    crc = zlib.crc32(kind + body)
    return struct.pack(">L", len(body)) + kind + body + struct.pack(">L", crc)


def header(width: int = 4, height: int = 4) -> bytes:
    return chunk(b"IHDR", struct.pack(">LLBBBBB", width, height, 8, 2, 0, 0, 0))


def carried(text: bytes, packed: bytes = b"\1", method: bytes = b"\0") -> bytes:
    return chunk(b"iTXt", KEYWORD.encode() + b"\0" + packed + method + b"\0\0" + text)


END = chunk(b"IEND", b"")
GOOD = project_file.dumps(small_project()).encode()


def png(*chunks: bytes) -> bytes:
    return SIGNATURE + b"".join(chunks) + END


def test_plain_and_packed_text_are_read_alike() -> None:
    for body in (carried(GOOD, b"\0"), carried(zlib.compress(GOOD))):
        assert strip_project(png(header(), body)) == small_project()


HOSTILE: dict[str, Callable[[], bytes]] = {
    "no PNG": lambda: b"GIF89a" + b"\0" * 100,
    "empty": lambda: b"",
    "no project": lambda: png(header()),
    "no header": lambda: png(carried(zlib.compress(GOOD))),
    "cut short": lambda: png(header(), carried(zlib.compress(GOOD)))[:-200],
    "cut in its last piece": lambda: png(header(), carried(zlib.compress(GOOD)))[:-1],
    "false length": lambda: SIGNATURE + struct.pack(">L", 2**31) + b"IHDR" + b"\0" * 99,
    "bit flipped": lambda: png(header(), carried(zlib.compress(GOOD))).replace(b"iTXtS", b"iTXtT"),
    "bad checksum": lambda: png(header(), carried(GOOD, b"\0")).replace(
        b"small project", b"smell project"
    ),
    "bomb": lambda: png(header(), carried(zlib.compress(b"{" * (40 * 1024 * 1024)))),
    "packed cut short": lambda: png(header(), carried(zlib.compress(GOOD)[:-20])),
    "not packed": lambda: png(header(), carried(b"no zlib")),
    "odd packing": lambda: png(header(), carried(zlib.compress(GOOD), b"\7")),
    "no text after keyword": lambda: png(header(), chunk(b"iTXt", KEYWORD.encode() + b"\0\1")),
    "huge picture": lambda: png(header(100_000, 100_000), carried(zlib.compress(GOOD))),
    "no pixels": lambda: png(header(0, 7), carried(zlib.compress(GOOD))),
    "two projects": lambda: png(header(), *[carried(zlib.compress(GOOD))] * 2),
    "not JSON": lambda: png(header(), carried(zlib.compress(b"hello"))),
    "not UTF-8": lambda: png(header(), carried(zlib.compress(b"\xff\xfe\0"))),
    "another format": lambda: png(header(), carried(zlib.compress(b'{"format": "x"}'))),
    "endless pieces": lambda: png(header(), *[chunk(b"tEXt", b"")] * 100_001),
}


SAYS = {
    "no PNG": "not a PNG",
    "empty": "not a PNG",
    "no project": "carries no project",
    "no header": "no header",
    "cut short": "picture is cut short",
    "cut in its last piece": "picture is cut short",
    "false length": "picture is cut short",
    "bit flipped": "picture is damaged",
    "bad checksum": "picture is damaged",
    "bomb": "project in the picture is larger",
    "packed cut short": "project in the picture is cut short",
    "not packed": "project in the picture is damaged",
    "odd packing": "packed oddly",
    "no text after keyword": "project in the picture is damaged",
    "huge picture": "claims 100000 x 100000 pixels",
    "no pixels": "claims 0 x 7 pixels",
    "two projects": "two projects",
    "not JSON": "not JSON",
    "not UTF-8": "not UTF-8",
    "another format": "not a SchemeForge project",
    "endless pieces": "too many pieces",
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_strip_is_refused_in_one_sentence(name: str, tmp_path: Path) -> None:
    path = tmp_path / "strip.png"
    path.write_bytes(HOSTILE[name]())
    with pytest.raises(DamagedFileError) as caught:
        read_strip(path)
    sentence = caught.value.sentence
    assert sentence.startswith(str(path))
    assert SAYS[name] in sentence
    assert sentence.endswith(".")
    assert "\n" not in sentence
    assert path.read_bytes() == HOSTILE[name]()


def test_a_strip_of_a_later_version_is_refused_as_such(tmp_path: Path) -> None:
    text = b'{"format": "schemeforge project", "version": 999, "project": {}}'
    path = tmp_path / "strip.png"
    path.write_bytes(png(header(), carried(zlib.compress(text))))
    with pytest.raises(NewerVersionError, match="update SchemeForge"):
        read_strip(path)


def test_a_strip_that_is_not_there_is_told_as_such(tmp_path: Path) -> None:
    with pytest.raises(MissingFileError, match="no such file"):
        read_strip(tmp_path / "none.png")
    with pytest.raises(MissingFileError, match="not a file"):
        read_strip(tmp_path)


def test_a_file_of_more_than_the_limit_is_not_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(recipe_strip, "MOST_BYTES", 100)
    path = tmp_path / "strip.png"
    path.write_bytes(png(header(), carried(zlib.compress(GOOD))))
    with pytest.raises(DamagedFileError, match="larger than"):
        read_strip(path)


def test_a_large_strip_is_drawn_coarser_so_that_it_opens_again(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(recipe_strip, "MOST_DRAWN", 2_000_000)
    project = hard.many_zones(12)
    strip = strip_of(project, "first", SheetOptions(dpi=1200))
    assert strip_project(strip.data) == project
    width, height = struct.unpack(">LL", strip.data[16:24])
    assert 0.8 * recipe_strip.MOST_DRAWN < width * height <= recipe_strip.MOST_DRAWN


def test_notes_travel_with_the_strip() -> None:
    project = replace(hard.with_notes("line one\nline <two>"), note="kept")
    assert strip_project(strip_of(project, "first", SMALL_PICTURES).data) == project


# Progress, giving up, and pages that an earlier sheet left.


def test_progress_rises_to_the_whole() -> None:
    told: list[float] = []
    sheet = make_sheet(small_project(), "first", progress=told.append, cancelled=lambda: False)
    assert sheet == make_sheet(small_project(), "first")
    assert told[0] == 0.0
    assert told[-1] == 1.0
    assert told == sorted(told)
    assert len(told) > len(small_project().schemes[0].steps)


@pytest.mark.parametrize("after", [0, 3, 8])
def test_a_sheet_that_is_not_wanted_any_more_is_given_up(after: int) -> None:
    told: list[float] = []
    with pytest.raises(SheetCancelledError):
        make_sheet(
            small_project(), "first", progress=told.append, cancelled=lambda: len(told) >= after
        )
    assert len(told) == after


def one_evening() -> Project:
    """The small project without sittings: all of it in one go."""
    return replace(small_project(), sittings=())


def longer_than(folder: Path, pages: int) -> Path:
    """Writes ``sheet.png`` with more pages than that; gives its path."""
    out = folder / "sheet.png"
    longer = replace(SMALL_PICTURES, roomy=True)
    assert write_sheet(one_evening(), "first", out, longer).pages > pages
    return out


def test_pages_that_a_longer_sheet_left_are_removed(tmp_path: Path) -> None:
    out = longer_than(tmp_path, 2)
    result = write_sheet(one_evening(), "first", out, SMALL_PICTURES)
    assert result.pages == 2
    assert result.findings == ()
    assert names_in(tmp_path) == ["sheet-2.png", "sheet.png"]


def test_pictures_that_are_not_our_pages_stay(tmp_path: Path) -> None:
    out = longer_than(tmp_path, 2)
    kept: dict[str, bytes] = {}

    def keep(name: str, data: bytes) -> None:
        (tmp_path / name).write_bytes(data)
        kept[name] = data

    third = (tmp_path / "sheet-3.png").read_bytes()
    with Image.open(io.BytesIO(third)) as image:
        stripped = io.BytesIO()
        image.save(stripped, "PNG", icc_profile=image.info["icc_profile"])
    keep("sheet-3.png", stripped.getvalue())  # of that name, without our marker
    keep("sheet-03.png", third)  # our page under another name
    keep("sheet-notes.png", third)
    keep("other-3.png", third)
    keep("sheet-3.jpg", third)
    write_sheet(one_evening(), "first", out, SMALL_PICTURES)
    for name, data in kept.items():
        assert (tmp_path / name).read_bytes() == data


def test_the_first_page_of_a_sheet_with_a_number_in_its_name_stays(tmp_path: Path) -> None:
    other = tmp_path / "sheet-3.png"
    write_sheet(hard.nothing_but_a_base(), "first", other, SMALL_PICTURES)
    before = other.read_bytes()
    result = write_sheet(one_evening(), "first", tmp_path / "sheet.png", SMALL_PICTURES)
    assert result.pages == 2
    assert other.read_bytes() == before


def test_a_link_or_a_stump_in_a_pages_place_stays(tmp_path: Path) -> None:
    out = longer_than(tmp_path, 2)
    third = tmp_path / "sheet-3.png"
    aside = tmp_path / "aside.png"
    third.rename(aside)
    third.symlink_to(aside)
    write_sheet(one_evening(), "first", out, SMALL_PICTURES)
    assert third.is_symlink()
    assert aside.is_file()
    third.unlink()
    for stump in (b"", SIGNATURE, SIGNATURE + b"\0\0\0\1IHDR", aside.read_bytes()[:40]):
        third.write_bytes(stump)
        write_sheet(one_evening(), "first", out, SMALL_PICTURES)
        assert third.read_bytes() == stump
