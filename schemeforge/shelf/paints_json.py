"""Paints as a JSON file of their own, to hand to someone else or to another machine."""

from collections.abc import Iterable
from typing import Any

from schemeforge import codec, json_text
from schemeforge.errors import DamagedFileError, NewerVersionError, SchemeForgeError
from schemeforge.paint import Paint
from schemeforge.shelf.limits import MOST_PAINTS

FORMAT = "schemeforge-paints"
VERSION = 1


def to_json(paints: Iterable[Paint]) -> str:
    """The paints as JSON text; numbers read back exactly."""
    listed = [codec.encode(paint) for paint in paints]
    return json_text.layout({"format": FORMAT, "version": VERSION, "paints": listed})


def from_json(text: str) -> tuple[Paint, ...]:
    """The paints that the text spells.

    Raises:
        DamagedFileError: For text that is not what ``to_json`` writes; names the place.
        NewerVersionError: For a later version.
        InputError: For a paint that cannot be; names the place.
    """
    tree = json_text.parse(text)
    if not isinstance(tree, dict) or tree.get("format") != FORMAT:
        raise DamagedFileError("This is no file of paints", remedy="choose one exported as paints")
    _check_version(tree)
    listed = tree.get("paints")
    if not isinstance(listed, list) or set(tree) != {"format", "version", "paints"}:
        raise DamagedFileError('The file has more or less than "paints"', remedy="export it again")
    if len(listed) > MOST_PAINTS:
        raise DamagedFileError(f"The file holds more than {MOST_PAINTS} paints", remedy="split it")
    return tuple(_paint(place, plain) for place, plain in enumerate(listed))


def _paint(place: int, plain: object) -> Paint:
    try:
        return codec.decode(Paint, plain)
    except SchemeForgeError as error:
        raise error.at(f"paints[{place}]") from None


def _check_version(tree: dict[str, Any]) -> None:
    version = tree.get("version")
    if type(version) is not int or version < 1:
        raise DamagedFileError("The file does not tell its version", remedy="export it again")
    if version > VERSION:
        raise NewerVersionError(
            f"The file is of a later version than {VERSION}", remedy="update SchemeForge"
        )
