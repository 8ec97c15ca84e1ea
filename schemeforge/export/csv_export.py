"""Steps and pots as tables for a spreadsheet; no cell of theirs can act as a formula."""

import csv
import io
from collections.abc import Iterable, Sequence

from schemeforge.export import words
from schemeforge.export.facts import Facts
from schemeforge.export.usual import advice_for

Cell = str | int | float
# First characters that make a spreadsheet take a cell for a formula or hide what follows.
_ACTIVE = ("=", "+", "-", "@", "\t", "\r", "\n", "|", "%")
_BOM = b"\xef\xbb\xbf"

STEP_COLUMNS = (
    "number",
    "step",
    "zones",
    "who",
    "models",
    "technique",
    "tool",
    "pot",
    "passes",
    "sub-batches",
    "minutes a model",
    "set-up minutes",
    "planned minutes",
    "wait minutes",
    "sitting",
    "keep off",
    "look for",
    "cure",
    "note",
)
POT_COLUMNS = ("pot", "mix", "steps", "ingredient", "parts", "drops", "grams", "ml", "pot ml")


def steps_csv(facts: Facts) -> bytes:
    """One row a step, in painting order."""
    sitting = {
        step.number: "" if entry.sitting is None else entry.number
        for entry in facts.sittings
        for step in entry.starts
    }
    rows: list[Sequence[Cell]] = []
    for step in facts.steps:
        advice = advice_for(step.step)
        rows.append(
            (
                step.number,
                step.step.name,
                ", ".join(step.zones) or "whole model",
                words.who(facts, step),
                step.models,
                step.technique,
                step.tool,
                step.pot,
                step.passes,
                " ".join(map(str, step.sub_batches)),
                round(step.minutes_per_model, 2),
                round(step.set_up_minutes, 2),
                round(step.total_minutes, 1),
                round(step.wait_minutes, 1),
                sitting.get(step.number, ""),
                step.step.keep_out,
                advice.look_for,
                advice.cure,
                step.step.note,
            )
        )
    return _table(STEP_COLUMNS, rows)


def pots_csv(facts: Facts) -> bytes:
    """One row an ingredient of every pot, for the whole batch."""
    rows: list[Sequence[Cell]] = [
        (
            pot.letter,
            pot.mix.name,
            " ".join(map(str, pot.step_numbers)),
            amount.name,
            amount.parts,
            amount.whole_drops,
            round(amount.grams, 3),
            round(amount.ml, 3),
            round(pot.ml, 3),
        )
        for pot in facts.pots.values()
        for amount in pot.amounts
    ]
    return _table(POT_COLUMNS, rows)


def _table(columns: Sequence[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    """UTF-8 with a byte order mark, by which spreadsheets know it for what it is."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(columns)
    for row in rows:
        writer.writerow([_safe(cell) if isinstance(cell, str) else cell for cell in row])
    return _BOM + out.getvalue().encode("utf-8")


def _safe(text: str) -> str:
    """The text with an apostrophe before it where it could be taken for a formula."""
    return f"'{text}" if text.lstrip(" \u00a0\u3000").startswith(_ACTIVE) else text
