"""JSON text to plain values and back: strict on reading, short lines on writing."""

import json
from collections import Counter
from collections.abc import Iterator
from typing import Any

from schemeforge.errors import DamagedFileError, shown

MOST_BRACKETS = 1_000_000
EARLIER = "open an earlier copy of it"
OURS = "use a file that SchemeForge wrote"
_WIDTH = 96
_ENCODER = json.JSONEncoder(ensure_ascii=False, allow_nan=False)


def parse(text: str) -> Any:
    """The plain value that the text spells.

    Raises:
        DamagedFileError: for text that is empty, cut short or not JSON (with its line), for a
            name that stands twice in one object (with its place), for too many objects or
            too deep nesting.
    """
    if not text.strip():
        raise DamagedFileError("The file is empty", remedy=EARLIER)
    if text.count("{") + text.count("[") > MOST_BRACKETS:
        raise DamagedFileError(
            f"The file holds more than {MOST_BRACKETS} objects", remedy="split the project"
        )
    twice: dict[int, tuple[object, str]] = {}  # holds the object, so that its id stays its own

    def collect(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        result = dict(pairs)
        if len(result) < len(pairs):
            counts = Counter(name for name, _ in pairs)
            twice[id(result)] = (result, counts.most_common(1)[0][0])
        return result

    try:
        tree = json.loads(text, object_pairs_hook=collect)
        if twice:
            _refuse_twice(tree, twice)
    except json.JSONDecodeError as error:
        raise _not_json(text, error) from None
    except RecursionError:
        raise DamagedFileError("The file is nested too deeply", remedy=OURS) from None
    except ValueError:  # Python refuses whole numbers of more than 4300 digits
        raise DamagedFileError("A number in the file has too many digits", remedy=OURS) from None
    return tree


def _not_json(text: str, error: json.JSONDecodeError) -> DamagedFileError:
    if error.pos >= len(text.rstrip()) or error.msg.startswith("Unterminated string"):
        return DamagedFileError(
            "The file is cut short",
            where=f"line {error.lineno}",
            remedy=EARLIER,
        )
    return DamagedFileError(
        f"This is not JSON ({error.msg[:1].lower()}{error.msg[1:]})",
        where=f"line {error.lineno}, column {error.colno}",
        remedy="correct that line or " + EARLIER,
    )


def _refuse_twice(tree: object, twice: dict[int, tuple[object, str]]) -> None:
    path, culprit = next((path, value) for path, value in _objects(tree, "") if id(value) in twice)
    raise DamagedFileError(
        f'"{shown(twice[id(culprit)][1])}" stands twice',
        where=path,
        remedy="remove one of the two",
    )


def _objects(value: object, path: str) -> Iterator[tuple[str, object]]:
    """Every object of the tree with its path, outer before inner."""
    if isinstance(value, dict):
        yield path, value
        for name, item in value.items():
            yield from _objects(item, f"{path}.{name}" if path else name)
    elif isinstance(value, list):
        for position, item in enumerate(value):
            yield from _objects(item, f"{path}[{position}]")


def layout(value: object) -> str:
    """The value as JSON text: what fits on a line stays on one, the rest is indented by two.

    Numbers are written so that they read back exactly.

    Raises:
        ValueError: for NaN and infinity, which JSON cannot spell.
    """
    return _lay_out(value, 0) + "\n"


def _lay_out(value: object, indent: int) -> str:
    flat = _flat(value)
    if indent + len(flat) <= _WIDTH or not isinstance(value, dict | list) or not value:
        return flat
    pad = " " * (indent + 2)
    if isinstance(value, dict):
        rows = [f"{_flat(name)}: {_lay_out(item, indent + 2)}" for name, item in value.items()]
        return "{\n" + ",\n".join(pad + row for row in rows) + "\n" + " " * indent + "}"
    if all(isinstance(item, int | float) for item in value):
        return "[\n" + _wrapped([_flat(item) for item in value], pad) + "\n" + " " * indent + "]"
    rows = [_lay_out(item, indent + 2) for item in value]
    return "[\n" + ",\n".join(pad + row for row in rows) + "\n" + " " * indent + "]"


def _wrapped(words: list[str], pad: str) -> str:
    """Numbers in lines of at most the page's width."""
    lines = [pad + words[0]]
    for word in words[1:]:
        if len(lines[-1]) + len(word) + 3 > _WIDTH:
            lines[-1] += ","
            lines.append(pad + word)
        else:
            lines[-1] += f", {word}"
    return "\n".join(lines)


def _flat(value: object) -> str:
    return _ENCODER.encode(value)
