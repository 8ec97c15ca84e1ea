from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from schemeforge import colorimetry
from schemeforge.cli.picture import MODELS
from schemeforge.stand_in import model_names
from tests.cli.conftest import Command, Ran

Paint = Callable[..., Ran]


@pytest.fixture(scope="session")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder of traced models that all tests share."""
    return tmp_path_factory.mktemp("kept")


@pytest.fixture
def paint(command: Command, project_path: Path, kept: Path) -> Paint:
    """Runs the command on the small project with a small simple model."""

    def ran(out: Path, *words: object) -> Ran:
        small = ("--model", "limb", "--size", 48, "--keep", kept)
        return command("picture", project_path, "-o", out, *small, *words)

    return ran


def pixels(path: Path) -> np.ndarray:
    with Image.open(path) as image:
        return np.array(image.convert("RGBA"))


def test_a_picture_has_a_profile_its_size_and_a_clear_ground(paint: Paint, tmp_path: Path) -> None:
    out = tmp_path / "limb.png"
    ran = paint(out)
    assert (ran.code, ran.out, ran.err) == (0, f"Wrote {out}\n", "")
    with Image.open(out) as image:
        assert image.size == (48, 48)
        assert image.info["icc_profile"] == colorimetry.srgb_icc_profile()
        assert image.info["dpi"][0] == pytest.approx(48 / (50 / 25.4), rel=0.01)  # 50 mm wide
    made = pixels(out)
    assert made[0, 0, 3] == 0
    assert made[..., 3].max() == 255


def test_equal_words_give_equal_files(paint: Paint, tmp_path: Path) -> None:
    for name in ("a.png", "b.png"):
        paint(tmp_path / name)
    assert (tmp_path / "a.png").read_bytes() == (tmp_path / "b.png").read_bytes()


@pytest.mark.parametrize(
    "words",
    [
        ("--stage", "off-white from above"),
        ("--light", "A"),
        ("--finish", "gloss"),
        ("--wet",),
        ("--view", "110"),
        ("--lamp", "80"),
        ("--zone", "cloak"),
        ("--group", "captains"),
    ],
)
def test_every_option_changes_the_picture(
    words: tuple[str, ...], paint: Paint, tmp_path: Path
) -> None:
    assert paint(tmp_path / "plain.png").code == 0
    assert paint(tmp_path / "other.png", *words).code == 0
    assert not np.array_equal(pixels(tmp_path / "plain.png"), pixels(tmp_path / "other.png"))


def test_the_last_step_is_the_finish(paint: Paint, tmp_path: Path) -> None:
    paint(tmp_path / "a.png", "--stage", "finished")
    paint(tmp_path / "b.png")
    assert (tmp_path / "a.png").read_bytes() == (tmp_path / "b.png").read_bytes()


def test_a_row_is_wider(paint: Paint, tmp_path: Path) -> None:
    assert paint(tmp_path / "row.png", "--models", 3).code == 0
    assert pixels(tmp_path / "row.png").shape[:2] == (48, 2 * 32 + 48)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--model", "wardn"), 'did you mean "warden"'),
        (("--size", "5000"), "give a whole number from 16 to 2048"),
        (("--stage", "nothing"), 'There is no step called "nothing"'),
        (("--beside", "nothing"), 'There is no scheme called "nothing"'),
        (("--light", "moon"), 'There is no light called "moon"'),
        (("--zone", "nothing"), 'There is no zone called "nothing"'),
    ],
)
def test_bad_words_are_a_sentence(
    words: tuple[str, ...], told: str, paint: Paint, tmp_path: Path
) -> None:
    ran = paint(tmp_path / "out.png", *words)
    assert (ran.code, ran.out) == (2, "")
    assert told in ran.err
    assert ran.err.count("\n") == 1
    assert not (tmp_path / "out.png").exists()


def test_other_kinds_of_file_are_refused(paint: Paint, tmp_path: Path) -> None:
    ran = paint(tmp_path / "out.jpg")
    assert ran.code == 2
    assert "end it in .png" in ran.err


def test_help_names_every_model() -> None:
    assert model_names() == MODELS
