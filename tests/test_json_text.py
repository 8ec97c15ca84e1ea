import json
import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schemeforge.errors import DamagedFileError
from schemeforge.json_text import MOST_BRACKETS, layout, parse

VALUES = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(st.characters(exclude_categories=["Cs"]), max_size=40),
    lambda inner: st.lists(inner, max_size=30) | st.dictionaries(st.text("ab:", max_size=9), inner),
)


@given(VALUES)
def test_what_is_laid_out_parses_back(value: Any) -> None:
    assert parse(layout(value)) == value


@given(st.lists(st.floats(allow_nan=False, allow_infinity=False), min_size=20, max_size=90))
def test_numbers_are_exact_and_lines_are_short(values: list[float]) -> None:
    text = layout({"absorption": values})
    assert all(len(line) <= 97 for line in text.splitlines())
    assert [v.hex() for v in parse(text)["absorption"]] == [v.hex() for v in values]


def test_short_things_stay_on_a_line_and_long_ones_are_indented() -> None:
    value = {"a": [1, 2], "rows": [{"name": "n" * 60}, {"name": "m" * 60}], "none": {}}
    assert layout(value) == (
        "{\n"
        '  "a": [1, 2],\n'
        '  "rows": [\n'
        f'    {{"name": "{"n" * 60}"}},\n'
        f'    {{"name": "{"m" * 60}"}}\n'
        "  ],\n"
        '  "none": {}\n'
        "}\n"
    )


def test_text_of_other_scripts_stays_readable() -> None:
    assert layout("ψ 墨") == '"ψ 墨"\n'


@pytest.mark.parametrize("value", [math.nan, math.inf])
def test_what_json_cannot_spell_is_not_written(value: float) -> None:
    with pytest.raises(ValueError, match="not JSON compliant"):
        layout([value])


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "The file is empty; open an earlier copy of it."),
        (" \n", "The file is empty"),
        ('{"a": 1,\n"b": [1, 2', "line 2: The file is cut short"),
        ('{"a": "unfin', "line 1: The file is cut short"),
        ('{"a": tru', "This is not JSON"),
        ("{\n'a': 1}", "line 2, column 1: This is not JSON (expecting property name"),
        ('{"a": 1} x', "line 1, column 10: This is not JSON (extra data)"),
        ('{"a": 1' + "0" * 5000 + "}", "A number in the file has too many digits"),
        ("[" * 100_000 + "]" * 100_000, "The file is nested too deeply"),
        ("[" + "[]," * MOST_BRACKETS + "1]", f"more than {MOST_BRACKETS} objects"),
        ('{"a": 1, "b": 2, "a": 3}', '"a" stands twice; remove one of the two.'),
        ('{"s": [1, {"t": {"x": 1, "x": 1}}]}', 's[1].t: "x" stands twice'),
        ('{"a": [{}, [1]], "s": {"x": 1, "x": 1}}', 's: "x" stands twice'),
        # the inner object that stands twice is itself dropped by the outer one
        ('{"s": {"x": 1, "x": 1}, "s": 4}', '"s" stands twice'),
    ],
)
def test_other_text_is_refused_in_a_sentence(text: str, words: str) -> None:
    with pytest.raises(DamagedFileError) as caught:
        parse(text)
    assert words in str(caught.value)
    assert len(str(caught.value)) < 200


@given(VALUES, st.data())
def test_cutting_a_text_short_never_gives_a_wrong_error(value: Any, data: st.DataObject) -> None:
    text = json.dumps([value])
    cut = text[: data.draw(st.integers(0, len(text) - 1))]
    with pytest.raises(DamagedFileError):
        parse(cut)
