"""The session: the one door through which anything at the desk changes."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from schemeforge.desk import DeskState, Direction, Document, Page, Places, Session, Surround
from schemeforge.errors import FileError, InputError, MissingFileError, SchemeForgeError
from schemeforge.paint import Paint
from schemeforge.scheme import Project, edits
from schemeforge.scheme.project_file import load, save
from tests.builders import small_paints, small_project, synthetic_paint


def rename(name: str) -> Callable[[Project], Project]:
    return lambda project: edits.rename_project(project, name)


def with_one_more(paint_id: str) -> Callable[[tuple[Paint, ...]], tuple[Paint, ...]]:
    return lambda shelf: (*shelf, synthetic_paint(paint_id))


class Heard:
    """Writes down every change."""

    def __init__(self, session: Session) -> None:
        self.changes: list[tuple[DeskState, DeskState]] = []
        self.stop = session.subscribe(lambda old, new: self.changes.append((old, new)))


def test_an_edit_makes_a_new_document_and_tells_it_once(session: Session) -> None:
    first, heard = session.state, Heard(session)
    session.edit("rename", rename("other"))
    ((old, new),) = heard.changes
    assert old is first
    assert new is session.state
    assert new.project.name == "other"
    assert (new.undo_label, new.redo_label, new.is_saved) == ("rename", "", False)
    assert new.project.schemes is old.project.schemes
    heard.stop()
    heard.stop()
    session.edit("rename", rename("third"))
    assert len(heard.changes) == 1


def test_what_changes_nothing_is_no_step_of_undo(session: Session) -> None:
    heard = Heard(session)
    session.edit("nothing", lambda project: project)
    session.edit("the same", rename(session.project.name))
    session.edit_shelf("nothing", lambda shelf: shelf)
    session.edit_shelf("the same", lambda shelf: (*shelf[:1], *shelf[1:]))
    session.select(page=session.state.selection.page)
    session.prefer(numbers=session.state.preferences.numbers)
    assert heard.changes == []
    assert not session.undo()
    assert not session.redo()


def test_a_refused_edit_changes_nothing(session: Session) -> None:
    heard, first = Heard(session), session.state
    with pytest.raises(InputError):
        session.edit("rename", rename(""))
    with pytest.raises(SchemeForgeError):
        session.edit("remove", lambda p: edits.remove_scheme(p, "no such scheme"))
    assert heard.changes == []
    assert session.state is first


def test_undo_to_the_beginning_and_back_covers_project_and_shelf(session: Session) -> None:
    first = session.state.document
    session.edit("one", rename("one"))
    session.edit_shelf("paint", with_one_more("new"))
    session.edit("two", rename("two"))
    last = session.state.document
    labels = []
    while session.undo():
        labels.append(session.state.redo_label)
    assert labels == ["two", "paint", "one"]
    assert session.state.document is first
    assert session.state.is_saved
    while session.redo():
        pass
    assert session.state.document is last
    assert session.state.redo_label == ""


def test_a_drag_is_one_step(session: Session) -> None:
    for number in range(30):
        session.edit("drag", rename(f"n{number}"), merge="drag")
    session.end_drag()
    session.edit("drag", rename("next drag"), merge="drag")
    assert session.undo()
    assert session.project.name == "n29"
    assert session.undo()
    assert session.project.name == "small project"
    assert not session.undo()


def test_the_shelf_is_saved_last_and_its_trouble_leaves_all_agreed(places: Places) -> None:
    saved: list[tuple[Paint, ...]] = []

    def saver(shelf: tuple[Paint, ...]) -> None:
        if len(saved) == 1:
            raise FileError("The shelf cannot be written")
        saved.append(shelf)

    session = Session(small_project(), places=places, shelf=small_paints(), shelf_saver=saver)
    heard = Heard(session)
    session.edit("rename", rename("other"))
    assert saved == []
    session.edit_shelf("paint", with_one_more("a"))
    assert saved == [session.state.document.shelf]
    with pytest.raises(FileError):
        session.edit_shelf("paint", with_one_more("b"))
    assert session.state.document.shelf[-1].id == "b"
    assert heard.changes[-1][1] is session.state
    session.close()


def test_what_other_windows_did_to_the_shelf_is_taken_up_and_outlives_undo(
    places: Places,
) -> None:
    news: list[Callable[[tuple[Paint, ...]], tuple[Paint, ...]] | None] = []
    saved: list[tuple[Paint, ...]] = []
    session = Session(
        small_project(),
        places=places,
        shelf=small_paints(),
        shelf_saver=saved.append,
        shelf_news=lambda: news.pop() if news else None,
    )
    heard = Heard(session)
    assert session.take_up_shelf() == 0
    assert heard.changes == []
    session.edit_shelf("paint", with_one_more("mine"))
    news.append(with_one_more("theirs"))
    assert session.take_up_shelf() == 1
    shelf = session.state.document.shelf
    assert [paint.id for paint in shelf[-2:]] == ["mine", "theirs"]
    assert heard.changes[-1][1] is session.state
    assert session.state.undo_label == "paint"
    assert len(saved) == 1  # what came from the disk is not written again
    assert session.undo()
    assert session.state.document.shelf == (*small_paints(), synthetic_paint("theirs"))
    assert saved[-1] == session.state.document.shelf
    assert not session.undo()
    assert session.redo()
    assert session.state.document.shelf == shelf
    session.close()


def test_every_watcher_hears_changes_in_order_also_those_made_while_hearing(
    session: Session,
) -> None:
    def restless(_old: DeskState, new: DeskState) -> None:
        if not new.preferences.numbers:
            session.prefer(numbers=True)

    session.subscribe(restless)
    late = Heard(session)
    first = session.state
    session.select(page=Page.SHEET)
    (before, between), (again, after) = late.changes
    assert before is first
    assert between is again
    assert after is session.state
    assert (between.selection.page, between.preferences.numbers) == (Page.SHEET, False)
    assert after.preferences.numbers


def test_a_watcher_that_fails_stops_neither_journal_nor_later_changes(session: Session) -> None:
    def bad(_old: DeskState, new: DeskState) -> None:
        if new.project.name == "bad":
            raise ValueError("a view failed")

    session.subscribe(bad)
    with pytest.raises(ValueError, match="a view failed"):
        session.edit("rename", rename("bad"))
    assert session.journal.flush()
    assert '"bad"' in session.journal.file.read_text(encoding="utf-8")
    session.edit("rename", rename("good"))
    assert session.project.name == "good"


def test_selections_are_mended_when_what_they_name_goes(session: Session) -> None:
    session.edit("copy", lambda p: edits.duplicate_scheme(p, "first"))
    copied = session.project.schemes[1].id
    session.select(scheme_id=copied, zone_id="cloak", step_id="red")
    assert session.state.step is not None
    session.edit("remove step", lambda p: edits.remove_step(p, copied, "red"))
    assert session.state.selection.step_id == "wash"
    session.undo()
    assert session.state.selection.step_id == "wash"
    session.edit("empty", lambda p: edits.set_zones(p, copied, "prime", ("hide",)))
    for step_id in ("spray", "wash", "red"):
        session.edit("empty", lambda p, s=step_id: edits.remove_step(p, copied, s))  # type: ignore[misc]
    assert session.state.selection.step_id == ""
    session.edit("remove scheme", lambda p: edits.remove_scheme(p, copied))
    assert session.state.selection.scheme_id == "first"
    session.edit("remove zone", lambda p: edits.remove_zone(p, "cloak"))
    assert session.state.selection.zone_id == "hide"


def test_selections_without_anything_to_select(places: Places) -> None:
    bare = Project(id="bare", name="bare")
    session = Session(bare, places=places)
    state = session.state
    assert (state.scheme, state.zone, state.step) == (None, None, None)
    session.select(zone_id="nowhere", step_id="never", direction=Direction.ALONG)
    assert session.state.selection.zone_id == ""
    session.close()


def test_preferences_outlast_the_run(session: Session, places: Places) -> None:
    session.prefer(surround=Surround.DARK, numbers=True)
    again = Session(small_project(), places=session.places)
    assert again.places is places
    assert again.state.preferences == session.state.preferences
    again.close()


def test_save_as_then_save_then_revert(session: Session, tmp_path: Path) -> None:
    with pytest.raises(FileError, match="no file yet"):
        session.save()
    with pytest.raises(FileError, match="no file to go back to"):
        session.revert()
    path = tmp_path / "mine.schemeforge"
    session.edit("rename", rename("one"))
    assert session.save(path) == path
    assert session.state.is_saved
    assert session.state.path == path
    assert session.state.recent == (path,)
    assert session.state.undo_label == "rename"
    assert session.undo()
    assert not session.state.is_saved
    assert session.redo()
    assert session.state.is_saved
    session.edit("rename", rename("two"), merge="typing")
    session.save()
    assert load(path).name == "two"
    session.edit("rename", rename("three"), merge="typing")
    session.undo()
    assert session.project.name == "two"  # saving ends merging
    session.redo()
    session.revert()
    assert session.project.name == "two"
    assert session.state.is_saved
    assert not session.undo()


def test_a_save_that_fails_changes_nothing(session: Session, tmp_path: Path) -> None:
    session.edit("rename", rename("one"))
    before = session.state
    with pytest.raises(FileError):
        session.save(tmp_path / "no such folder" / "a.schemeforge")
    assert session.state is before
    assert session.journal.flush()
    assert session.journal.file.exists()


def test_opening_replaces_the_document_and_keeps_the_shelf(
    session: Session, tmp_path: Path
) -> None:
    path = tmp_path / "other.schemeforge"
    save(replace(small_project(), name="other"), path)
    session.edit_shelf("paint", with_one_more("new"))
    session.edit("rename", rename("mine"))
    session.select(page=Page.BATCH)
    session.open(path)
    state = session.state
    assert state.project.name == "other"
    assert state.document.shelf[-1].id == "new"
    assert state.selection.page is Page.BATCH
    assert (state.path, state.is_saved, state.undo_label) == (path, True, "")
    assert not session.journal.file.exists()


def test_a_file_that_cannot_be_opened_changes_nothing_and_leaves_the_recent_ones(
    session: Session, tmp_path: Path
) -> None:
    good, bad = tmp_path / "good.schemeforge", tmp_path / "bad.schemeforge"
    save(small_project(), good)
    bad.write_text("{", encoding="utf-8")
    session.open(good)
    session.edit("rename", rename("mine"))
    before = session.state
    with pytest.raises(SchemeForgeError):
        session.open(bad)
    assert session.state is before
    with pytest.raises(MissingFileError):
        session.open(tmp_path / "none.schemeforge")
    assert session.state is before
    good.unlink()
    with pytest.raises(MissingFileError):
        session.open(good)
    assert session.state.recent == ()
    assert session.state.document is before.document


def test_recent_files_newest_first_ten_at_most_shared_between_windows(
    session: Session, places: Places, tmp_path: Path
) -> None:
    files = [tmp_path / f"{n}.schemeforge" for n in range(12)]
    other = Session(small_project(), places=places)
    for n, file in enumerate(files):
        save(small_project(), file)
        (session if n % 2 else other).open(file)
    assert session.state.recent == tuple(reversed(files))[:10]
    session.open(files[5])
    assert session.state.recent[0] == files[5]
    assert len(session.state.recent) == 10
    session.open(files[5])
    later = Session(small_project(), places=places)
    assert later.state.recent == session.state.recent
    for one in (other, later):
        one.close()


def test_two_windows_on_one_file_know_of_each_other(places: Places, tmp_path: Path) -> None:
    path = tmp_path / "shared.schemeforge"
    save(small_project(), path)
    one, two = (Session(small_project(), places=places) for _ in range(2))
    one.open(path)
    two.open(path)
    assert not one.is_overtaken()
    two.edit("rename", rename("from the other window"))
    two.save()
    assert not two.is_overtaken()
    assert one.is_overtaken()
    assert one.is_overtaken(path)
    assert not one.is_overtaken(tmp_path / "elsewhere.schemeforge")
    one.edit("rename", rename("mine"))
    one.save()
    assert not one.is_overtaken()
    path.unlink()
    assert not one.is_overtaken()
    fresh = Session(small_project(), places=places)
    assert not fresh.is_overtaken()
    for session in (one, two, fresh):
        session.close()


def test_a_session_may_start_on_a_file(places: Places, tmp_path: Path) -> None:
    path = tmp_path / "a.schemeforge"
    save(small_project(), path)
    session = Session(load(path), places=places, path=path)
    assert session.state.path == path
    assert not session.is_overtaken()
    session.close()


def test_closing_drops_the_journal_unless_told_to_keep_it(places: Places) -> None:
    for keep, count in ((True, 1), (False, 1)):
        session = Session(small_project(), places=places)
        session.edit("rename", rename(f"kept {keep}"))
        session.close(keep_journal=keep)
        left = Session(small_project(), places=places).leftovers()
        assert [found.project.name for found in left] == ["kept True"] * count


def test_unsaved_work_is_recovered_then_its_journal_goes(places: Places, tmp_path: Path) -> None:
    path = tmp_path / "mine.schemeforge"
    save(small_project(), path)
    crashed = Session(small_project(), places=places)
    crashed.open(path)
    crashed.edit("rename", rename("unsaved"))
    crashed.close(keep_journal=True)

    later = Session(small_project(), places=places)
    (left,) = later.leftovers()
    later.recover(left)
    assert later.project.name == "unsaved"
    assert (later.state.path, later.state.is_saved) == (path, False)
    assert not left.file.exists()
    assert later.journal.file.exists()
    assert later.leftovers() == ()
    later.edit("rename", rename("more"))
    later.undo()
    assert not later.state.is_saved
    later.save()
    assert later.state.is_saved
    assert load(path).name == "unsaved"
    assert not later.journal.file.exists()
    later.close()


def test_a_recovery_that_cannot_be_kept_leaves_the_old_journal(places: Places) -> None:
    crashed = Session(small_project(), places=places)
    crashed.edit("rename", rename("unsaved"))
    crashed.close(keep_journal=True)
    told: list[str] = []
    later = Session(small_project(), places=places)
    later.on_journal_problem = told.append
    (left,) = later.leftovers()
    later.journal.file.with_suffix(".new").mkdir()  # so that it cannot be written
    later.recover(left)
    assert later.project.name == "unsaved"
    assert left.file.exists()
    assert len(told) == 1
    later.close()


def test_undoing_to_what_the_file_holds_drops_the_journal(session: Session) -> None:
    session.edit("rename", rename("other"))
    assert session.journal.flush()
    assert session.journal.file.exists()
    session.undo()
    assert session.journal.flush()
    assert not session.journal.file.exists()
    session.redo()
    assert session.journal.flush()
    assert session.journal.file.exists()


def test_a_drag_is_in_the_journal_once_let_go(session: Session) -> None:
    session.edit("rename", rename("first"))
    assert session.journal.flush()
    session.edit("drag", rename("dragged"), merge="drag")
    assert '"first"' in session.journal.file.read_text(encoding="utf-8")
    session.end_drag()
    assert session.journal.flush()
    assert '"dragged"' in session.journal.file.read_text(encoding="utf-8")


def test_a_document_compares_by_content(session: Session) -> None:
    assert session.state.document == Document(project=small_project(), shelf=small_paints())
