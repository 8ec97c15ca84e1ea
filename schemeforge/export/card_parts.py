"""What the two kinds of step card share: words that are too long, marks of the outline, advice."""

import re
from dataclasses import dataclass

from schemeforge.export.blocks import Block, Column
from schemeforge.export.facts import Facts
from schemeforge.export.figure import Marks, feathers_of
from schemeforge.export.options import Section
from schemeforge.export.page import GREY, PAPER, SOFT, Box, Frame
from schemeforge.export.typesetting import LEAST_PT, Measure, Style
from schemeforge.export.usual import advice_for
from schemeforge.plan import PlannedStep
from schemeforge.scheme import Work, WorkKind

# Words long enough to name a zone.
_WORD = re.compile(r"\w{4,}")
ELSEWHERE = "… in full on the last page"
# Work that leaves no colour to compare a painted chip with.
_COLOURLESS = {WorkKind.CLEANING, WorkKind.ASSEMBLY}


@dataclass(frozen=True, slots=True, kw_only=True)
class Spilled:
    """Words that are too long for their card; they stand in full at the sheet's end."""

    number: int
    label: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """A step set as a block, and what did not fit into it."""

    block: Block
    spilled: tuple[Spilled, ...]


def capital(text: str) -> str:
    """With a capital letter in front."""
    return text[:1].upper() + text[1:]


def marks_of(facts: Facts, step: PlannedStep) -> Marks:
    """What the outline shows of a step: zones worked on, zones to keep off, feathers."""
    zone_ids = step.step.zone_ids
    lit = frozenset(zone_ids or facts.numbers)
    said = set(_WORD.findall(step.step.keep_out.casefold()))
    kept = frozenset(
        zone.id
        for zone in facts.project.zones
        if said.intersection(_WORD.findall(zone.name.casefold()))
    )
    return Marks(lit=lit, keep_out=kept - lit, feathers=feathers_of(step.step.coat, zone_ids))


def pieces_of_advice(facts: Facts, step: PlannedStep) -> list[tuple[str, str]]:
    """Label and text: keep-out areas, what to look for, the cure, the painter's note."""
    advice = advice_for(step.step)
    told = facts.options.shows(Section.ADVICE)
    pieces = [
        ("Keep off", step.step.keep_out),
        ("Look for", advice.look_for if told else ""),
        ("Cure", advice.cure if told else ""),
        ("Note", step.step.note),
    ]
    return [(label, text) for label, text in pieces if text]


def no_colour(
    step: PlannedStep, width: float, style: Style, chip_mm: float, measure: Measure
) -> Block | None:
    """A panel for work whose colour is not predicted, or that nobody gets; None for cleaning."""
    if step.models and isinstance(step.step.layer, Work) and step.step.layer.kind in _COLOURLESS:
        return None
    pad = 1.5
    column = Column(measure, pad, width - 2.0 * pad, y=pad)
    said = "Colour not predicted: trust the chip" if step.models else "Nobody gets this step"
    column.fitted(said, style, most=1, least_pt=LEAST_PT)
    column.gap(0.8)
    if step.models:
        frame = Frame(x=0.0, y=0.0, width=column.width, height=chip_mm)
        box = Box(frame=frame, fill=PAPER, line=SOFT, dash_mm=0.9, role="chip")
        column.add((box,), chip_mm)
    column.gap(pad)
    frame = Frame(x=0.0, y=0.0, width=width, height=column.y)
    panel = Box(frame=frame, line=None, fill=GREY, round_mm=1.5, role="swatch panel")
    return Block(items=(panel, *column.items), height=column.y)
