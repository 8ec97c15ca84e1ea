"""Every source key in the code has an entry with title and year, and every entry is used."""

import json
import re
from pathlib import Path
from typing import Any

from schemeforge.resources import asset

ROOT = Path(__file__).resolve().parent.parent
# A key is one or more names run together and a year of two or four digits or a standard's
# number, in square brackets: [Saunderson1942]. Subscripts and shapes start in lower case, are
# shorter, or hold other signs.
KEY = re.compile(r"\[([A-Za-z]{2,}\d{2,5}[a-z]?)\](?!\()")


def entries() -> dict[str, dict[str, Any]]:
    loaded: dict[str, dict[str, Any]] = json.loads(
        asset("bibliography.json").read_text(encoding="utf-8")
    )
    return loaded


def keys_in_code() -> dict[str, set[str]]:
    """Files by the key that they use; this file's own examples left out."""
    used: dict[str, set[str]] = {}
    for folder in ("schemeforge", "tests"):
        for path in sorted((ROOT / folder).rglob("*.py")):
            if path == Path(__file__).resolve():
                continue
            for key in KEY.findall(path.read_text(encoding="utf-8")):
                used.setdefault(key, set()).add(str(path.relative_to(ROOT)))
    return used


def test_the_pattern_finds_keys_and_nothing_else() -> None:
    text = "[Saunderson1942] eq. 4; [ASTME308], [deBoor1978]; a[x12], [K1], [abc](x), [0.5]"
    assert KEY.findall(text) == ["Saunderson1942", "ASTME308", "deBoor1978"]


def test_every_key_in_the_code_has_an_entry() -> None:
    missing = {key: files for key, files in keys_in_code().items() if key not in entries()}
    assert not missing


def test_every_entry_is_used() -> None:
    assert not set(entries()) - set(keys_in_code())


def test_every_entry_says_who_what_when_and_where() -> None:
    for key, entry in entries().items():
        assert set(entry) == {"authors", "title", "year", "where"}, key
        assert all(isinstance(entry[field], str) for field in ("authors", "title", "where")), key
        assert all(entry[field].strip() for field in ("authors", "title", "where")), key
        assert isinstance(entry["year"], int), key
        assert 1600 < entry["year"] < 2100, key


def test_entries_are_in_order() -> None:
    keys = list(entries())
    assert keys == sorted(keys, key=str.lower)
