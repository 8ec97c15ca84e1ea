from pathlib import Path

import pytest

from schemeforge import resources
from schemeforge.errors import MissingFileError


@pytest.fixture
def package(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty stand-in for the installed package's folder."""
    folder = tmp_path / "schemeforge"
    folder.mkdir()
    monkeypatch.setattr(resources, "_PACKAGE", folder)
    return folder


def put(folder: Path) -> Path:
    folder.mkdir()
    (folder / "file.txt").write_text("x", encoding="utf-8")
    return folder / "file.txt"


def test_the_checkout_has_the_published_schema() -> None:
    assert resources.asset("project.schema.json").is_file()


@pytest.mark.parametrize("name", ["assets", "shared"])
def test_a_checkout_is_read_beside_the_package(package: Path, name: str) -> None:
    file = put(package.parent / name)
    find = resources.asset if name == "assets" else resources.shared
    assert find("file.txt") == file


@pytest.mark.parametrize("name", ["assets", "shared"])
def test_an_installed_package_carries_its_own(package: Path, name: str) -> None:
    put(package.parent / name)  # an unrelated folder beside an installed package is passed over
    file = put(package / f"_{name}")
    find = resources.asset if name == "assets" else resources.shared
    assert find("file.txt") == file


def test_a_missing_folder_is_a_sentence(package: Path) -> None:
    assert package.is_dir()
    with pytest.raises(MissingFileError, match='The folder "assets" that belongs to the program'):
        resources.asset("file.txt")


def test_a_missing_file_is_a_sentence_with_its_path(package: Path) -> None:
    put(package / "_shared")
    with pytest.raises(MissingFileError, match=r"other\.txt: A file that belongs .*install the"):
        resources.shared("other.txt")
