"""Whatever happens to a saved project, loading it gives a project or one sentence."""

import json
from pathlib import Path
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from schemeforge.errors import SchemeForgeError
from schemeforge.scheme.project import Project
from schemeforge.scheme.project_file import dumps, loads
from tests.builders import small_project

SAVED = dumps(small_project())
OLD = (Path(__file__).parent / "data" / "version_1.schemeforge").read_text(encoding="utf-8")
HOSTILE = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(),
    st.just(10**400),
    st.floats(),
    st.text(max_size=20),
    st.sampled_from(["", "water", "hide", "first", "coat", "\ud800", "../../x", "=1+1", "<b>"]),
    st.just([]),
    st.just({}),
    st.just({"type": "coat"}),
    st.lists(st.integers(), max_size=3),
)


def outcome(text: str | bytes) -> Project | str:
    """The project, or the sentence; any other exception is a failure of the test."""
    try:
        project = loads(text, where="file")
    except SchemeForgeError as error:
        sentence = str(error)
        assert sentence.startswith("file: ")
        assert sentence.endswith(".")
        assert "\n" not in sentence
        assert len(sentence) < 600
        return sentence
    assert loads(dumps(project)) == project
    return project


def places(node: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """The path of every value inside the tree."""
    items: Any = ()
    if isinstance(node, dict):
        items = node.items()
    elif isinstance(node, list):
        items = enumerate(node)
    return [p for key, item in items for p in ((*path, key), *places(item, (*path, key)))]


def damage(tree: Any, draw: st.DataObject) -> None:
    """Deletes, replaces, doubles or renames one value somewhere."""
    path = draw.draw(st.sampled_from(places(tree)))
    owner = tree
    for key in path[:-1]:
        owner = owner[key]
    match draw.draw(st.sampled_from(["delete", "replace", "double", "rename"])):
        case "delete":
            del owner[path[-1]]
        case "replace":
            owner[path[-1]] = draw.draw(HOSTILE)
        case "double" if isinstance(owner, list):
            owner.append(owner[path[-1]])
        case _:
            value = owner[path[-1]]
            owner[path[-1]] = {draw.draw(st.text(max_size=5)): value}


@given(st.data(), st.sampled_from([SAVED, OLD]))
@settings(max_examples=300, deadline=None)
def test_damaged_values(data: st.DataObject, text: str) -> None:
    tree = json.loads(text)
    for _ in range(data.draw(st.integers(1, 3))):
        if places(tree):
            damage(tree, data)
    outcome(json.dumps(tree))


@given(st.integers(0, len(SAVED.encode()) - 2))
def test_truncated_files_are_never_taken(length: int) -> None:
    assert isinstance(outcome(SAVED.encode()[:length]), str)


@given(st.binary(max_size=200))
def test_random_bytes(data: bytes) -> None:
    assert isinstance(outcome(data), str)


@given(st.lists(st.tuples(st.integers(0, len(SAVED) - 1), st.integers(0, 255)), min_size=1))
def test_changed_bytes(changes: list[tuple[int, int]]) -> None:
    data = bytearray(SAVED.encode())
    for position, value in changes:
        data[position] = value
    outcome(bytes(data))


def test_the_undamaged_files_load() -> None:
    assert outcome(SAVED) == small_project()
    assert isinstance(outcome(OLD), Project)
