"""The journal: whatever kills the run, reopening loses at most the edit in flight."""

import errno
import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from schemeforge.desk import Journal, run_lock
from schemeforge.desk import journal as journal_module
from schemeforge.desk.journal import MOST_SECONDS, leftovers
from schemeforge.desk.run_lock import Holder, RunLock, holder_of, is_alive
from schemeforge.scheme import Project
from tests.builders import small_project

PROJECT = small_project()
ROOT = Path(__file__).resolve().parents[2]


def named(name: str) -> Project:
    return replace(PROJECT, name=name)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "journal"


@pytest.fixture
def journal(folder: Path) -> Iterator[Journal]:
    made = Journal(folder)
    yield made
    made.clear()
    made.close()
    assert not [t for t in threading.enumerate() if t.name == "journal"]
    assert not folder.exists() or list(folder.iterdir()) == []


def orphaned(folder: Path, project: Project, path: Path | None = None) -> Path:
    """The journal of a run that ended without closing it."""
    journal = Journal(folder)
    journal.record(project, path)
    assert journal.flush()
    journal.close()  # lets the lock go and keeps the file, as a crash would
    return journal.file


def test_nothing_is_written_before_the_first_edit(journal: Journal, folder: Path) -> None:
    assert journal.flush()
    assert not folder.exists()
    assert leftovers(folder) == ()


def test_the_newest_document_is_kept_with_its_path(folder: Path) -> None:
    journal = Journal(folder)
    for number in range(20):
        journal.record(named(f"edit {number}"), Path("/some/where.schemeforge"))
    assert journal.flush()
    journal.close()
    (left,) = leftovers(folder)
    assert left.project == named("edit 19")
    assert left.path == Path("/some/where.schemeforge")
    left.discard()
    left.discard()
    assert list(folder.iterdir()) == []


def test_a_run_that_goes_on_is_no_leftover(journal: Journal, folder: Path) -> None:
    journal.record(PROJECT, None)
    assert journal.flush()
    assert journal.file.exists()
    assert leftovers(folder) == ()


def test_closing_writes_what_still_waits(folder: Path) -> None:
    journal = Journal(folder)
    journal.record(PROJECT, None, settled=False)
    journal.close()
    assert [left.project for left in leftovers(folder)] == [PROJECT]


def test_edits_of_a_drag_wait_until_it_ends(journal: Journal) -> None:
    journal.record(named("mid drag"), None, settled=False)
    assert not journal.file.exists()
    journal.settle()
    assert journal.flush()
    assert "mid drag" in journal.file.read_text(encoding="utf-8")
    journal.settle()  # with nothing waiting


def test_a_hand_that_rests_is_written_without_being_told(journal: Journal) -> None:
    start = time.monotonic()
    journal.record(named("resting"), None, settled=False)
    wait_for(journal.file.exists)
    assert time.monotonic() - start >= journal_module.REST_SECONDS * 0.9


def test_a_drag_without_end_is_written_all_the_same(
    journal: Journal, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(journal_module, "MOST_SECONDS", 0.3)
    number = 0

    def drag_on() -> bool:
        nonlocal number
        number += 1
        journal.record(named(f"drag {number}"), None, settled=False)
        return journal.file.exists()

    start = time.monotonic()
    wait_for(drag_on)
    assert 0.25 < time.monotonic() - start < MOST_SECONDS


def wait_for(is_so: Callable[[], bool], seconds: float = 10.0) -> None:
    end = time.monotonic() + seconds
    while not is_so():
        assert time.monotonic() < end
        time.sleep(0.01)


def test_clearing_drops_what_waits_and_what_is_written(journal: Journal) -> None:
    journal.record(PROJECT, None)
    assert journal.flush()
    journal.record(named("waiting"), None, settled=False)
    journal.clear()
    assert journal.flush()
    assert not journal.file.exists()


def test_newest_first_and_damaged_ones_are_skipped_and_kept(folder: Path) -> None:
    first, second = orphaned(folder, named("older")), orphaned(folder, named("newer"))
    os.utime(first, (1_000_000, 1_000_000))
    text = second.read_text(encoding="utf-8")
    damaged = {
        "x-a.journal": "",
        "x-b.journal": text[: len(text) // 2],
        "x-c.journal": "[]",
        "x-d.journal": '{"path": null}',
        "x-e.journal": '{"path": 3, "content": {}}',
        "x-g.journal": text.replace('"version": ', '"version": 9'),
        "x-h.journal": text.replace('"path": null', '"path": 3'),
    }
    for name, content in damaged.items():
        (folder / name).write_text(content, encoding="utf-8")
    (folder / "x-i.journal").write_bytes(b"\xff\xfe\x00")
    (folder / "x-j.journal").mkdir()
    assert [left.project.name for left in leftovers(folder)] == ["newer", "older"]
    assert all((folder / name).exists() for name in damaged)


def test_a_journal_nested_too_deeply_is_skipped(folder: Path) -> None:
    folder.mkdir()
    (folder / "x-a.journal").write_text("[" * 100_000, encoding="utf-8")
    assert leftovers(folder) == ()


def test_a_journal_larger_than_any_project_is_not_read(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    orphaned(folder, PROJECT)
    monkeypatch.setattr(journal_module, "_MOST_BYTES", 100)
    assert leftovers(folder) == ()


def test_a_disk_that_is_full_is_told_once_and_again_after_it_had_room(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    told: list[str] = []
    journal = Journal(folder, told.append)
    full = True
    real = os.fsync

    def fsync(handle: int) -> None:
        if full:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        real(handle)

    monkeypatch.setattr(os, "fsync", fsync)
    for number in range(3):
        journal.record(named(f"{number}"), None)
        assert not journal.flush()
    (sentence,) = told
    assert sentence.startswith("Edits cannot be kept against a crash (No space left on device);")
    full = False
    journal.record(named("roomy"), None)
    assert journal.flush()
    assert journal.problem == ""
    full = True
    journal.record(named("full again"), None)
    assert not journal.flush()
    journal.close()
    assert len(told) == 2
    assert [left.project.name for left in leftovers(folder)] == ["roomy"]


def test_a_folder_that_cannot_be_made_is_told_not_raised(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    told: list[str] = []
    journal = Journal(tmp_path / "file" / "journal", told.append)
    journal.record(PROJECT, None)
    assert not journal.flush()
    journal.clear()
    journal.close()
    assert len(told) == 1
    assert leftovers(tmp_path / "file" / "journal") == ()


KILLED = """
import sys
from dataclasses import replace
from pathlib import Path
from schemeforge.desk import Places, Session
from schemeforge.scheme import edits
from tests.builders import small_project

home = Path(sys.argv[1])
session = Session(small_project(), places=Places(data=home, settings=home))
number = 0
while True:
    session.edit("name", lambda p: edits.rename_project(p, f"edit {number}"), merge=sys.argv[2])
    if number % 7 == 0:
        session.end_drag()
        session.journal.flush()
        print(number, flush=True)
    number += 1
"""


@pytest.mark.skipif(sys.platform == "win32", reason="kills by signal")
@pytest.mark.parametrize("merge", ["", "drag"])
def test_killed_in_the_midst_of_edits_at_most_the_edit_in_flight_is_lost(
    tmp_path: Path, merge: str
) -> None:
    for after in (1, 4):
        run = subprocess.Popen(  # noqa: S603 - our own program
            [sys.executable, "-c", KILLED, str(tmp_path), merge],
            stdout=subprocess.PIPE,
            text=True,
            cwd=ROOT,
        )
        assert run.stdout is not None
        with run:
            safe = [int(run.stdout.readline()) for _ in range(after)][-1]
            assert leftovers(tmp_path / "journal") == ()  # still running
            run.send_signal(signal.SIGKILL)
            said = run.stdout.read().split()
        safe = int(said[-1]) if said else safe
        (left,) = leftovers(tmp_path / "journal")
        assert int(left.project.name.removeprefix("edit ")) >= safe
        left.discard()
        assert list((tmp_path / "journal").iterdir()) == []


def test_crumbs_of_a_run_without_work_are_swept_up(folder: Path) -> None:
    folder.mkdir()
    for name in ("1-a.lock", "1-a.new"):
        (folder / name).touch()
    held = RunLock(folder / "1-b.lock")
    assert leftovers(folder) == ()
    assert [p.name for p in folder.iterdir()] == ["1-b.lock"]
    held.release()


def test_a_number_that_another_program_carries_now_hides_no_leftover(folder: Path) -> None:
    file = orphaned(folder, PROJECT)
    file.rename(folder / f"{os.getppid()}-0.journal")
    (folder / f"{os.getppid()}-0.lock").touch()
    assert len(leftovers(folder)) == 1


@pytest.mark.parametrize(
    ("name", "count"), [("{alive}-0", 0), ("{own}-0", 0), ("{dead}-0", 1), ("word-0", 1)]
)
def test_without_locks_the_process_number_decides(folder: Path, name: str, count: int) -> None:
    ended = subprocess.run(
        [sys.executable, "-c", "import os; print(os.getpid())"],
        capture_output=True,
        text=True,
        check=True,
    )
    file = orphaned(folder, PROJECT)
    known = name.format(alive=os.getppid(), own=os.getpid(), dead=ended.stdout.strip())
    file.rename(folder / f"{known}.journal")
    assert len(leftovers(folder)) == count


def test_locks_tell_who_holds_them(tmp_path: Path) -> None:
    file = tmp_path / "a.lock"
    assert holder_of(file) is Holder.UNKNOWN
    held = RunLock(file)
    assert holder_of(file) is Holder.SOMEBODY
    held.release()
    assert holder_of(file) is Holder.NOBODY


def test_a_file_system_without_locks(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(_stream: object, *, wait: bool) -> None:
        raise OSError(errno.ENOLCK, "no locks", str(wait))

    monkeypatch.setattr(run_lock, "_take", refuse)
    held = RunLock(tmp_path / "a.lock")
    assert holder_of(tmp_path / "a.lock") is Holder.UNKNOWN
    held.release()


def test_a_lock_swept_away_while_it_was_taken_is_taken_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file, real, calls = tmp_path / "a.lock", run_lock._take, list[bool]()

    def take(stream: object, *, wait: bool) -> None:
        calls.append(wait)
        if len(calls) == 1:
            file.unlink()
        real(stream, wait=wait)  # type: ignore[arg-type]

    monkeypatch.setattr(run_lock, "_take", take)
    held = RunLock(file)
    assert calls == [True, True]
    assert holder_of(file) is Holder.SOMEBODY
    held.release()


def test_a_process_of_someone_else_is_alive(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(_process: int, _signal: int) -> None:
        raise PermissionError

    monkeypatch.setattr(os, "kill", refuse)
    assert is_alive(1)
