from collections.abc import Callable
from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schemeforge import checks
from schemeforge.errors import InputError


def refusal(call: Callable[[], object]) -> str:
    with pytest.raises(InputError) as caught:
        call()
    return str(caught.value)


def test_numbers_become_floats_within_their_range() -> None:
    value = checks.number(3, "Film", low=0.0, high=3.0)
    assert value == 3.0
    assert type(value) is float
    assert checks.number(0.0, "Film", low=0.0, high=3.0) == 0.0


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (3.5, "Film is 3.5, outside 0 to 3 um; give a value from 0 to 3."),
        (-1, "Film is -1, outside 0 to 3 um"),
        (nan, "Film is nan, outside"),
        (inf, "Film is inf, outside"),
        (10**400, "Film is far too large, outside"),
        pytest.param(-(10**5000), "Film is far too large, outside", id="huge"),
        (True, "Film must be a number; give 0 to 3 um."),
        ("1", "Film must be a number"),
        (None, "Film must be a number"),
    ],
)
def test_other_numbers_are_refused(value: object, words: str) -> None:
    assert words in refusal(lambda: checks.number(value, "Film", low=0.0, high=3.0, unit="um"))


def test_whole_numbers_stay_whole() -> None:
    assert checks.whole(12, "Passes", low=1, high=12) == 12


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (13, "Passes is 13, outside 1 to 12; give a whole number from 1 to 12."),
        pytest.param(10**5000, "Passes is far too large", id="huge"),
        (2.0, "Passes must be a whole number; give 1 to 12."),
        (True, "Passes must be a whole number"),
    ],
)
def test_other_whole_numbers_are_refused(value: object, words: str) -> None:
    assert words in refusal(lambda: checks.whole(value, "Passes", low=1, high=12))


@pytest.mark.parametrize("name", ["reed cloak", "Schilfmäntel, dunkel", "ψ", "x" * 120])
def test_names_are_taken_as_they_are(name: str) -> None:
    assert checks.name(name, "Zone") == name


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("", "Zone has no name; give it one."),
        (" ", "Zone has no name"),
        (None, "Zone has no name"),
        ("x" * 121, "Zone is 121 characters long; keep it to 120 characters."),
        ("a\nb", "Zone contains control characters; remove them."),
        ("a\tb", "control characters"),
        ("a\x1b[31mb", "control characters"),
        ("a\u202eb", "control characters"),
        ("a\u2028b", "control characters"),
        ("a\x85b", "control characters"),
        ("a\ud800b", "control characters"),
    ],
)
def test_other_names_are_refused(name: object, words: str) -> None:
    assert words in refusal(lambda: checks.name(name, "Zone"))


def test_notes_may_have_lines_and_be_empty() -> None:
    for text in ("", "one\ntwo\tthree", "x" * 4000):
        assert checks.note(text, "Note") == text


@pytest.mark.parametrize(
    ("text", "words"),
    [(3, "Note must be text"), ("x" * 4001, "4001 characters"), ("\r", "control characters")],
)
def test_other_notes_are_refused(text: object, words: str) -> None:
    assert words in refusal(lambda: checks.note(text, "Note"))


@given(st.from_regex(r"[A-Za-z0-9][A-Za-z0-9_.-]{0,63}", fullmatch=True))
def test_ids_are_taken(value: str) -> None:
    assert checks.identifier(value, "Zone") == value


@pytest.mark.parametrize("value", ["", "-a", "a b", "é", "a\n", "x" * 65, None, "../a", "a/b"])
def test_other_ids_are_refused(value: object) -> None:
    assert "Zone has an id that is not usable" in refusal(lambda: checks.identifier(value, "Zone"))


def test_the_first_value_that_stands_twice_is_named() -> None:
    checks.unique(["a", "b"], "Step")
    assert refusal(lambda: checks.unique(iter("abcb"), "Step")) == (
        'Step "b" stands twice; give each its own id.'
    )
