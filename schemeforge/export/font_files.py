"""Fonts on this computer and the signs they hold, read from the files without any font service."""

import os
import struct
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import BinaryIO

_SUFFIXES = {".ttf", ".ttc", ".otf", ".otc"}
_MOST_FILES = 5000
_MOST_FONTS_IN_FILE = 16
_MOST_CMAP_BYTES = 4 * 1024 * 1024
# Words in a file name that make its font a poor companion for a plain upright sans serif.
_ODD = (
    "italic", "oblique", "serif", "mono", "condensed", "narrow", "light", "thin", "black",
    "medium", "display", "script", "math",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class FontFile:
    """One font of a file.

    Args:
        path: The file.
        index: Its place in a collection, 0 in a file of its own.
        has_curves: True for TrueType outlines, which can be embedded as they are.
        signs: Code points that it has a glyph for.
    """

    path: str
    index: int
    has_curves: bool
    signs: frozenset[int]


def font_folders() -> tuple[Path, ...]:
    """Where fonts are kept, by operating system."""
    home = Path.home()
    if sys.platform == "win32":
        windows = Path(os.environ.get("WINDIR", r"C:\Windows"))
        local = Path(os.environ.get("LOCALAPPDATA", home / "AppData" / "Local"))
        return (windows / "Fonts", local / "Microsoft" / "Windows" / "Fonts")
    if sys.platform == "darwin":
        library = Path("/Library/Fonts")
        return (Path("/System/Library/Fonts"), library, home / "Library" / "Fonts")
    shares = os.environ.get("XDG_DATA_DIRS", "/usr/local/share:/usr/share").split(":")
    return (
        *(Path(share) / "fonts" for share in shares if share),
        home / ".local" / "share" / "fonts",
        home / ".fonts",
    )


@lru_cache(maxsize=2)
def font_paths(*, bold: bool) -> tuple[Path, ...]:
    """Font files on this computer, the likeliest companions of a sans serif first."""
    found: set[Path] = set()
    for folder in font_folders():
        for root, _, names in os.walk(folder):
            for name in names:
                if Path(name).suffix.lower() in _SUFFIXES and len(found) < _MOST_FILES:
                    found.add(Path(root) / name)
    return tuple(sorted(found, key=lambda path: (_oddness(path.stem.lower(), bold), str(path))))


def _oddness(name: str, bold: bool) -> int:
    odd = sum(2 for word in _ODD if word in name)
    odd += 1 if ("bold" in name) is not bold else 0
    # DejaVu grew out of the typeface of the sheet, so its letters match best.
    return odd - sum(1 for word in ("sans", "dejavu") if word in name)


@lru_cache(maxsize=4096)
def fonts_in(path: Path) -> tuple[FontFile, ...]:
    """The fonts of a file; none where it cannot be read."""
    try:
        with path.open("rb") as file:
            head = file.read(12)
            starts = [0]
            if head[:4] == b"ttcf":
                count = min(_MOST_FONTS_IN_FILE, struct.unpack(">L", head[8:12])[0])
                starts = list(struct.unpack(f">{count}L", file.read(4 * count)))
            fonts = []
            for index, start in enumerate(starts):
                tables = _tables(_at(file, start, 12 + 16 * 64))
                if "cmap" in tables:
                    where, length = tables["cmap"]
                    signs = _signs(_at(file, where, min(length, _MOST_CMAP_BYTES)))
                    fonts.append(FontFile(str(path), index, "glyf" in tables, signs))
            return tuple(fonts)
    except (OSError, struct.error, ValueError, IndexError):
        return ()


def _at(file: BinaryIO, where: int, length: int) -> bytes:
    file.seek(where)
    return file.read(length)


def _tables(data: bytes) -> dict[str, tuple[int, int]]:
    """Offset and length of each table of a font."""
    count = min(64, struct.unpack(">H", data[4:6])[0])
    tables = {}
    for n in range(count):
        tag, _, where, length = struct.unpack(">4sLLL", data[12 + 16 * n : 28 + 16 * n])
        tables[tag.decode("latin-1")] = (where, length)
    return tables


def _signs(cmap: bytes) -> frozenset[int]:
    """Code points of the Unicode subtables of formats 4 and 12."""
    signs: set[int] = set()
    for n in range(min(64, struct.unpack(">H", cmap[2:4])[0])):
        platform, encoding, where = struct.unpack(">HHL", cmap[4 + 8 * n : 12 + 8 * n])
        if platform == 0 or (platform == 3 and encoding in {1, 10}):
            kind = struct.unpack(">H", cmap[where : where + 2])[0]
            if kind == 4:
                signs.update(_format_4(cmap[where:]))
            elif kind == 12:
                signs.update(_format_12(cmap[where:]))
    return frozenset(signs)


def _format_4(data: bytes) -> Iterator[int]:
    double = struct.unpack(">H", data[6:8])[0]
    count = double // 2
    ends = struct.unpack(f">{count}H", data[14 : 14 + double])
    starts = struct.unpack(f">{count}H", data[16 + double : 16 + 2 * double])
    deltas = struct.unpack(f">{count}H", data[16 + 2 * double : 16 + 3 * double])
    base = 16 + 3 * double
    offsets = struct.unpack(f">{count}H", data[base : base + double])
    for n, (start, end) in enumerate(zip(starts, ends, strict=True)):
        for code in range(start, min(end, 0xFFFE) + 1):
            glyph = code
            if offsets[n]:
                place = base + 2 * n + offsets[n] + 2 * (code - start)
                glyph = struct.unpack(">H", data[place : place + 2])[0]
            if (offsets[n] == 0 or glyph) and (glyph + deltas[n]) & 0xFFFF:
                yield code


def _format_12(data: bytes) -> Iterator[int]:
    count = struct.unpack(">L", data[12:16])[0]
    for n in range(min(count, (len(data) - 16) // 12)):
        start, end, glyph = struct.unpack(">LLL", data[16 + 12 * n : 28 + 12 * n])
        if end <= 0x10FFFF and start <= end:
            yield from range(start + (glyph == 0), end + 1)
