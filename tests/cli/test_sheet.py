import csv
from dataclasses import replace
from pathlib import Path

import pypdfium2  # type: ignore[import-untyped]
import pytest
from PIL import Image

from schemeforge.cli.reading import chosen_scheme
from schemeforge.cli.sheet import PARTS
from schemeforge.export.options import Section
from schemeforge.export.recipe_strip import write_strip
from schemeforge.scheme.project_file import save
from tests.builders import small_project, small_scheme
from tests.cli.conftest import Command

PAPERS_MM = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}


def text_of(pdf: Path) -> str:
    """All the text of a PDF, broken lines drawn together."""
    with pypdfium2.PdfDocument(pdf) as document:
        text = " ".join(page.get_textpage().get_text_range() for page in document)
    return " ".join(text.split())


@pytest.mark.parametrize("paper", PAPERS_MM)
def test_a_pdf_has_the_paper_and_the_steps(
    paper: str, command: Command, project_path: Path, tmp_path: Path
) -> None:
    out = tmp_path / "out.pdf"
    ran = command("sheet", project_path, "-o", out, "--paper", paper)
    assert (ran.code, ran.err) == (0, "")
    assert ran.out == f"Wrote {out}\n"
    with pypdfium2.PdfDocument(out) as document:
        size = [side / 72 * 25.4 for side in document[0].get_size()]
    assert size == pytest.approx(PAPERS_MM[paper], abs=0.1)
    text = text_of(out)
    for words in ("small project", "off-white from above", "wash pot"):
        assert words in text


def test_a_picture_and_a_table(command: Command, project_path: Path, tmp_path: Path) -> None:
    assert command("sheet", project_path, "-o", tmp_path / "out.png", "--dpi", "50").code == 0
    pictures = sorted(tmp_path.glob("*.png"))
    assert pictures
    with Image.open(pictures[0]) as picture:
        assert picture.width == pytest.approx(210 / 25.4 * 50, abs=2)
    assert command("sheet", project_path, "-o", tmp_path / "out.csv").code == 0
    with (tmp_path / "out.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.reader(file))
    assert any("wash" in cell for row in rows for cell in row)


def test_large_type_takes_more_sides(command: Command, project_path: Path, tmp_path: Path) -> None:
    sides = []
    for name, more in (("usual.pdf", ()), ("large.pdf", ("--large-type",))):
        assert command("sheet", project_path, "-o", tmp_path / name, *more).code == 0
        with pypdfium2.PdfDocument(tmp_path / name) as document:
            sides.append(len(document))
    assert sides[0] < sides[1]


def test_help_tells_every_part() -> None:
    assert set(PARTS) == {section.value for section in Section}


def test_parts_can_be_left_out(command: Command, project_path: Path, tmp_path: Path) -> None:
    command("sheet", project_path, "-o", tmp_path / "all.pdf")
    words = ("sheet", project_path, "-o", tmp_path / "less.pdf", "--leave-out", "stock to fetch")
    assert command(*words).code == 0
    assert len(text_of(tmp_path / "less.pdf")) < len(text_of(tmp_path / "all.pdf"))


def test_the_model_can_be_left_out_and_its_views_kept_elsewhere(
    command: Command, project_path: Path, tmp_path: Path
) -> None:
    sizes = []
    for name, more in (("all.pdf", ()), ("less.pdf", ("--leave-out", "picture of the model"))):
        out = tmp_path / name
        ran = command("sheet", project_path, "-o", out, "--keep", tmp_path / "views", *more)
        assert ran.code == 0, ran.err
        sizes.append(out.stat().st_size)
    assert sizes[0] > sizes[1] + 20_000
    assert list((tmp_path / "views").glob("warden-512-*"))


def test_without_a_date_equal_projects_give_equal_files(
    command: Command, project_path: Path, tmp_path: Path
) -> None:
    for name in ("a.pdf", "b.pdf"):
        command("sheet", project_path, "-o", tmp_path / name, "--no-date")
    assert (tmp_path / "a.pdf").read_bytes() == (tmp_path / "b.pdf").read_bytes()


def test_the_scheme_asked_for_else_chosen_else_first() -> None:
    project = replace(small_project(), schemes=(small_scheme("first"), small_scheme("second")))
    assert chosen_scheme(project, "SECOND scheme").id == "second"
    assert chosen_scheme(replace(project, chosen_scheme_id="second")).id == "second"
    assert chosen_scheme(replace(project, chosen_scheme_id="")).id == "first"


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("out.docx", "This kind of file cannot be written; end its name in .pdf, .png or .csv."),
        ("none/out.pdf", "The folder is not there; make it or choose another."),
        ("folder.pdf", "This is not a file"),
    ],
)
def test_what_cannot_be_written_is_a_sentence(
    name: str, told: str, command: Command, tmp_path: Path
) -> None:
    save(small_project(), tmp_path / "p.schemeforge")
    (tmp_path / "folder.pdf").mkdir()
    ran = command("sheet", tmp_path / "p.schemeforge", "-o", tmp_path / name)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith(f"schemeforge: {tmp_path / name}: {told}")
    assert ran.err.count("\n") == 1
    assert sorted(path.name for path in tmp_path.rglob("*")) == ["folder.pdf", "p.schemeforge"]


def test_a_refused_project_leaves_an_older_sheet_alone(command: Command, tmp_path: Path) -> None:
    (tmp_path / "p").write_bytes(b"{}")
    (tmp_path / "out.pdf").write_bytes(b"older")
    assert command("sheet", tmp_path / "p", "-o", tmp_path / "out.pdf").code == 2
    assert (tmp_path / "out.pdf").read_bytes() == b"older"


def test_a_recipe_strip_is_a_project_too(command: Command, tmp_path: Path) -> None:
    project = small_project()
    strip = tmp_path / "strip.png"
    write_strip(project, "first", strip)
    assert command("sheet", strip, "-o", tmp_path / "out.pdf").code == 0
    save(project, tmp_path / "p.schemeforge")
    outs = [command("predict", file).out for file in (strip, tmp_path / "p.schemeforge")]
    assert outs[0] == outs[1] != ""
    strip.write_bytes(strip.read_bytes()[:500])
    ran = command("predict", strip)
    assert ran.code == 2
    assert ran.err.startswith(f"schemeforge: {strip}: ")
    assert ran.err.count("\n") == 1


def test_strict_fails_on_findings(command: Command, tmp_path: Path) -> None:
    hieroglyph = "\U00013153"  # no font of the program has it, and few systems'
    save(replace(small_project(), name=f"owl {hieroglyph}"), tmp_path / "p")
    words = ("sheet", tmp_path / "p", "-o", tmp_path / "out.pdf")
    relaxed = command(*words)
    if not relaxed.err:
        pytest.skip("a font of this machine has hieroglyphs")
    assert relaxed.code == 0
    assert relaxed.err.startswith("schemeforge: ")
    strict = command(*words, "--strict")
    assert (strict.code, strict.err) == (1, relaxed.err)
    assert strict.out == f"Wrote {tmp_path / 'out.pdf'}\n"


def test_one_group_gets_a_sheet_of_its_own(
    command: Command, project_path: Path, tmp_path: Path
) -> None:
    words = ("sheet", project_path, "--group", "rank and file")
    assert command(*words, "-o", tmp_path / "rank.pdf").code == 0
    assert "red pot" not in text_of(tmp_path / "rank.pdf")  # their share leaves the red out
    assert command("sheet", project_path, "-o", tmp_path / "all.pdf").code == 0
    assert "red pot" in text_of(tmp_path / "all.pdf")


def test_a_project_without_scheme_has_no_sheet(command: Command, tmp_path: Path) -> None:
    save(replace(small_project(), schemes=(), chosen_scheme_id=""), tmp_path / "p")
    ran = command("sheet", tmp_path / "p", "-o", tmp_path / "out.pdf")
    assert ran.code == 2
    told = f"schemeforge: {tmp_path / 'p'}: The project has no scheme; add a scheme to it.\n"
    assert ran.err == told
    assert not (tmp_path / "out.pdf").exists()
