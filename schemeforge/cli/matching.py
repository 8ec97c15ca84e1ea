"""The recipes that ``match`` prints: found, and as text or JSON.

The JSON's version rises when a field changes its meaning or goes away; new fields may come
without notice.
"""

import json
from dataclasses import dataclass
from typing import Any

from schemeforge import colorimetry
from schemeforge.recipe import Ranked, Ranking, Reach, Request, ranking, reach, recipe_words
from schemeforge.scheme import Project, Viewing, Zone

FORMAT = "schemeforge match"
VERSION = 1
# Far below what any eye or instrument tells apart, and short enough to read.
_DIGITS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What was asked for."""

    project: Project
    zone: Zone
    viewing: Viewing
    request: Request
    relief: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What was found."""

    question: Question
    ranking: Ranking
    reach: Reach


def answer(question: Question) -> Answer:
    """The recipes for a question, and what holds the target back.

    Raises:
        InputError: Where nothing is left to mix.
    """
    found = ranking(question.request)
    assert found is not None  # noqa: S101 - nobody stops it here
    assert found.nearest is not None  # noqa: S101 - only stock in ml can leave nothing
    limits = reach(question.request, found.nearest)
    assert limits is not None  # noqa: S101 - nobody stops it here
    return Answer(question=question, ranking=found, reach=limits)


def as_text(found: Answer) -> str:
    """The answer as lines of text."""
    question, request = found.question, found.question.request
    codes = _codes(request.target.lab)
    viewing = question.viewing
    many = len(request.target.lab) > 1
    lines = [
        f"{question.project.name}: recipes for {question.zone.name}, {_where(question)}",
        (
            f"Target {request.target.name}: {' '.join(codes)}"
            + (", recess to raised edge" if many else "")
        ),
        (
            f"Light {viewing.light}, {viewing.observer} degrees, {viewing.finish.value}; "
            f"{found.ranking.searched:,} recipes of {len(request.usable)} paints."
        ),
        (
            "Off: CIEDE2000 to the target"
            + (", root mean square along the ramp" if many else "")
            + ". Slip: what a quarter part wrong, a coat 15 % too heavy"
        ),
        "and the paints' own uncertainty move it by. Light: how far another light takes it.",
        "",
        "      off   slip  light  recipe",
    ]
    for number, entry in enumerate(found.ranking.recipes, start=1):
        lines += _entry(number, entry, request)
    lines.append("")
    if found.reach.is_reached:
        lines.append(f"{found.reach.miss.sentence}: {_words(found.reach.delta_e)}.")
    else:
        lines.append(f"Not reached: {_lowered(found.reach.miss.sentence)}.")
        lines += [f"  - {cause.saying.sentence}." for cause in found.reach.causes]
        if not found.reach.causes:
            lines.append("  - No single change of undercoat, coats or paints would help much.")
    return "\n".join(lines)


def _where(question: Question) -> str:
    places = question.relief
    if len(places) > 1:
        return "recess to raised edge"
    return f"at {places[0]:g} of the way from recess to raised edge"


def _entry(number: int, entry: Ranked, request: Request) -> list[str]:
    recipe, sturdy = entry.recipe, entry.sturdiness
    figures = f"{recipe.delta_e:5.2f}  {sturdy.slip:5.1f}  {sturdy.other_light:5.1f}"
    colours = " ".join(_codes(recipe.lab))
    lines = [f" {number:>2} {figures}  {recipe_words(recipe, request.paints)}  {colours}"]
    if entry.to_fetch:
        names = ", ".join(request.paint(paint_id).name for paint_id in entry.to_fetch)
        lines.append(f"{'':24}to fetch: {names}")
    if entry.why is not None:
        lines.append(f"{'':24}{_lowered(entry.why.sentence)}")
    return lines


def _lowered(sentence: str) -> str:
    return sentence[:1].lower() + sentence[1:]


def _words(difference: float) -> str:
    return colorimetry.difference_words(difference)


def _codes(lab: tuple[tuple[float, float, float], ...]) -> list[str]:
    return colorimetry.hex_codes(colorimetry.xyz_from_lab(lab))


def as_json(found: Answer) -> str:
    """The answer as JSON text."""
    return json.dumps(_tree(found), ensure_ascii=False, allow_nan=False, indent=1)


def _tree(found: Answer) -> dict[str, Any]:
    question, request = found.question, found.question.request
    return {
        "format": FORMAT,
        "version": VERSION,
        "project": {"id": question.project.id, "name": question.project.name},
        "zone": {"id": question.zone.id, "name": question.zone.name},
        "viewing": {
            "light": question.viewing.light,
            "observer": question.viewing.observer,
            "finish": question.viewing.finish.value,
        },
        "target": {
            "name": request.target.name,
            "relief": [_rounded(place) for place in question.relief],
            "colours": _colours(request.target.lab),
        },
        "searched": found.ranking.searched,
        "reached": found.reach.is_reached,
        "nearest": _rounded(found.reach.delta_e),
        "causes": [
            {
                "key": cause.saying.key,
                "sentence": cause.saying.sentence,
                "delta_e": _rounded(cause.delta_e),
            }
            for cause in found.reach.causes
        ],
        "recipes": [_recipe(entry, request) for entry in found.ranking.recipes],
    }


def _recipe(entry: Ranked, request: Request) -> dict[str, Any]:
    recipe, sturdy = entry.recipe, entry.sturdiness
    return {
        "words": recipe_words(recipe, request.paints),
        "coats": [
            {
                "technique": coat.technique.value,
                "wet_um": _rounded(coat.wet_um),
                "coats": coat.coats,
                "parts": [{"paint": part.paint_id, "parts": part.parts} for part in coat.all_parts],
            }
            for coat in recipe.coats
        ],
        "colours": _colours(recipe.lab),
        "differences": [_rounded(value) for value in recipe.differences],
        "delta_e": _rounded(recipe.delta_e),
        "quarter_part": _rounded(sturdy.quarter_part),
        "heavy_coat": _rounded(sturdy.heavy_coat),
        "unsure": _rounded(sturdy.unsure),
        "other_light": {"light": sturdy.light, "delta_e": _rounded(sturdy.other_light)},
        "to_fetch": list(entry.to_fetch),
        "why": None if entry.why is None else entry.why.sentence,
    }


def _colours(lab: tuple[tuple[float, float, float], ...]) -> list[dict[str, Any]]:
    return [
        {"lab": [_rounded(value) for value in colour], "srgb": code}
        for colour, code in zip(lab, _codes(lab), strict=True)
    ]


def _rounded(value: float) -> float:
    return round(value, _DIGITS) + 0.0  # no negative zeros
