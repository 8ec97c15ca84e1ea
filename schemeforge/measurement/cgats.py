"""Readings from CGATS.17 text, which ISO 28178 took over [CGATS17] [ISO28178].

Keywords and values, then one or more tables: field names between BEGIN_DATA_FORMAT and
END_DATA_FORMAT, rows between BEGIN_DATA and END_DATA. Spectra stand either one field a
wavelength (SPECTRAL_380, SPECTRAL_NM380, NM_380, R_380, ...) or as repeated pairs of fields
SPECTRAL_NM and SPECTRAL_PCT or SPECTRAL_DEC.
"""

import re
from dataclasses import dataclass, field
from typing import Final

from schemeforge.errors import DamagedFileError, ReadingError, shown
from schemeforge.measurement.plain_text import number
from schemeforge.measurement.spectra import MOST_SPECTRA, Geometry, Scale, Spectrum

_TOKEN: Final = re.compile(r'"(?:[^"]|"")*"|[^\s"]+')
_COUNT: Final = re.compile(r"[0-9]{1,9}")
_FIELD: Final = re.compile(
    r"(?:(?:SPECTRAL|SPEC|NM|R|LAMBDA|REFL|REFLECTANCE)_?)"
    r"(?P<unit>PCT_?|DEC_?|NM_?)?(?P<nm>\d{3,4}(?:\.\d+)?)(?:_?NM)?",
    re.IGNORECASE,
)
_GEOMETRIES: Final = (
    (Geometry.FORTY_FIVE_ZERO, r"\b(45[acx]?\s*[/:]\s*0|0\s*[/:]\s*45[acx]?)\b"),
    (Geometry.INCLUDED, r"\b(di\s*[/:]\s*8|8\s*[/:]\s*di|SCI)\b"),
    (Geometry.EXCLUDED, r"\b(de\s*[/:]\s*8|8\s*[/:]\s*de|SCE)\b"),
    (Geometry.INCLUDED, r"specular[\s_]+(component[\s_]+)?included"),
    (Geometry.EXCLUDED, r"specular[\s_]+(component[\s_]+)?excluded"),
)
_NAMES: Final = ("SAMPLE_NAME", "SAMPLE_ID", "SAMPLEID", "SAMPLE_ID1", "STRING")


@dataclass(slots=True)
class _Tables:
    mode: str = ""
    fields: list[str] = field(default_factory=list)
    rows: list[tuple[int, list[str]]] = field(default_factory=list)
    spectra: list[Spectrum] = field(default_factory=list)
    header: list[str] = field(default_factory=list)
    scale: Scale | None = None
    promised: int | None = None  # rows, by NUMBER_OF_SETS


def is_cgats(text: str) -> bool:
    """True for text that has the keywords of such a file."""
    return "BEGIN_DATA_FORMAT" in text and "BEGIN_DATA" in text


def geometry_in(text: str) -> Geometry | None:
    """The instrument's geometry where the text tells exactly one, else None."""
    found = {g for g, pattern in _GEOMETRIES if re.search(pattern, text, re.IGNORECASE)}
    return found.pop() if len(found) == 1 else None


def from_cgats(text: str) -> tuple[list[Spectrum], Scale | None, Geometry | None]:
    """Spectra, the scale where the fields tell it, and the geometry where the header does.

    Raises:
        DamagedFileError: For a table cut short, fewer rows than it promises, a row with a cell
            too few, or no spectra.
        ReadingError: For a cell that is no number; names line and field.
    """
    tables = _Tables()
    for at, line in enumerate(text.splitlines(), start=1):
        _take(tables, at, line)
    mode = tables.mode
    if mode:
        raise DamagedFileError(
            f"The table is cut short: there is no {mode.replace('BEGIN', 'END')}",
            remedy="export it again",
        )
    if not tables.spectra:
        raise DamagedFileError(
            "The file holds no spectra", remedy="export spectral reflectance, not only colours"
        )
    return tables.spectra, tables.scale, geometry_in("\n".join(tables.header))


def _take(tables: _Tables, at: int, line: str) -> None:
    """Takes up one line."""
    tokens = [t.strip('"').replace('""', '"') for t in _TOKEN.findall(line)]
    word = tokens[0].upper() if tokens else ""
    if word in {"BEGIN_DATA_FORMAT", "BEGIN_DATA"}:
        tables.mode = word
        if word == "BEGIN_DATA_FORMAT":
            tables.fields = []
    elif word in {"END_DATA_FORMAT", "END_DATA"}:
        tables.mode = ""
        if word == "END_DATA":
            _close(tables)
    elif tables.mode == "BEGIN_DATA_FORMAT":
        tables.fields += tokens
    elif tables.mode == "BEGIN_DATA" and tokens:
        tables.rows.append((at, tokens))
    elif not tables.mode:
        tables.header.append(line)
        if word == "NUMBER_OF_SETS":
            count = tokens[1] if len(tokens) > 1 else ""
            tables.promised = int(count) if _COUNT.fullmatch(count) else None


def _close(tables: _Tables) -> None:
    """Takes up the rows of one table."""
    rows, tables.rows = tables.rows, []
    promised, tables.promised = tables.promised, None
    columns = _columns(tables.fields)
    pairs = [i for i, name in enumerate(tables.fields) if name.upper() == "SPECTRAL_NM"]
    if not columns and not pairs:
        return
    if promised is not None and len(rows) < promised:
        raise DamagedFileError(
            f"The file is cut short: NUMBER_OF_SETS promises {promised} readings, but "
            f"the table holds {len(rows)}",
            remedy="export it again",
        )
    upper = [name.upper() for name in tables.fields]
    if any("_PCT" in name for name in upper):
        tables.scale = Scale.PER_CENT
    elif any("_DEC" in name for name in upper):
        tables.scale = Scale.FRACTION
    named = [upper.index(name) for name in _NAMES if name in upper]
    for at, cells in rows:
        if len(cells) != len(tables.fields):
            raise DamagedFileError(
                f"The row has {len(cells)} cells for {len(tables.fields)} fields",
                where=f"line {at}",
                remedy="complete it, with names that have spaces in quotes",
            )
        if len(tables.spectra) >= MOST_SPECTRA:
            raise DamagedFileError(f"There are more than {MOST_SPECTRA} readings")
        name = next((cells[i] for i in named if cells[i].strip()), "")
        some = [(nm, cells[i], i) for nm, i in columns]
        some += [(_cell(cells[i], "SPECTRAL_NM", at), cells[i + 1], i + 1) for i in pairs]
        some.sort()
        tables.spectra.append(
            Spectrum(
                name=name or f"sample {len(tables.spectra) + 1}",
                wavelengths_nm=tuple(nm for nm, _, _ in some),
                values=tuple(_cell(cell, tables.fields[i], at) for _, cell, i in some),
            )
        )


def _columns(fields: list[str]) -> list[tuple[float, int]]:
    found = []
    for place, name in enumerate(fields):
        match = _FIELD.fullmatch(name)
        if match is not None:
            found.append((float(match["nm"]), place))
    return found


def _cell(cell: str, name: str, at: int) -> float:
    value = number(cell)
    if value is None:
        raise ReadingError(
            f'"{shown(cell)}" in the field {shown(name)} is no number',
            where=f"line {at}",
            remedy="correct that value",
        )
    return value
