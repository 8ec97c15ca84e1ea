"""Undo as a list of documents."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from schemeforge.desk import Document, History
from tests.builders import small_project

FIRST = Document(project=small_project())


def named(name: str) -> Document:
    return Document(project=replace(FIRST.project, name=name))


def test_a_fresh_history_has_nothing_to_undo_and_is_saved() -> None:
    history = History(FIRST)
    assert (history.undo_label, history.redo_label) == ("", "")
    assert not history.undo()
    assert not history.redo()
    assert history.is_saved


def test_labels_name_what_comes_next() -> None:
    history = History(FIRST)
    history.push(named("one"), "first")
    history.push(named("two"), "second")
    assert history.undo_label == "second"
    assert history.undo()
    assert (history.undo_label, history.redo_label) == ("first", "second")


def test_edits_under_one_key_are_one_step_until_sealed() -> None:
    history = History(FIRST)
    for name in ("a", "b", "c"):
        history.push(named(name), "typing", "name")
    history.seal()
    history.push(named("d"), "typing", "name")
    assert history.undo()
    assert history.document.project.name == "c"
    assert history.undo()
    assert history.document is FIRST
    assert not history.undo()


def test_another_key_or_none_ends_merging() -> None:
    history = History(FIRST)
    history.push(named("a"), "x", "one")
    history.push(named("b"), "x", "two")
    history.push(named("c"), "x")
    history.push(named("d"), "x")
    steps = 0
    while history.undo():
        steps += 1
    assert steps == 4


def test_a_new_edit_drops_what_was_undone_and_never_merges_into_the_beginning() -> None:
    history = History(FIRST)
    history.push(named("a"), "x", "key")
    history.undo()
    history.push(named("b"), "y", "key")
    assert history.redo_label == ""
    assert history.undo()
    assert history.document is FIRST


def test_undo_and_redo_end_merging() -> None:
    history = History(FIRST)
    history.push(named("a"), "x", "key")
    history.undo()
    history.redo()
    history.push(named("b"), "x", "key")
    history.undo()
    assert history.document.project.name == "a"


def test_saved_is_what_the_file_holds_however_one_comes_to_it() -> None:
    history = History(FIRST)
    history.push(named("a"), "x")
    assert not history.is_saved
    history.mark_saved()
    assert history.is_saved
    history.undo()
    assert not history.is_saved
    history.redo()
    assert history.is_saved
    history.push(named("b"), "x")
    history.push(named("a"), "back by hand")
    assert history.is_saved
    history.mark_unsaved()
    assert not history.is_saved


@given(st.lists(st.tuples(st.sampled_from("pmsur"), st.integers(0, 3)), max_size=40))
def test_it_agrees_with_plain_lists(actions: list[tuple[str, int]]) -> None:
    """The oracle: a list of documents done and one of documents undone."""
    history, done, undone = History(FIRST), [FIRST], list[Document]()
    merging = ""
    for number, (action, key) in enumerate(actions):
        if action in "pm":
            document, merge = named(f"n{number}"), f"k{key}" if action == "m" else ""
            history.push(document, "label", merge)
            if merge and merge == merging:
                done[-1] = document
            else:
                done.append(document)
            merging, undone = merge, []
        elif action == "s":
            history.seal()
            merging = ""
        elif action == "u":
            assert history.undo() == (len(done) > 1)
            if len(done) > 1:
                undone.append(done.pop())
                merging = ""
        else:
            assert history.redo() == bool(undone)
            if undone:
                done.append(undone.pop())
                merging = ""
        assert history.document is done[-1]
        assert bool(history.undo_label) == (len(done) > 1)
        assert bool(history.redo_label) == bool(undone)
