"""The shelf's file: exact, whole or not at all, shared by two windows, never spoilt."""

import contextlib
import os
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path
from threading import Barrier, BrokenBarrierError

import pytest
from hypothesis import given, settings

from schemeforge.errors import (
    DamagedFileError,
    FileError,
    InputError,
    MissingFileError,
    NewerVersionError,
)
from schemeforge.paint import Paint, Stock
from schemeforge.shelf import store as store_module
from schemeforge.shelf.limits import MOST_BYTES
from schemeforge.shelf.starter import starter_paints
from schemeforge.shelf.store import ShelfStore, merged_rows
from tests.shelf.strategies import SHELVES

A, B, C, D = starter_paints()[:4]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "made on demand" / "shelf 100%#.sqlite3"


@settings(max_examples=25, deadline=None)
@given(SHELVES, SHELVES)
def test_what_is_saved_is_loaded_in_its_order(
    first: tuple[Paint, ...], then: tuple[Paint, ...]
) -> None:
    with tempfile.TemporaryDirectory() as folder:
        store = ShelfStore(Path(folder) / "shelf")
        for paints in (first, then, then[::-1]):
            store.save(paints)
            assert ShelfStore(store.path).load() == paints


def test_a_shelf_that_is_not_there_is_empty_and_is_not_made_by_looking(path: Path) -> None:
    assert ShelfStore(path).load() == ()
    assert not path.parent.exists()


def test_the_first_time_the_starter_shelf_is_put_there(path: Path) -> None:
    assert ShelfStore(path).load_or_begin((A, B)) == (A, B)
    assert ShelfStore(path).load() == (A, B)
    assert ShelfStore(path).load_or_begin((C,)) == (A, B)


def test_a_shelf_that_was_emptied_stays_empty(path: Path) -> None:
    store = ShelfStore(path)
    store.load_or_begin((A,))
    store.save(())
    assert ShelfStore(path).load_or_begin((A,)) == ()


def test_an_empty_file_is_a_shelf_to_begin(path: Path) -> None:
    path.parent.mkdir()
    path.touch()
    assert ShelfStore(path).load() == ()
    assert ShelfStore(path).load_or_begin((A,)) == (A,)


def test_nothing_is_left_beside_the_shelf(path: Path) -> None:
    store = ShelfStore(path)
    store.load_or_begin((A,))
    store.save((A, B))
    assert list(path.parent.iterdir()) == [path]


def test_what_did_not_change_is_not_written(path: Path) -> None:
    store = ShelfStore(path)
    store.load_or_begin((A, B))
    before = path.read_bytes()
    store.save((A, B))
    assert path.read_bytes() == before


def two_windows(path: Path) -> tuple[ShelfStore, ShelfStore]:
    ShelfStore(path).save((A, B))
    one, two = ShelfStore(path), ShelfStore(path)
    assert one.load() == two.load() == (A, B)
    return one, two


def test_a_paint_that_the_other_window_added_stays(path: Path) -> None:
    one, two = two_windows(path)
    one.save((A, B, C))
    two.save((A, B, D))
    assert set(ShelfStore(path).load()) == {A, B, C, D}
    one.save((A, C))
    assert set(ShelfStore(path).load()) == {A, C, D}


def test_changes_to_different_paints_both_stay(path: Path) -> None:
    one, two = two_windows(path)
    poured, renamed = replace(A, stock=Stock(left_ml=3.0)), replace(B, name="renamed")
    one.save((poured, B))
    two.save((A, renamed))
    assert ShelfStore(path).load() == (poured, renamed)


def test_a_paint_that_the_other_window_removed_does_not_come_back_unless_changed(
    path: Path,
) -> None:
    one, two = two_windows(path)
    one.save((B,))
    two.save((A, B, C))
    assert set(ShelfStore(path).load()) == {B, C}
    two.save((replace(A, note="needed"), B, C))
    assert replace(A, note="needed") in ShelfStore(path).load()


def test_a_new_order_is_kept_and_strangers_stay_behind_their_neighbour(path: Path) -> None:
    one, two = two_windows(path)
    one.save((A, C, B))
    two.save((B, A))
    assert ShelfStore(path).load() == (B, A, C)


def test_undo_after_the_other_windows_change_takes_back_its_own_only(path: Path) -> None:
    one, two = two_windows(path)
    one.save((A, B, C))
    two.save((A, B, D))
    one.save((A, B))
    assert ShelfStore(path).load() == (A, B, D)


def test_news_is_what_the_other_window_did_and_leaves_what_this_one_has(path: Path) -> None:
    one, two = two_windows(path)
    assert one.news() is None
    poured = replace(A, stock=Stock(left_ml=3.0))
    two.save((poured, D))
    news = one.news()
    assert news is not None
    assert news((A, B)) == (poured, D)
    assert news((A, B, C)) == (poured, D, C)
    assert news((replace(A, note="mine"), B)) == (replace(A, note="mine"), D)
    assert one.news() is None
    one.save((poured, D, C))
    assert ShelfStore(path).load() == (poured, D, C)


def test_news_that_came_with_a_save_is_told_afterwards(path: Path) -> None:
    one, two = two_windows(path)
    two.save((A, B, D))
    one.save((A, B, C))
    news = one.news()
    assert news is not None
    assert set(news((A, B, C))) == {A, B, C, D}


def test_a_store_that_never_loaded_or_whose_file_is_gone_has_no_news(path: Path) -> None:
    one, _ = two_windows(path)
    assert ShelfStore(path).news() is None
    path.unlink()
    assert one.news() is None


def test_a_store_that_never_loaded_removes_nothing(path: Path) -> None:
    ShelfStore(path).save((A, B))
    ShelfStore(path).save((C,))
    assert set(ShelfStore(path).load()) == {A, B, C}


def test_merging_is_three_way() -> None:
    before, new = {"a": "1", "b": "1", "d": "1"}, {"a": "2", "c": "1"}
    held = {"x": "1", "a": "1", "b": "1", "d": "3"}
    merged = merged_rows(before, new, held)
    assert list(merged.items()) == [("x", "1"), ("a", "2"), ("d", "3"), ("c", "1")]
    assert merged_rows(before, before, held) == held


def test_paints_that_two_windows_add_under_one_id_are_both_kept(path: Path) -> None:
    one, two = two_windows(path)
    mine, theirs = C, replace(C, name="another", note="from the other window")
    one.save((A, B, mine))
    two.save((A, B, theirs))
    moved = replace(mine, id=f"{C.id}-2")
    assert set(ShelfStore(path).load()) == {A, B, theirs, moved}
    news = one.news()
    assert news is not None
    assert set(news((A, B, mine))) == {A, B, theirs, moved}
    # The first window takes back what it added: the second's stays.
    assert theirs in one.load()
    one.save((A, B, theirs))
    assert set(ShelfStore(path).load()) == {A, B, theirs}


def test_undo_of_a_paint_whose_id_the_other_window_took_leaves_theirs(path: Path) -> None:
    one, two = two_windows(path)
    theirs = replace(C, name="another")
    one.save((A, B, C))
    two.save((A, B, theirs))
    one.save((A, B))
    assert theirs in ShelfStore(path).load()


def test_a_locked_shelf_is_told_in_a_sentence_and_saved_later(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(store_module, "BUSY_SECONDS", 0.05)
    store = ShelfStore(path)
    store.load_or_begin((A,))
    other = sqlite3.connect(path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with pytest.raises(FileError, match="in use by another window; wait a moment"):
        store.save((A, B))
    other.execute("ROLLBACK")
    other.close()
    store.save((A, B))
    assert ShelfStore(path).load() == (A, B)


DIE = """
import os, sys
from pathlib import Path
from schemeforge.shelf import store
from schemeforge.shelf.starter import starter_paints

write = store._write
def die(shelf, rows):
    shelf.execute("PRAGMA cache_size = 1")  # so that pages reach the disk before the end
    shelf.execute("PRAGMA cache_spill = 1")
    write(shelf, rows)
    shelf.execute("UPDATE paint SET body = body || ?", (" " * 20000,))
    os._exit(9)
store._write = die
store.ShelfStore(Path(sys.argv[1])).save(starter_paints()[:30])
"""


def test_a_process_killed_in_the_middle_of_saving_changes_nothing(path: Path) -> None:
    store = ShelfStore(path)
    store.load_or_begin((A, B))
    done = subprocess.run(  # noqa: S603 - our own interpreter on our own text
        [sys.executable, "-c", DIE, str(path)], check=False, timeout=120
    )
    assert done.returncode == 9
    assert path.with_name(path.name + "-journal").exists(), "the kill came too early to matter"
    assert ShelfStore(path).load() == (A, B)
    store.save((A, B, C))
    assert ShelfStore(path).load() == (A, B, C)


def test_a_process_killed_in_the_middle_of_the_first_save_leaves_a_shelf_to_begin(
    path: Path,
) -> None:
    done = subprocess.run(  # noqa: S603 - our own interpreter on our own text
        [sys.executable, "-c", DIE, str(path)], check=False, timeout=120
    )
    assert done.returncode == 9
    assert ShelfStore(path).load_or_begin((A,)) == (A,)


def test_an_error_in_the_middle_of_saving_changes_nothing(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store = ShelfStore(path)
    store.load_or_begin((A, B))

    def half(shelf: sqlite3.Connection, _rows: dict[str, str]) -> None:
        shelf.execute("DELETE FROM paint WHERE id = ?", (A.id,))
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(store_module, "_write", half)
        with pytest.raises(FileError, match="No space left"):
            store.save((A, B, C))
    assert ShelfStore(path).load() == (A, B)
    store.save((A, B, C))
    assert ShelfStore(path).load() == (A, B, C)


def test_windows_that_save_at_the_same_time_wait_for_each_other(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    ShelfStore(path).load_or_begin((A,))
    both_in_the_middle = Barrier(2)

    def merge(before: dict[str, str], new: dict[str, str], held: dict[str, str]) -> dict[str, str]:
        # Were both let in, each would read before either writes, and one would have to fail.
        with contextlib.suppress(BrokenBarrierError):
            both_in_the_middle.wait(timeout=0.3)
        return merged_rows(before, new, held)

    monkeypatch.setattr(store_module, "merged_rows", merge)
    windows = [ShelfStore(path), ShelfStore(path)]
    for window in windows:
        window.load()
    with ThreadPoolExecutor(2) as pool:
        saved = [pool.submit(w.save, (A, new)) for w, new in zip(windows, (B, C), strict=True)]
    for done in saved:
        done.result()
    assert set(ShelfStore(path).load()) == {A, B, C}


def spoil(path: Path, *statements: str) -> None:
    shelf = sqlite3.connect(path)
    for statement in statements:
        shelf.execute(statement)
    shelf.commit()
    shelf.close()


def begun(path: Path) -> None:
    ShelfStore(path).load_or_begin((A, B))


def cut_short(path: Path) -> None:
    begun(path)
    path.write_bytes(path.read_bytes()[:5000])


def overwritten(path: Path) -> None:
    begun(path)
    data = bytearray(path.read_bytes())
    data[4096:] = b"\xff" * (len(data) - 4096)
    path.write_bytes(data)


def text(path: Path) -> None:
    path.parent.mkdir()
    path.write_text("paints: none\n" * 400)


def sql(*statements: str) -> Callable[[Path], None]:
    def spoilt(path: Path) -> None:
        begun(path)
        spoil(path, *statements)

    return spoilt


def foreign(path: Path) -> None:
    path.parent.mkdir()
    spoil(path, "CREATE TABLE recipe (name TEXT)")


@pytest.mark.parametrize(
    ("spoilt", "sentence"),
    [
        (cut_short, "This is not a shelf, or it is damaged; restore"),
        (overwritten, "This is not a shelf, or it is damaged; restore"),
        (text, "This is not a shelf, or it is damaged; restore"),
        (foreign, "This is not a shelf of SchemeForge; choose another file"),
        (sql("UPDATE paint SET body = '{'"), "cut short; restore"),
        (sql("UPDATE paint SET body = x'00ff'"), "is damaged; restore"),
        (sql("UPDATE paint SET body = '{}'"), "; restore"),
        (
            sql(
                "UPDATE paint SET body = replace(body, 'volume_solids\": 0', 'volume_solids\": 7')"
            ),
            "volume solids is 7",
        ),
        (sql("UPDATE paint SET id = 'other' WHERE place = 0"), "an id that is not its own"),
        (sql("DROP TABLE paint"), "is damaged; restore"),
        (
            sql(
                "DROP TABLE paint",
                "CREATE VIEW paint AS WITH RECURSIVE n(id) AS (SELECT 1 UNION ALL SELECT id + 1"
                " FROM n) SELECT id, id AS place, id AS body FROM n",
            ),
            "is damaged; restore",
        ),
        (
            sql("CREATE TRIGGER t AFTER INSERT ON paint BEGIN DELETE FROM paint; END"),
            "is damaged; restore",
        ),
        (sql("PRAGMA user_version = 2"), "of version 2, this program reads up to version 1"),
    ],
)
def test_a_damaged_or_newer_shelf_is_told_in_a_sentence_and_left_as_it_is(
    path: Path, spoilt: Callable[[Path], None], sentence: str
) -> None:
    spoilt(path)
    before = path.read_bytes()
    store = ShelfStore(path)
    for action in (store.load, lambda: store.load_or_begin((A,)), lambda: store.save((C,))):
        with pytest.raises((DamagedFileError, NewerVersionError)) as caught:
            action()
        assert sentence in caught.value.sentence
        assert str(path) in caught.value.sentence
        assert "\n" not in caught.value.sentence
    assert path.read_bytes() == before


def test_a_huge_file_is_refused_before_it_is_read(path: Path) -> None:
    path.parent.mkdir()
    path.touch()
    os.truncate(path, MOST_BYTES + 1)
    with pytest.raises(DamagedFileError, match="larger than the 256 MB"):
        ShelfStore(path).load()


def test_a_folder_in_its_place_is_told(path: Path) -> None:
    path.mkdir(parents=True)
    with pytest.raises(MissingFileError, match="cannot be opened"):
        ShelfStore(path).load()


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(MissingFileError, match="check its folder"):
        ShelfStore(tmp_path / "file" / "shelf").save((A,))


def test_two_paints_of_one_id_are_refused(path: Path) -> None:
    begun(path)
    store = ShelfStore(path)
    store.load()
    with pytest.raises(InputError, match="stands twice"):
        store.save((A, replace(A, name="twin")))
    assert ShelfStore(path).load() == (A, B)
