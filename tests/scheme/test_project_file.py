import errno
import json
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings

from schemeforge import whole_file
from schemeforge.errors import (
    DamagedFileError,
    FileError,
    InputError,
    MissingFileError,
    NewerVersionError,
)
from schemeforge.scheme import project_file
from schemeforge.scheme.project import Project
from schemeforge.scheme.project_file import MOST_BYTES, dumps, load, loads, save
from tests.builders import small_project
from tests.scheme.strategies import projects

Edit = Callable[[dict[str, Any]], object]


def other_project() -> Project:
    """Not the small one."""
    return Project(id="other", name="other")


@given(projects())
@settings(max_examples=30)
def test_text_reads_back_the_same(project: Project) -> None:
    assert loads(dumps(project)) == project
    assert loads(dumps(project).encode()) == project


@given(projects())
@settings(
    max_examples=15,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
def test_a_file_reads_back_the_same(tmp_path: Path, project: Project) -> None:
    save(project, tmp_path / "p.schemeforge")
    assert load(tmp_path / "p.schemeforge") == project


def test_a_file_is_utf8_json_with_format_and_version(tmp_path: Path) -> None:
    save(small_project(), tmp_path / "p")
    text = (tmp_path / "p").read_bytes().decode("utf-8")
    tree = json.loads(text)
    assert list(tree) == ["format", "version", "project"]
    assert (tree["format"], tree["version"]) == ("schemeforge project", 4)
    assert text.endswith("}\n")


def test_a_byte_order_mark_is_forgiven() -> None:
    assert loads(b"\xef\xbb\xbf" + dumps(small_project()).encode()) == small_project()


def test_the_previous_version_is_kept(tmp_path: Path) -> None:
    path = tmp_path / "p.schemeforge"
    save(small_project(), path)
    assert sorted(tmp_path.iterdir()) == [path]
    save(other_project(), path)
    assert load(path) == other_project()
    assert load(tmp_path / "p.schemeforge.bak") == small_project()
    assert len(list(tmp_path.iterdir())) == 2


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "The file is empty"),
        (b"\xff\xfe{", "line 1: This is not UTF-8 text"),
        (b'{"format":\n"\xe9"', "line 2: This is not UTF-8 text"),
        (b"[1]", "This is not a SchemeForge project; choose another file."),
        (b'{"format": "other"}', "This is not a SchemeForge project"),
        (b'{"format": "schemeforge project"}', "does not tell its version"),
        (b'{"format": "schemeforge project", "version": true}', "does not tell its version"),
        (b'{"format": "schemeforge project", "version": 0}', "does not tell its version"),
        (b'{"format": "schemeforge project", "version": 2}', 'The file has no "project"'),
        (
            b'{"format": "schemeforge project", "version": 2, "project": {}, "x": 1}',
            "x: The file has no place for such an entry",
        ),
        (
            b'{"format": "schemeforge project", "version": 2, "project": {"id": "a"}}',
            'The project has no "name"; add it.',
        ),
    ],
)
def test_a_damaged_file_is_refused_and_left_alone(tmp_path: Path, data: bytes, words: str) -> None:
    path = tmp_path / "p.schemeforge"
    path.write_bytes(data)
    with pytest.raises(DamagedFileError) as caught:
        load(path)
    assert words in str(caught.value)
    assert str(caught.value).startswith(f"{path}: ")
    assert path.read_bytes() == data


@pytest.mark.parametrize(("version", "told"), [("5", "version 5"), ("9" * 4000, "unknown")])
def test_a_newer_file_says_to_update(version: str, told: str) -> None:
    with pytest.raises(NewerVersionError) as caught:
        loads(f'{{"format": "schemeforge project", "version": {version}, "project": 0}}')
    assert told in str(caught.value)
    assert str(caught.value).endswith("reads up to version 4; update SchemeForge.")


def test_a_damaged_file_points_at_its_previous_version(tmp_path: Path) -> None:
    path = tmp_path / "p.schemeforge"
    save(small_project(), path)
    save(small_project(), path)
    path.write_bytes(path.read_bytes()[:400])
    with pytest.raises(DamagedFileError) as caught:
        load(path)
    assert "cut short; open its previous version, kept as p.schemeforge.bak." in str(caught.value)


def test_a_wrong_value_names_file_and_field(tmp_path: Path) -> None:
    tree = json.loads(dumps(small_project()))
    tree["project"]["size"] = {"base_mm": 1}
    path = tmp_path / "p"
    path.write_text(json.dumps(tree), encoding="utf-8")
    with pytest.raises(InputError) as caught:
        load(path)
    assert str(caught.value).startswith(f"{path}: size: Base diameter is 1, outside 10 to 300 mm")


def test_lone_surrogates_are_refused() -> None:
    text = dumps(small_project())
    with pytest.raises(InputError, match="control characters"):
        loads(text.replace("small project", "small \\ud800 project"))
    with pytest.raises(DamagedFileError, match="not UTF-8"):
        loads(text.replace("small project", "small \ud800 project"))


def test_what_is_not_there_or_no_file_is_refused(tmp_path: Path) -> None:
    for path, words in (
        (tmp_path / "no", "There is no such file"),
        (tmp_path, "This is not a file"),
        (tmp_path / ("n" * 300), "cannot be opened (file name too long)"),
        (tmp_path / "nul\0", "cannot be opened (embedded null byte)"),
    ):
        with pytest.raises(MissingFileError) as caught:
            load(path)
        assert words in str(caught.value)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes in folders")
def test_a_pipe_does_not_hang(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(MissingFileError, match="not a file"):
        load(tmp_path / "pipe")


def test_a_huge_file_is_not_read(tmp_path: Path) -> None:
    path = tmp_path / "huge"
    with path.open("wb") as file:
        file.truncate(MOST_BYTES + 1)  # sparse: takes no room
    with pytest.raises(DamagedFileError, match="larger than 32 MB"):
        load(path)
    with pytest.raises(DamagedFileError, match="larger than 32 MB"):
        loads(b" " * (MOST_BYTES + 1))


def test_deep_nesting_and_lack_of_memory_are_sentences(monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(DamagedFileError, match="nested too deeply"):
        loads("[" * 200_000)

    def exhausted(_: bytes) -> str:
        raise MemoryError

    monkeypatch.setattr(project_file, "_decoded", exhausted)
    with pytest.raises(DamagedFileError, match=r"^there: The project is too large"):
        loads(b"{}", where="there")


def test_a_project_too_large_to_read_again_is_not_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "p"
    save(small_project(), path)
    monkeypatch.setattr(project_file, "MOST_BYTES", 50)
    with pytest.raises(FileError, match=r"larger than the 0 MB"):
        save(other_project(), path)
    monkeypatch.undo()
    assert load(path) == small_project()


# Writing: what fails leaves the old file, and nothing else, behind.


def refuse_to_save(path: Path, words: str) -> None:
    with pytest.raises(FileError) as caught:
        save(other_project(), path)
    assert str(caught.value).startswith(f"{path}: ")
    assert words in str(caught.value)


def test_a_missing_folder_is_named(tmp_path: Path) -> None:
    refuse_to_save(tmp_path / "no" / "p", "The folder is not there; make it or choose another.")


def test_a_folder_is_not_overwritten(tmp_path: Path) -> None:
    (tmp_path / "p").mkdir()
    refuse_to_save(tmp_path / "p", "This is not a file")


def test_an_impossible_name_is_refused(tmp_path: Path) -> None:
    refuse_to_save(tmp_path / "nul\0", "cannot be written (")


def test_a_read_only_file_is_respected(tmp_path: Path) -> None:
    path = tmp_path / "p"
    save(small_project(), path)
    path.chmod(0o444)
    refuse_to_save(path, "The file is read-only; save under another name.")
    assert load(path) == small_project()


def failing(code: int) -> Callable[..., object]:
    """A system call that fails with that code."""

    def fail(*_: object, **__: object) -> object:
        raise OSError(code, os.strerror(code))

    return fail


@pytest.mark.parametrize("call", ["fsync", "link", "replace"])
def test_a_full_disk_leaves_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, call: str
) -> None:
    path = tmp_path / "p"
    save(small_project(), path)
    if call == "fsync":
        monkeypatch.setattr(os, "fsync", failing(errno.ENOSPC))
    elif call == "link":  # neither link nor copy of the old version can be made
        monkeypatch.setattr(os, "link", failing(errno.EPERM))
        monkeypatch.setattr(Path, "read_bytes", failing(errno.ENOSPC))
    else:
        monkeypatch.setattr(Path, "replace", failing(errno.ENOSPC))
    refuse_to_save(path, "cannot be written (no space left on device)")
    monkeypatch.undo()
    assert load(path) == small_project()
    assert list(tmp_path.iterdir()) == [path]


def test_without_hard_links_the_previous_version_is_copied(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "p"
    save(small_project(), path)
    monkeypatch.setattr(os, "link", failing(errno.EPERM))
    save(other_project(), path)
    assert load(tmp_path / "p.bak") == small_project()
    assert load(path) == other_project()


def test_permissions_and_links_are_kept(tmp_path: Path) -> None:
    real = tmp_path / "real"
    save(small_project(), real)
    real.chmod(0o640)
    link = tmp_path / "link"
    link.symlink_to(real)
    save(other_project(), link)
    assert link.is_symlink()
    assert load(real) == other_project()
    assert real.stat().st_mode & 0o777 == 0o640


def test_a_file_can_be_replaced_without_a_backup(tmp_path: Path) -> None:
    path = tmp_path / "plain"
    whole_file.write_whole(path, b"one", keep_previous=True)
    whole_file.write_whole(path, b"two", keep_previous=False)
    assert path.read_bytes() == b"two"
    assert list(tmp_path.iterdir()) == [path]
