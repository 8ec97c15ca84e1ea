"""Readings from CSV text: wavelengths along the columns or down the rows.

Commas, semicolons or tabs between cells; decimal point or comma (where the comma does not part
the cells). Lines before the table, such as an instrument's name, are passed over.
"""

import csv
import io
import re
from itertools import pairwise
from typing import Final

from schemeforge.errors import DamagedFileError, ReadingError, shown
from schemeforge.measurement.plain_text import number
from schemeforge.measurement.spectra import MOST_SPECTRA, Spectrum

_WAVELENGTH: Final = re.compile(
    r"(?:(?:R|NM|REFL|SPEC|SPECTRAL|LAMBDA)[ _]*(?:NM[ _]*)?)?(\d{3,4}(?:[.,]\d+)?)\s*(?:nm)?",
    re.IGNORECASE,
)
_LEAST: Final = 8  # wavelengths that make a heading, or a column of them
_FROM_NM, _TO_NM = 200.0, 2600.0
_MOST_CELLS: Final = 4_000_000


def from_table(text: str) -> list[Spectrum]:
    """The spectra of a table.

    Raises:
        DamagedFileError: For text in which no table of spectra is found.
        ReadingError: For a cell that is no number; names the line.
    """
    rows = _rows(text)
    for place, (_, cells) in enumerate(rows):
        across = _heading(cells)
        if len(across) >= _LEAST:
            return _from_columns(rows[place + 1 :], across)
    return _from_rows(rows)


def _rows(text: str) -> list[tuple[int, list[str]]]:
    lines = text.splitlines()
    longest = max(lines, key=len, default="")
    mark = max((";", "\t", ","), key=longest.count)
    # Where numbers have decimal commas, the commas outnumber what parts the cells.
    for other in (";", "\t"):
        if longest.count(other) >= 1:
            mark = other
            break
    try:
        read = list(csv.reader(io.StringIO(text), delimiter=mark, skipinitialspace=True))
    except csv.Error as error:
        raise DamagedFileError(
            f"The table cannot be read ({error})", remedy="export it again"
        ) from None
    if sum(len(row) for row in read) > _MOST_CELLS:
        raise DamagedFileError("The table is too large", remedy="export fewer readings")
    return [(at, row) for at, row in enumerate(read, start=1) if any(c.strip() for c in row)]


def _heading(cells: list[str]) -> dict[int, float]:
    """Wavelengths by column, where the cells rise as those of a heading do."""
    found: dict[int, float] = {}
    for place, cell in enumerate(cells):
        nm = _wavelength(cell)
        if nm is not None:
            found[place] = nm
    values = list(found.values())
    rises = all(a < b for a, b in pairwise(values))
    return found if rises else {}


def _wavelength(cell: str) -> float | None:
    match = _WAVELENGTH.fullmatch(cell.strip().strip('"'))
    if match is None:
        return None
    nm = float(match[1].replace(",", "."))
    return nm if _FROM_NM <= nm <= _TO_NM else None


def _from_columns(rows: list[tuple[int, list[str]]], across: dict[int, float]) -> list[Spectrum]:
    spectra: list[Spectrum] = []
    for at, cells in rows[: MOST_SPECTRA + 1]:
        words = [c.strip() for i, c in enumerate(cells) if i not in across and c.strip()]
        values = {nm: _value(cells, i, at) for i, nm in across.items()}
        spectra.append(
            Spectrum(
                name=next((w for w in words if number(w) is None), "")
                or (words or [""])[0]
                or f"sample {len(spectra) + 1}",
                wavelengths_nm=tuple(values),
                values=tuple(values.values()),
            )
        )
    return _some(spectra)


def _from_rows(rows: list[tuple[int, list[str]]]) -> list[Spectrum]:
    down = [
        (at, nm, cells)
        for at, cells in rows
        if (nm := _wavelength(cells[0])) is not None and len(cells) > 1
    ]
    if len(down) < _LEAST:
        raise DamagedFileError(
            "No table of spectra is found",
            remedy="give wavelengths in nm as the heading or as the first column",
        )
    first = next(i for i, (at, _) in enumerate(rows) if at == down[0][0])
    above = rows[first - 1][1] if first else []
    count = max(len(cells) for _, _, cells in down)
    down.sort(key=lambda row: row[1])
    spectra: list[Spectrum] = []
    for column in range(1, min(count, MOST_SPECTRA + 1)):
        if not any(column < len(c) and c[column].strip() for _, _, c in down):
            continue  # a mark at the end of every line
        name = above[column].strip() if column < len(above) else ""
        spectra.append(
            Spectrum(
                name=name or f"sample {column}",
                wavelengths_nm=tuple(nm for _, nm, _ in down),
                values=tuple(_value(cells, column, at) for at, _, cells in down),
            )
        )
    return _some(spectra)


def _some(spectra: list[Spectrum]) -> list[Spectrum]:
    if not spectra or len(spectra) > MOST_SPECTRA:
        raise DamagedFileError(
            f"The table holds no readings, or more than {MOST_SPECTRA}",
            remedy="export the readings again",
        )
    return spectra


def _value(cells: list[str], place: int, at: int) -> float:
    cell = cells[place] if place < len(cells) else ""
    value = number(cell)
    if value is None:
        what = f'"{shown(cell.strip())}" is no number' if cell.strip() else "A value is missing"
        raise ReadingError(what, where=f"line {at}, column {place + 1}", remedy="complete the row")
    return value
