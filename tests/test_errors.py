import pickle
from typing import Any

import pytest

from schemeforge import errors
from schemeforge.errors import (
    DamagedFileError,
    FileError,
    InputError,
    MissingFileError,
    MissingLibraryError,
    NewerVersionError,
    PaintMissingError,
    ReadingError,
    SchemeForgeError,
    UnknownNameError,
    nearest,
    shown,
)


@pytest.mark.parametrize(
    ("pieces", "sentence"),
    [
        ({}, "Film is thin."),
        ({"where": "coat 2"}, "coat 2: Film is thin."),
        ({"remedy": "lay more"}, "Film is thin; lay more."),
        ({"where": "coat 2", "remedy": "lay more"}, "coat 2: Film is thin; lay more."),
    ],
)
def test_an_error_is_one_sentence(pieces: dict[str, str], sentence: str) -> None:
    error = SchemeForgeError("Film is thin", **pieces)
    assert str(error) == error.sentence == sentence


def test_an_outer_place_goes_before_the_inner_one_and_the_kind_stays() -> None:
    inner = UnknownNameError("light", "D56", ["D65", "A"])
    outer = inner.at("viewing").at("p.schemeforge")
    assert type(outer) is UnknownNameError
    assert str(outer) == (
        'p.schemeforge: viewing: There is no light called "D56"; did you mean "D65".'
    )
    assert inner.where == ""


@pytest.mark.parametrize(
    ("name", "known", "words"),
    [
        ("glos", ["matt", "gloss"], 'did you mean "gloss"'),
        ("zzz", ["matt", "gloss"], "choose one of matt, gloss."),
        ("zzz", [], "none is defined yet"),
        ("zzz", [f"n{i:02}" for i in range(13)], "n11 and 1 more."),
    ],
)
def test_an_unknown_name_suggests_the_nearest(name: str, known: list[str], words: str) -> None:
    assert words in str(UnknownNameError("finish", name, iter(known)))


def test_hostile_names_are_quoted_short_and_on_one_line() -> None:
    error = UnknownNameError("finish", "a\n\x1b" + "b" * 10**7, ["matt"])
    assert len(str(error)) < 200
    assert str(error).isprintable()


def test_what_is_quoted_keeps_ordinary_text() -> None:
    assert shown("Schilfmäntel ψ") == "Schilfmäntel ψ"
    assert shown("x" * 80) == "x" * 80
    assert shown("x" * 81) == "x" * 79 + "…"


def test_the_nearest_name_may_be_none() -> None:
    assert nearest("hidr", iter(["cloak", "hide"])) == "hide"
    assert nearest("q", ["cloak", "hide"]) == ""


def test_the_tree_is_the_one_that_the_module_draws() -> None:
    tree: dict[type[Any], type[Any]] = {
        InputError: SchemeForgeError,
        UnknownNameError: InputError,
        ReadingError: InputError,
        FileError: SchemeForgeError,
        DamagedFileError: FileError,
        NewerVersionError: FileError,
        MissingFileError: FileError,
        PaintMissingError: InputError,
        MissingLibraryError: SchemeForgeError,
    }
    assert {kind: kind.__base__ for kind in tree} == tree
    drawn = errors.__doc__ or ""
    public = {
        name
        for name, value in vars(errors).items()
        if isinstance(value, type) and issubclass(value, SchemeForgeError)
    }
    assert public == {kind.__name__ for kind in tree} | {"SchemeForgeError"}
    assert all(name in drawn for name in public)


@pytest.mark.parametrize(
    "error",
    [
        DamagedFileError("Cut short", where="line 3", remedy="open an earlier copy"),
        UnknownNameError("light", "D56", ["D65"], where="viewing"),
    ],
)
def test_errors_travel_between_processes(error: SchemeForgeError) -> None:
    twin = pickle.loads(pickle.dumps(error))  # noqa: S301 -- our own bytes
    assert type(twin) is type(error)
    assert str(twin) == str(error)
    assert twin.at("x").where == error.at("x").where
