"""``schemeforge calibrate``: paints from readings, photographs and colours."""

import json
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from schemeforge import colorimetry
from schemeforge.calibration import BLACK, WHITE
from schemeforge.paint import Basis, PaintKind
from schemeforge.shelf import import_paints
from tests.benchmarks.calibration_card import BARE, REFERENCES, SWATCHES, card
from tests.benchmarks.calibration_truths import Truth
from tests.calibration.swatches import FILM_UM, errors, red, reflectance
from tests.cli.conftest import Command, Ran

NM = np.arange(380, 731, 10)
TWO = ("calibrate", "--two", "#4f3b36", "#a8603c")


def refusal(ran: Ran) -> str:
    """The one sentence of a refusal, without the program's name."""
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.count("\n") == 1
    return ran.err.removeprefix("schemeforge: ")


def readings(tmp_path: Path, *, percent: float = 100.0) -> Path:
    """A table of a drawdown of the red."""
    columns = {
        "film black": reflectance(red(), FILM_UM, BLACK),
        "film white": reflectance(red(), FILM_UM, WHITE),
        "bare black": np.array(BLACK),
        "bare white": np.array(WHITE),
    }
    lines = [";".join(["nm", *columns])]
    lines += [
        ";".join([str(nm), *(f"{percent * v[i]:.4f}".replace(".", ",") for v in columns.values())])
        for i, nm in enumerate(NM)
    ]
    path = tmp_path / "card.csv"
    path.write_text("\n".join(lines), encoding="utf-8")
    return path


SAMPLES = (
    *("--over-dark", "film black", "--over-light", "film white"),
    *("--dark", "bare black", "--light", "bare white"),
)


def test_readings_become_a_paint_file(command: Command, tmp_path: Path) -> None:
    out = tmp_path / "red.json"
    words = (*SAMPLES, "--geometry", "included", "--name", "Reed Red", "--kind", "translucent")
    ran = command("calibrate", readings(tmp_path), *words, "-o", out)
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.startswith("Reed Red: measured over two grounds\n")
    assert ran.out.endswith(f"Wrote {out}\n")
    (paint,) = import_paints(out)
    assert (paint.id, paint.name, paint.basis) == ("reed-red", "Reed Red", Basis.MEASURED)
    assert paint.kind is PaintKind.TRANSLUCENT
    found = np.array(paint.absorption), np.array(paint.scattering)
    assert errors(found, red()).max() < 0.5


def test_what_a_file_leaves_open_is_asked(command: Command, tmp_path: Path) -> None:
    path = readings(tmp_path)
    assert "--geometry: The file does not tell" in refusal(command("calibrate", path, *SAMPLES))
    sphere = ("--geometry", "included")
    told = refusal(command("calibrate", path, *SAMPLES[2:], *sphere))
    assert "--over-dark: It is not told which sample this is; give one of film black" in told
    wrong = ("--over-dark", "film blac", *SAMPLES[2:], *sphere)
    assert 'did you mean "film black"' in refusal(command("calibrate", path, *wrong))
    doubtful = readings(tmp_path, percent=1.4)
    told = refusal(command("calibrate", doubtful, *SAMPLES, *sphere))
    assert "--scale: It is in doubt whether" in told
    told = refusal(command("calibrate", doubtful, *SAMPLES, *sphere, "--scale", "fraction"))
    assert "is more than a surface gives back" in told


def test_readings_may_lie_in_files_of_their_own(command: Command, tmp_path: Path) -> None:
    whole = readings(tmp_path).read_text(encoding="utf-8").splitlines()
    files = []
    for column in range(1, 5):
        path = tmp_path / f"{column}.csv"
        rows = (";".join((line.split(";")[0], line.split(";")[column])) for line in whole)
        path.write_text("\n".join(rows), encoding="utf-8")
        files.append(path)
    also = [word for path in files[1:] for word in ("--also", path)]
    words = (*SAMPLES, "--geometry", "included", "--name", "red", "--json")
    apart = command("calibrate", files[0], *also, *words)
    assert (apart.code, apart.err) == (0, "")
    assert apart.out == command("calibrate", tmp_path / "card.csv", *words).out
    twice = command("calibrate", files[0], *also, "--also", files[1], *words)
    assert 'Two samples have the name "film white"' in refusal(twice)


def test_geometry_in_the_file_is_taken(command: Command, tmp_path: Path) -> None:
    path = readings(tmp_path)
    kept = [line for line in path.read_text(encoding="utf-8").splitlines() if line[:2] != "38"]
    path.write_text("\n".join(kept), encoding="utf-8")
    path.write_text("sphere di:8\n" + path.read_text(encoding="utf-8"), encoding="utf-8")
    told = command("calibrate", path, *SAMPLES)
    assert told.code == 0
    assert "Not settled by the data, so the likeliest was taken: 380" in told.out


def test_two_colours(command: Command, tmp_path: Path) -> None:
    ran = command(*TWO, "--kind", "translucent", "--out", tmp_path / "p.csv")
    assert (ran.code, ran.err) == (0, "")
    (paint,) = import_paints(tmp_path / "p.csv")
    assert paint.basis is Basis.TWO_COLOURS
    assert "    1  white" in ran.out
    assert "#a8603c" in ran.out  # the colour itself, one coat over white


def test_one_colour_and_json(command: Command) -> None:
    words = ("calibrate", "--one", "#8a5a3c", "--kind", "opaque", "--opacity", "two", "--json")
    ran = command(*words)
    assert (ran.code, ran.err) == (0, "")
    tree = json.loads(ran.out)
    assert tree["basis"] == "one-colour"
    assert len(tree["absorption"]) == len(tree["scattering"]) == 36
    assert len(tree["log_errors"]) == 72
    assert tree["patches"] == [{"name": "in a thick layer", "misses": pytest.approx(0, abs=0.3)}]
    over = command(*words[:-1], "--ground", "white", "--finish", "gloss")
    assert "one coat" in over.out


@pytest.mark.parametrize(
    ("colours", "kind"),
    [(TWO[1:], PaintKind.TRANSLUCENT), (("--two", "#cfc8b0", "#e0d8c0"), PaintKind.OPAQUE)],
)
def test_a_kind_that_is_not_told_is_inferred_as_in_the_window(
    colours: tuple[str, ...], kind: PaintKind, command: Command, tmp_path: Path
) -> None:
    out = tmp_path / "p.json"
    ran = command("calibrate", *colours, "-o", out)
    assert f"\n  kind: {kind.value}, inferred from how one coat covers" in ran.out
    (paint,) = import_paints(out)
    assert paint.kind is kind
    tree = json.loads(command("calibrate", *colours, "--json").out)
    assert (tree["kind"], tree["kind_inferred"]) == (kind.value, True)


def test_a_kind_that_is_told_stays(command: Command) -> None:
    assert "\n  kind: wash\n" in command(*TWO, "--kind", "wash").out
    tree = json.loads(command(*TWO, "--kind", "wash", "--json").out)
    assert (tree["kind"], tree["kind_inferred"]) == ("wash", False)


def test_no_window_is_needed() -> None:
    code = (
        "import sys; sys.modules['PySide6'] = None; from schemeforge.cli.main import run; "
        f"sys.exit(run({[*TWO]!r}))"
    )
    words = [sys.executable, "-c", code]
    ran = subprocess.run(words, capture_output=True, text=True, check=False)  # noqa: S603 - our own
    assert (ran.returncode, ran.stderr) == (0, "")


def test_a_decimal_comma_is_a_decimal_point(command: Command) -> None:
    comma, point, ten = (command(*TWO, "--film", film) for film in ("12,5", "12.5", "125"))
    assert comma == point
    assert comma.code == 0
    assert comma.out != ten.out
    for film in ("1,000.5", "1,2,3", ",", "0,4"):
        assert f'--film: "{film}" is out of range; give a number' in refusal(
            command(*TWO, "--film", film)
        )


def test_findings_are_told_and_strict(command: Command) -> None:
    words = ("calibrate", "--two", "#3f4045", "#00a0ff")
    ran = command(*words)
    assert ran.code == 0
    assert "stands at the end of the scale" in ran.err
    assert command(*words, "--strict").code == 1
    assert command(*TWO, "--strict").code == 0


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ((), "No source was given; give a FILE, --two or --one."),
        (("x.csv", "--one", "#123456"), "FILE and --one were given together"),
        (("--one", "#123456"), "--one: One colour alone does not tell how a paint covers"),
        (("--one", "blue", "--kind", "ink"), '--one: "blue" is not a colour'),
        (("--two", "#7f4a21", "#7f4a21"), "paint a thinner swatch"),
        (("none.csv", *SAMPLES), "none.csv: The file cannot be opened"),
        (("--two", "#4f3b36", "#a8603c", "-o", "x.txt"), "end in .json or .csv"),
        (
            ("--one", "#123456", "--kind", "ink", "--dark", "x"),
            "--dark: It belongs to an instrument's readings and means nothing beside --one; leave",
        ),
        ((*TWO[1:], "--geometry", "45/0"), "--geometry: It belongs to an instrument's readings"),
        (("x.png", "--marks", "m", "--over-dark", "x"), "means nothing beside --marks; leave out"),
        (("x.png", "--model", "m", "--scale", "percent"), "means nothing beside --model; leave"),
        ((*TWO[1:], "--marks", "m"), "--marks: Marks lie on a photograph and mean nothing beside"),
        ((*TWO[1:], "--opacity", "two"), "--opacity: It is told of a single colour only; give"),
        (("x.csv", *SAMPLES, "--finish", "gloss"), "--finish: How an instrument takes gloss is"),
        (("x.png", "--model", "m", "--kind", "ink"), "--kind: The coats of a test model are of"),
        (("x.png", "--along", "0"), "--along: It is told of a painted test model only; give the"),
        (("x.csv", *SAMPLES, "--apply"), "--apply: It is told of a painted test model only; give"),
    ],
)
def test_refusals(
    words: tuple[str, ...],
    sentence: str,
    command: Command,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(tmp_path)
    assert sentence in refusal(command("calibrate", *words))
    assert list(tmp_path.iterdir()) == []


def test_paints_are_called_as_their_files(
    command: Command, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    path = readings(tmp_path).rename(tmp_path / "Reed Red.csv")
    for name, words in {
        "Reed Red": (path, *SAMPLES, "--geometry", "included", "-o", "out.json"),
        "Mire": (*TWO[1:], "-o", "Mire.json"),
    }.items():
        ran = command("calibrate", *words)
        assert ran.out.startswith(f"{name}: ")
        (paint,) = import_paints(tmp_path / str(words[-1]))
        assert (paint.id, paint.name) == (name.lower().replace(" ", "-"), name)
    assert command(*TWO).out.startswith("new paint: ")
    odd = path.rename(tmp_path / f" a\nb{'c' * 200}.csv")
    ran = command("calibrate", odd, *SAMPLES, "--geometry", "included")
    assert ran.out.startswith("a bccc")
    assert ran.code == 0


def test_exchanged_readings_are_named_by_their_option(command: Command, tmp_path: Path) -> None:
    path = readings(tmp_path)
    films = ("--over-dark", "film white", "--over-light", "film black", *SAMPLES[4:])
    told = refusal(command("calibrate", path, *films, "--geometry", "included"))
    assert told.startswith(f"{path}: --over-light, the 380 nm band: The film reads darker")
    bare = (*SAMPLES[:4], "--dark", "bare white", "--light", "bare black")
    told = refusal(command("calibrate", path, *bare, "--geometry", "included"))
    assert told.startswith(f"{path}: --light, the 380 nm band: The light ground is not lighter")


@pytest.fixture
def photographed(tmp_path: Path) -> tuple[Path, Path]:
    """A photographed card of the red, and the marks on it."""
    truth = Truth(name="red", K=red()[0], S=red()[1], synthetic=True)
    linear, _ = card(truth, np.random.default_rng(4))
    codes = np.rint(255 * colorimetry.encode(linear.astype(float))).astype(np.uint8)
    Image.fromarray(codes).save(tmp_path / "card.png")

    def corners(area: object) -> list[float]:
        return [getattr(area, side) for side in ("left", "top", "right", "bottom")]

    marks = {
        "references": [
            {"name": r.name, "area": corners(r.area), "reflectance": r.reflectance}
            for r in REFERENCES
        ],
        "grounds": [{"name": g.name, "area": corners(g.area)} for g in BARE],
        "swatches": [
            {
                "name": s.name,
                "area": corners(s.area),
                "ground": s.ground,
                "coats": s.coats,
                "stroke": s.stroke,
            }
            for s in SWATCHES
        ],
    }
    (tmp_path / "marks.json").write_text(json.dumps(marks), encoding="utf-8")
    return tmp_path / "card.png", tmp_path / "marks.json"


def test_a_photographed_card(command: Command, photographed: tuple[Path, Path]) -> None:
    picture, marks = photographed
    ran = command("calibrate", picture, "--marks", marks, "--kind", "translucent", "--json")
    assert (ran.code, ran.err) == (0, "")
    tree = json.loads(ran.out)
    assert tree["basis"] == "photographed"
    found = np.array(tree["absorption"]), np.array(tree["scattering"])
    assert np.median(errors(found, red())) < 1.5


@pytest.mark.parametrize("suffix", [".png", ".jpg", ".tif"])
def test_a_picture_among_readings_is_asked_for_its_marks(
    suffix: str, command: Command, photographed: tuple[Path, Path]
) -> None:
    path = photographed[0].with_suffix(suffix)
    Image.open(photographed[0]).save(path)
    wanted = (
        f"{path}: This is a picture, not an instrument's readings; give --marks for a "
        "photographed swatch card, or --model for a painted test model.\n"
    )
    assert refusal(command("calibrate", path)) == wanted
    assert refusal(command("calibrate", path, *SAMPLES)) == wanted
    table = readings(path.parent)
    assert refusal(command("calibrate", table, "--also", path, *SAMPLES)) == wanted
    told = refusal(command("calibrate", path, "--zone", "cloak", "--line", "0,0,1,1"))
    wanted = "--zone: It is told of a painted test model only; give the model's project with"
    assert told == f"{wanted} --model.\n"


def test_what_marks_should_be_is_told(
    command: Command, photographed: tuple[Path, Path], tmp_path: Path
) -> None:
    picture, marks = photographed
    wanted = "; give --marks the JSON file of marks.\n"
    told = refusal(command("calibrate", picture, "--marks", picture))
    assert told == f"{picture}: This is no file of marks{wanted}"
    assert refusal(command("calibrate", picture, "--marks", tmp_path)).endswith(wanted)
    marks.write_text("[", encoding="utf-8")
    told = refusal(command("calibrate", picture, "--marks", marks))
    assert told == f"{marks}: line 1: The file is cut short{wanted}"


def test_bad_marks_and_photographs(command: Command, photographed: tuple[Path, Path]) -> None:
    picture, marks = photographed
    tree = json.loads(marks.read_text(encoding="utf-8"))

    def told(changed: object) -> str:
        marks.write_text(json.dumps(changed), encoding="utf-8")
        return refusal(command("calibrate", picture, "--marks", marks))

    assert "No reference is marked" in told(tree | {"references": []})
    assert "This is no file of marks" in told([1, 2])
    assert "This is no file of marks" in told(tree | {"more": []})
    assert '"grounds" is no list' in told(tree | {"grounds": 3})
    assert "swatches[0]" in told(tree | {"swatches": [{"name": "a", "area": [0, 0, 1]}]})
    assert "swatches[0]" in told(tree | {"swatches": [7]})
    assert "no width or no height" in told(
        tree | {"grounds": [{"name": "black", "area": [0.5, 0, 0.5, 1]}]}
    )
    marks.write_text(json.dumps(tree), encoding="utf-8")
    picture.write_bytes(picture.read_bytes()[:60])
    assert "card.png: The photograph cannot be read" in refusal(
        command("calibrate", picture, "--marks", marks)
    )
