"""Paints in and out of files: exact, safe in a spreadsheet, and refused in a sentence."""

import csv
import io
import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings

from schemeforge.errors import DamagedFileError, MissingFileError, SchemeForgeError
from schemeforge.paint import WATER, Paint
from schemeforge.shelf import limits
from schemeforge.shelf.exchange import Clash, clashing, export_paints, import_paints, join
from schemeforge.shelf.paints_csv import COLUMNS, from_csv, to_csv
from schemeforge.shelf.paints_json import from_json, to_json
from schemeforge.shelf.starter import starter_paints
from tests.shelf.strategies import SHELVES

A, B, C = starter_paints()[:3]


@settings(max_examples=40, deadline=None)
@given(SHELVES)
def test_json_and_csv_give_back_the_very_paints(paints: tuple[Paint, ...]) -> None:
    assert from_json(to_json(paints)) == paints
    assert from_csv(to_csv(paints)) == paints


@settings(max_examples=40, deadline=None)
@given(SHELVES)
def test_no_cell_of_the_table_begins_like_a_formula(paints: tuple[Paint, ...]) -> None:
    for row in csv.reader(io.StringIO(to_csv(paints), newline="")):
        assert not any(cell.startswith(("=", "+", "-", "@", "\t", "\r")) for cell in row)


def test_a_formula_in_a_name_comes_back_as_the_name() -> None:
    for name in ("=1+1", "'=1+1", "''", "@x", "-5", '"quoted", "twice"'):
        paint = replace(A, name=name, note=name)
        assert from_csv(to_csv((paint,))) == (paint,)


@pytest.mark.parametrize("mark", [";", "\t"])
def test_a_table_that_a_spreadsheet_saved_with_decimal_commas_is_read(mark: str) -> None:
    rows = list(csv.reader(io.StringIO(to_csv((A, B)), newline="")))
    numeric = {i for i, head in enumerate(COLUMNS) if head[:2] in {"K ", "S "} or "_" in head}
    numeric -= {COLUMNS.index("colour_index")}
    text = io.StringIO()
    writer = csv.writer(text, delimiter=mark, lineterminator="\n")
    writer.writerow(rows[0])
    for row in rows[1:]:
        writer.writerow([c.replace(".", ",") if i in numeric else c for i, c in enumerate(row)])
    assert from_csv(text.getvalue()) == (A, B)


def test_a_table_may_leave_out_what_has_a_default() -> None:
    rows = list(csv.DictReader(io.StringIO(to_csv((A,)), newline="")))
    needed = [c for c in COLUMNS if c[:2] in {"K ", "S "}] + ["id", "name", "kind", "volume_solids"]
    text = io.StringIO()
    writer = csv.DictWriter(text, needed, extrasaction="ignore")
    writer.writeheader()
    writer.writerows(rows)
    (paint,) = from_csv(text.getvalue())
    assert paint == Paint(
        id=A.id,
        name=A.name,
        kind=A.kind,
        absorption=A.absorption,
        scattering=A.scattering,
        volume_solids=A.volume_solids,
    )


@pytest.mark.parametrize("suffix", [".json", ".csv", ".CSV"])
def test_files_carry_paints_there_and_back(tmp_path: Path, suffix: str) -> None:
    path = tmp_path / f"Büchse{suffix}"
    export_paints((A, B), path)
    assert import_paints(path) == (A, B)
    assert [p.name for p in tmp_path.iterdir()] == [path.name]


def test_water_is_not_taken_onto_the_shelf(tmp_path: Path) -> None:
    path = tmp_path / "p.json"
    export_paints((WATER, A), path)
    assert import_paints(path) == (A,)


def as_json(change: Callable[[dict[str, object]], object]) -> bytes:
    tree = json.loads(to_json((A,)))
    change(tree)
    return json.dumps(tree).encode()


def table(old: str, new: str, count: int = -1) -> bytes:
    changed = to_csv((A,)).replace(old, new, count)
    assert changed != to_csv((A,))
    return changed.encode()


@pytest.mark.parametrize(
    ("name", "data", "sentence"),
    [
        ("a.json", b"", "The file is empty"),
        ("a.json", b"\x89PNG\r\n\x1a\n\xff\x00", "This is not UTF-8 text"),
        ("a.json", b"[1, 2", "cut short"),
        ("a.json", b"[]", "This is no file of paints"),
        ("a.json", b'{"format": "schemeforge-project"}', "This is no file of paints"),
        ("a.json", as_json(lambda t: t.update(version=2)), "later version than 1"),
        ("a.json", as_json(lambda t: t.update(version=True)), "does not tell its version"),
        ("a.json", as_json(lambda t: t.update(more=1)), 'more or less than "paints"'),
        ("a.json", as_json(lambda t: t["paints"].append(7)), "paints[1]: A number stands"),  # type: ignore[attr-defined]
        ("a.json", as_json(lambda t: t.update(paints=t["paints"] * 2)), "stands twice"),  # type: ignore[operator]
        ("a.csv", b"", 'line 1: The column "id" is missing'),
        ("a.csv", b"\x00\x01\x02", "This is not a table of text"),
        ("a.csv", table("K 500", "K 501"), "give bands from 380 to 730 nm"),
        ("a.csv", table("volume_solids", "volumesolid"), 'did you mean "volume_solids"'),
        ("a.csv", table("K 500", "K 510"), "stands twice"),
        ("a.csv", table("K 500,", ""), 'The column "K 500" is missing'),
        ("a.csv", table(repr(A.absorption[3]), "much"), 'line 2: column "K 410": "much" stands'),
        ("a.csv", table(repr(A.absorption[3]), "nan"), '"nan" stands where a number belongs'),
        ("a.csv", table(repr(A.absorption[3]), "1_0"), '"1_0" stands where a number belongs'),
        ("a.csv", table(repr(A.absorption[3]), "9e9"), "give 0 to 10000 per micrometre"),
        ("a.csv", table(f",{A.kind},", ",gravy,"), 'line 2: kind: "gravy" is not known here'),
        ("a.csv", table(f"{A.id},", f'"{A.id},'), "cut short or its quotation marks"),
        ("a.csv", table(f"{A.id},", f"{A.id},,"), "cells under"),
        ("a.txt", b"", "end in .json or .csv"),
    ],
)
def test_bad_files_are_told_in_one_sentence_with_their_place(
    tmp_path: Path, name: str, data: bytes, sentence: str
) -> None:
    path = tmp_path / name
    path.write_bytes(data)
    with pytest.raises(SchemeForgeError) as caught:
        import_paints(path)
    assert sentence in caught.value.sentence
    assert caught.value.sentence.startswith(str(path))
    assert "\n" not in caught.value.sentence


def test_missing_and_oversized_files_are_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with pytest.raises(MissingFileError, match="cannot be opened"):
        import_paints(tmp_path / "none.json")
    (tmp_path / "folder.json").mkdir()
    with pytest.raises(MissingFileError, match="not a file"):
        import_paints(tmp_path / "folder.json")
    monkeypatch.setattr("schemeforge.shelf.exchange.MOST_BYTES_EXCHANGED", 1024**2)
    (tmp_path / "large.csv").write_bytes(b"x" * (1024**2 + 1))
    with pytest.raises(DamagedFileError, match="larger than 1 MB"):
        import_paints(tmp_path / "large.csv")


def test_more_paints_than_a_shelf_holds_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    assert limits.MOST_PAINTS >= 10_000
    for module in ("paints_csv", "paints_json"):
        monkeypatch.setattr(f"schemeforge.shelf.{module}.MOST_PAINTS", 2)
    for read, text in ((from_csv, to_csv((A, B, C))), (from_json, to_json((A, B, C)))):
        with pytest.raises(DamagedFileError, match="more than 2 paints"):
            read(text)


def test_paints_join_a_shelf_by_their_ids() -> None:
    other = replace(B, note="mine")
    assert clashing((A, B), (A, other, C)) == (other,)
    replaced = join((A, B), (A, other, C), Clash.REPLACE)
    assert replaced.shelf == (A, other, C)
    assert (replaced.added, replaced.replaced, replaced.same) == ((C.name,), (B.name,), 1)
    left = join((A, B), (other,), Clash.LEAVE)
    assert (left.shelf, left.left) == ((A, B), (B.name,))
    both = join((A, B), (other, replace(B, note="theirs")), Clash.KEEP_BOTH)
    assert both.shelf[:2] == (A, B)
    assert [p.name for p in both.shelf[2:]] == [f"{B.name} 2", f"{B.name} 3"]
    assert len({p.id for p in both.shelf}) == 4


def test_a_shelf_that_nothing_joins_is_the_same_object() -> None:
    shelf = (A, B)
    assert join(shelf, (B, A), Clash.REPLACE).shelf is shelf
