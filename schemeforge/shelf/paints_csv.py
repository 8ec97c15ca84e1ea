"""Paints as a table for a spreadsheet: one a row, absorption and scattering a column a band.

No cell can be taken for a formula: one that begins like a formula is written with an apostrophe
before it, which reading takes away again. Reading also takes what a spreadsheet makes of such a
table where the comma is the decimal sign: semicolons or tabs between cells, commas in numbers.
"""

import csv
import io
import math
from collections.abc import Iterable, Iterator
from typing import Any

from schemeforge import codec
from schemeforge.errors import DamagedFileError, SchemeForgeError, nearest, shown
from schemeforge.optics import bands
from schemeforge.paint import Paint
from schemeforge.shelf.limits import MOST_PAINTS

_FORMULA = ("=", "+", "-", "@", "\t", "\r", "'")
_NM = tuple(bands.FIRST_NM + bands.STEP_NM * band for band in range(bands.COUNT))
_K = tuple(f"K {nm}" for nm in _NM)
_S = tuple(f"S {nm}" for nm in _NM)
_TEXT = ("id", "name", "kind", "basis", "colour_index", "note")
_NUMBERS = ("volume_solids", "density_g_per_ml")
_STOCK = ("bottle_ml", "left_ml", "price")
_SURE = ("level_k", "level_s", "shape_k", "shape_s", "length_nm")
_FACTORS = "factors"
_FLAGGED = "flagged_bands_nm"
COLUMNS = (*_TEXT, *_NUMBERS, *_STOCK, *_SURE, _FLAGGED, *_K, *_S, _FACTORS)
_NEEDED = frozenset({"id", "name", "kind", "volume_solids", *_K, *_S})


def to_csv(paints: Iterable[Paint]) -> str:
    """The paints as comma-separated text with a heading row; numbers read back exactly."""
    out = io.StringIO()
    rows = csv.writer(out, lineterminator="\r\n")
    rows.writerow(COLUMNS)
    for paint in paints:
        cells = _cells(paint)
        rows.writerow([_guarded(cells[column]) for column in COLUMNS])
    return out.getvalue()


def from_csv(text: str) -> tuple[Paint, ...]:
    """The paints of a table that ``to_csv`` wrote, also after a spreadsheet saved it.

    Raises:
        DamagedFileError: For text that is no such table; names line and column.
        InputError: For a paint that cannot be; names the line.
    """
    if "\0" in text:
        raise DamagedFileError("This is not a table of text", remedy="choose a CSV file")
    first = text.split("\n", 1)[0]
    mark = max(",;\t", key=first.count)
    # strict: a quote left open would otherwise swallow the rest of the table in one cell.
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=mark, strict=True)
    paints = []
    try:
        heads = _heads(next(rows, []))
        for cells in rows:
            if any(cells):
                paints.append(_paint(heads, cells, rows.line_num, decimal_comma=mark != ","))
            if len(paints) > MOST_PAINTS:
                raise DamagedFileError(f"The table has more than {MOST_PAINTS} paints")
    except csv.Error:
        raise DamagedFileError(
            "The table is cut short or its quotation marks do not match",
            where=f"line {rows.line_num}",
            remedy="export it again",
        ) from None
    return tuple(paints)


def _cells(paint: Paint) -> dict[str, str]:
    stock, sure = paint.stock, paint.uncertainty
    numbers = {
        **{name: getattr(paint, name) for name in _NUMBERS},
        **{name: getattr(stock, name) for name in _STOCK},
        **{name: getattr(sure, name) for name in _SURE},
        **dict(zip(_K, paint.absorption, strict=True)),
        **dict(zip(_S, paint.scattering, strict=True)),
    }
    return {
        **{name: str(getattr(paint, name)) for name in _TEXT},
        **{name: "" if value is None else repr(float(value)) for name, value in numbers.items()},
        _FLAGGED: " ".join(map(str, paint.flagged_bands_nm)),
        _FACTORS: " / ".join(" ".join(repr(float(v)) for v in row) for row in sure.factors),
    }


def _guarded(cell: str) -> str:
    return f"'{cell}" if cell.startswith(_FORMULA) else cell


def _bare(cell: str) -> str:
    return cell[1:] if cell.startswith("'") and cell[1:].startswith(_FORMULA) else cell


def _heads(cells: list[str]) -> tuple[str, ...]:
    heads = tuple(cell.strip() for cell in cells)
    for head in heads:
        if head not in COLUMNS:
            close = nearest(head, COLUMNS[: -2 * bands.COUNT - 1])
            remedy = f'did you mean "{close}"' if close else "remove it"
            if head[:2] in {"K ", "S "}:
                remedy = f"give bands from {_NM[0]} to {_NM[-1]} nm in steps of {bands.STEP_NM}"
            raise DamagedFileError(
                f'No paint has a column "{shown(head)}"', where="line 1", remedy=remedy
            )
        if heads.count(head) > 1:
            raise DamagedFileError(f'The column "{head}" stands twice', where="line 1")
    for head in COLUMNS:
        if head in _NEEDED and head not in heads:
            raise DamagedFileError(
                f'The column "{head}" is missing', where="line 1", remedy="add it"
            )
    return heads


def _paint(heads: tuple[str, ...], cells: list[str], line: int, *, decimal_comma: bool) -> Paint:
    place = f"line {line}"
    if len(cells) != len(heads):
        raise DamagedFileError(
            f"The row has {len(cells)} cells under {len(heads)} headings",
            where=place,
            remedy="export the table again",
        )
    texts = dict(zip(heads, map(_bare, cells), strict=True))
    try:
        return codec.decode(Paint, _plain(_Row(texts, decimal_comma=decimal_comma)))
    except SchemeForgeError as error:
        raise error.at(place) from None


class _Row:
    """The cells of one row, read as text or numbers."""

    def __init__(self, texts: dict[str, str], *, decimal_comma: bool) -> None:
        self.texts = texts
        self._decimal_comma = decimal_comma

    def given(self, names: Iterable[str]) -> Iterator[str]:
        """Those of the columns that are there and filled."""
        return (name for name in names if self.texts.get(name, "").strip())

    def number(self, column: str, text: str | None = None) -> float:
        """The number in the cell, or in a piece of it."""
        written = self.texts[column] if text is None else text
        plain = written.strip().replace(",", ".") if self._decimal_comma else written.strip()
        try:
            value = float(plain) if "_" not in plain else math.nan
        except ValueError:
            value = math.nan
        if not math.isfinite(value):
            raise DamagedFileError(
                f'"{shown(written)}" stands where a number belongs',
                where=f'column "{column}"',
                remedy="write a number",
            )
        return value


def _plain(row: _Row) -> dict[str, Any]:
    """The row as the codec reads a paint; empty optional cells are left to the defaults."""
    plain: dict[str, Any] = {n: row.texts[n] for n in _TEXT if row.texts.get(n)}
    plain |= {name: row.number(name) for name in row.given(_NUMBERS)}
    plain["stock"] = {name: row.number(name) for name in row.given(_STOCK)}
    plain["uncertainty"] = {name: row.number(name) for name in row.given(_SURE)}
    plain["absorption"] = [row.number(name) for name in _K]
    plain["scattering"] = [row.number(name) for name in _S]
    for name in row.given((_FLAGGED,)):
        plain[name] = [_band(row, text) for text in row.texts[name].split()]
    for name in row.given((_FACTORS,)):
        pieces = row.texts[name].split("/")
        plain["uncertainty"][name] = [[row.number(name, v) for v in p.split()] for p in pieces]
    return plain


def _band(row: _Row, text: str) -> int:
    value = row.number(_FLAGGED, text)
    if not value.is_integer():
        raise DamagedFileError(
            f'"{shown(text)}" stands where a whole number belongs', where=f'column "{_FLAGGED}"'
        )
    return int(value)
