"""Between frozen dataclasses and plain JSON values, driven by the types' own hints.

Writing leaves out what equals its field's default, ids and names excepted, so that files stay
short; a changed default therefore needs a migration. Reading is strict: an unknown field, a
missing one, or a value of another type is an error that names its place, for example
``schemes[1].steps[3].layer.wet_um``. Members of a union carry their class's name in small
letters as ``"type"``.
"""

import dataclasses
import math
import types
import typing
from collections.abc import Callable
from enum import StrEnum
from functools import cache
from typing import Any, NoReturn, TypeVar

from schemeforge.errors import DamagedFileError, SchemeForgeError, nearest, shown

TAG = "type"
MOST_ITEMS = 100_000
_ALWAYS = frozenset({"id", "name"})
_NEEDED = dataclasses.MISSING

T = TypeVar("T")
Reader = Callable[[Any], Any]
Writer = Callable[[Any], Any]


class _FaultError(Exception):
    """An error on its way out of nested readers, collecting its place as it goes."""

    def __init__(self, error: SchemeForgeError) -> None:
        super().__init__()
        self.error = error
        self.path: list[str] = []

    def located(self) -> SchemeForgeError:
        """The error with its place in front, of the same type."""
        path = "".join(reversed(self.path)).removeprefix(".")
        return self.error.at(path) if path else self.error


def decode(kind: type[T], value: object) -> T:
    """The dataclass that the plain value describes.

    Args:
        kind: A frozen dataclass whose fields are str, bool, int, float, StrEnum, dataclasses,
            tuples, unions of dataclasses, or any of these or None.
        value: As ``json.loads`` gives it.

    Raises:
        DamagedFileError: for an unknown or missing field, a wrong type, a number that is not
            finite, a list that is too long; with place and remedy.
        InputError: what the dataclass itself refuses, with the place put before it.
    """
    try:
        result: T = reader(typing.cast("Any", kind))(value)
    except _FaultError as fault:
        raise fault.located() from None
    return result


def encode(value: object) -> dict[str, Any]:
    """The plain value that describes the dataclass: the inverse of ``decode``."""
    plain: dict[str, Any] = writer(typing.cast("Any", type(value)))(value)
    return plain


def union_members(hint: object) -> tuple[type, ...]:
    """The dataclasses of a union, without None; empty where the hint is no union."""
    if typing.get_origin(hint) not in {types.UnionType, typing.Union}:
        return ()
    return tuple(member for member in typing.get_args(hint) if member is not type(None))


def tag(kind: type) -> str:
    """What stands under ``"type"`` for that member of a union."""
    return kind.__name__.lower()


def hints(kind: type) -> dict[str, Any]:
    """Name and type of each field of a dataclass, in order."""
    known = typing.get_type_hints(kind)
    return {field.name: known[field.name] for field in dataclasses.fields(kind)}


def default(field: dataclasses.Field[Any]) -> object:
    """The field's default value, or ``dataclasses.MISSING`` where it must be given."""
    if field.default_factory is not dataclasses.MISSING:
        return field.default_factory()
    return field.default


@cache
def reader(hint: Any) -> Reader:
    """Reads a plain value into that type; the result is cached per type."""
    simple = {float: _read_float, int: _read_int, bool: _read_bool, str: _read_str}
    if hint in simple:
        return simple[hint]
    if typing.get_origin(hint) is tuple:
        return _tuple_reader(typing.get_args(hint))
    members = union_members(hint)
    if members:
        optional = len(members) < len(typing.get_args(hint))
        inner = reader(members[0]) if len(members) == 1 else _union_reader(members)
        return (lambda value: None if value is None else inner(value)) if optional else inner
    if issubclass(hint, StrEnum):
        return _enum_reader(hint)
    return _dataclass_reader(hint)


@cache
def writer(hint: Any) -> Writer:
    """Writes a value of that type as a plain one; the result is cached per type."""
    if hint in {float, int, bool, str}:
        return typing.cast("Writer", hint)
    if typing.get_origin(hint) is tuple:
        inner = [writer(item) for item in typing.get_args(hint) if item is not Ellipsis]
        if len(inner) == 1:
            return lambda values: [inner[0](value) for value in values]
        return lambda values: [w(value) for w, value in zip(inner, values, strict=True)]
    members = union_members(hint)
    if members:
        if len(members) == 1:
            one = writer(members[0])
            return lambda value: None if value is None else one(value)
        by_type = {member: writer(member) for member in members}
        return lambda value: {TAG: tag(type(value))} | by_type[type(value)](value)
    if issubclass(hint, StrEnum):
        return str
    return _dataclass_writer(hint)


def _dataclass_writer(kind: type) -> Writer:
    known = hints(kind)
    rows = [(f.name, writer(known[f.name]), default(f)) for f in dataclasses.fields(kind)]

    def write(value: Any) -> dict[str, Any]:
        plain = {}
        for name, inner, usual in rows:
            item = getattr(value, name)
            if name in _ALWAYS or item != usual:
                plain[name] = inner(item)
        return plain

    return write


def _dataclass_reader(kind: type) -> Reader:
    readers = {name: reader(hint) for name, hint in hints(kind).items()}
    needed = [f.name for f in dataclasses.fields(kind) if default(f) is _NEEDED]
    title = _words(kind.__name__)

    def read(value: Any) -> Any:
        if not isinstance(value, dict):
            _refuse(f"{_a(value)} stands where a {title} belongs", "write { ... }")
        given = {}
        for name, item in value.items():
            if name not in readers:
                _refuse_field(name, title, readers)
            try:
                given[name] = readers[name](item)
            except _FaultError as fault:
                fault.path.append(f".{name}")
                raise
        for name in needed:
            if name not in given:
                _refuse(f'The {title} has no "{name}"', "add it")
        try:
            return kind(**given)
        except SchemeForgeError as error:
            raise _FaultError(error) from None

    return read


def _union_reader(members: tuple[type, ...]) -> Reader:
    by_tag = {tag(member): reader(member) for member in members}
    listed = ", ".join(f'"{name}"' for name in by_tag)

    def read(value: Any) -> Any:
        if not isinstance(value, dict):
            _refuse(f"{_a(value)} stands where an object belongs", "write { ... }")
        if TAG not in value:
            _refuse(f'The object has no "{TAG}"', f"add it: one of {listed}")
        named = value[TAG]
        if not isinstance(named, str) or named not in by_tag:
            fault = _FaultError(_not_listed(named, by_tag))
            fault.path.append(f".{TAG}")
            raise fault
        return by_tag[named]({name: item for name, item in value.items() if name != TAG})

    return read


def _tuple_reader(items: tuple[Any, ...]) -> Reader:
    if len(items) == 2 and items[1] is Ellipsis:
        inner = reader(items[0])
        return lambda value: _read_items(value, lambda _: inner, MOST_ITEMS, None)
    readers = [reader(item) for item in items]
    return lambda value: _read_items(value, readers.__getitem__, len(readers), len(readers))


def _read_items(
    value: Any, inner: Callable[[int], Reader], most: int, exactly: int | None
) -> tuple[Any, ...]:
    if not isinstance(value, list):
        _refuse(f"{_a(value)} stands where a list belongs", "write [ ... ]")
    if exactly is not None and len(value) != exactly:
        _refuse(f"The list has {len(value)} entries", f"give {exactly}")
    if len(value) > most:
        _refuse(f"The list has {len(value)} entries", f"give {most} at most")
    result = []
    for position, item in enumerate(value):
        try:
            result.append(inner(position)(item))
        except _FaultError as fault:
            fault.path.append(f"[{position}]")
            raise
    return tuple(result)


def _enum_reader(kind: type[StrEnum]) -> Reader:
    by_value = {member.value: member for member in kind}

    def read(value: Any) -> Any:
        if not isinstance(value, str) or value not in by_value:
            raise _FaultError(_not_listed(value, by_value))
        return by_value[value]

    return read


def _read_float(value: Any) -> float:
    if type(value) not in {int, float}:
        _refuse(f"{_a(value)} stands where a number belongs", "write a number")
    try:
        result = float(value)
    except OverflowError:
        result = math.inf
    if not math.isfinite(result):
        _refuse("The number is not finite", "write an ordinary number")
    return result


def _read_int(value: Any) -> int:
    if type(value) is float and value.is_integer():
        _refuse("A whole number is written with a decimal point", "leave the point out")
    if type(value) is not int:
        _refuse(f"{_a(value)} stands where a whole number belongs", "write a whole number")
    return int(value)


def _read_bool(value: Any) -> bool:
    if not isinstance(value, bool):
        _refuse(f"{_a(value)} stands where true or false belongs", "write true or false")
    return value


def _read_str(value: Any) -> str:
    if not isinstance(value, str):
        _refuse(f"{_a(value)} stands where text belongs", "write text in quotation marks")
    return value


def _refuse(what: str, remedy: str) -> NoReturn:
    raise _FaultError(DamagedFileError(what, remedy=remedy))


def _refuse_field(name: str, title: str, known: typing.Iterable[str]) -> NoReturn:
    close = nearest(name, known)
    remedy = f'did you mean "{close}"' if close else "remove it"
    fault = _FaultError(DamagedFileError(f"A {title} has no such field", remedy=remedy))
    fault.path.append(f".{shown(name)}")
    raise fault


def _not_listed(value: object, known: typing.Iterable[str]) -> DamagedFileError:
    listed = ", ".join(f'"{name}"' for name in known)
    if not isinstance(value, str):
        return DamagedFileError(f"{_a(value)} stands where text belongs", remedy=f"use {listed}")
    close = nearest(value, known)
    remedy = f'did you mean "{close}"' if close else f"use one of {listed}"
    return DamagedFileError(f'"{shown(value)}" is not known here', remedy=remedy)


_KINDS = {dict: "An object", list: "A list", str: "Text", bool: "true or false", int: "A number"}


def _a(value: object) -> str:
    """What stands there, as the subject of a sentence."""
    if value is None:
        return "null"
    return _KINDS.get(type(value), "A number")


def _words(camel: str) -> str:
    """A class's name in small words: ``ReliefProfile`` is "relief profile"."""
    return "".join(f" {c.lower()}" if c.isupper() else c for c in camel).strip()
