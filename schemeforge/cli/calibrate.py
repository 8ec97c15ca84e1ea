"""``schemeforge calibrate``: a paint from spectra, a photographed card, two colours or one."""

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from schemeforge.cli.calibration_checks import check_words
from schemeforge.cli.calibration_words import (
    CARDS,
    FINISHES,
    GEOMETRIES,
    KINDS,
    OPACITIES,
    SCALES,
)
from schemeforge.cli.output import complain, say
from schemeforge.cli.parsing import Parser, number_in, one_of
from schemeforge.cli.reading import spare_input

if TYPE_CHECKING:
    from schemeforge.calibration import Outcome
    from schemeforge.paint import Paint

SUMMARY = "a paint of your own from a measurement, a photograph or colours; a test model"
DESCRIPTION = (
    "Works out how a paint absorbs and scatters, and how surely that is known, from one of:\n"
    "  FILE with --over-dark, --over-light, --dark, --light   an instrument's readings\n"
    "  FILE with --marks                                      a photographed swatch card\n"
    "  --two OVER_DARK OVER_LIGHT                             two colours such as #7f4a21\n"
    "  --one COLOUR                                           one colour, a kind and --opacity\n"
    "or, with --model PROJECT, how heavily the coats of a photographed test model lie:\n"
    "  FILE --model PROJECT --zone Z --line X1,Y1,X2,Y2       a line from recess to raised edge"
)
FINDING = 1


def add_arguments(parser: Parser) -> None:
    """Declares the command's arguments."""
    add = parser.add_argument
    add("file", metavar="FILE", nargs="?", help="readings (CGATS, CSV, TM-27) or a photograph")
    add(
        "--also",
        metavar="FILE",
        action="append",
        default=[],
        help="one more file of readings, for those that hold one each, such as TM-27",
    )
    add("--name", metavar="N", help="what the paint or test model is called (as its file is)")
    add(
        "--kind",
        metavar="K",
        type=one_of("--kind", "kind", KINDS),
        help=f"{', '.join(KINDS)} (opaque or translucent, by how it covers)",
    )
    add("--two", metavar=("DARK", "LIGHT"), nargs=2, help="one coat over black and over white")
    add("--one", metavar="COLOUR", help="in a thick layer, or one coat where --ground is given")
    add("--ground", metavar="G", type=one_of("--ground", "ground", CARDS), help=", ".join(CARDS))
    add(
        "--opacity",
        metavar="COATS",
        type=one_of("--opacity", "answer", OPACITIES),
        help="coats that hide black and white: one, two, few (3 or 4), many (5 to 10), never",
    )
    for option, what in (
        ("--over-dark", "sample of the film over the dark ground"),
        ("--over-light", "sample of the same film over the light ground"),
        ("--dark", "sample of the bare dark ground"),
        ("--light", "sample of the bare light ground"),
    ):
        add(option, metavar="S", help=what)
    add(
        "--geometry",
        metavar="G",
        type=one_of("--geometry", "geometry", GEOMETRIES),
        help="how the instrument takes gloss: " + ", ".join(GEOMETRIES),
    )
    add(
        "--scale",
        metavar="S",
        type=one_of("--scale", "scale", SCALES),
        help="what numbers count, where the file leaves doubt: " + ", ".join(SCALES),
    )
    add("--marks", metavar="JSON", help="where references, grounds and swatches lie on the picture")
    add(
        "--film",
        metavar="UM",
        type=number_in("--film", 0.5, 1000.0),
        default=30.0,
        help="wet film of one coat of neat paint, micrometres (30)",
    )
    add(
        "--finish",
        metavar="F",
        type=one_of("--finish", "finish", FINISHES),
        help=f"of swatch and card: {', '.join(FINISHES)} (the most matt that fits)",
    )
    add("--model", metavar="PROJECT", help="judge a test model painted by a scheme of it")
    add("--scheme", metavar="S", help="that it was painted by (the chosen one)")
    add("--zone", metavar="Z", help="in which the line lies")
    add("--group", metavar="G", help="whose share of the coats it got (the full recipe)")
    add("--line", metavar="X1,Y1,X2,Y2", help="recess to raised edge, shares of width and height")
    add(
        "--along",
        metavar="SHARE",
        type=number_in("--along", 0.0, 1.0),
        help="where along the part, 0 to 1 (0.5)",
    )
    add("--undercoat", action="store_true", help="judge the sprayed undercoat as well")
    add("--apply", action="store_true", help="in OUT, make the coats as heavy as they were laid")
    add("-o", "--out", metavar="OUT", help="paint: .json or .csv; test model: .schemeforge")
    add("--json", action="store_true", help="what was found, for machines")
    add("--strict", action="store_true", help="exit with 1 where there are findings")


def run(arguments: argparse.Namespace) -> int:
    """Calibrates, prints, writes, and gives the exit code."""
    check_words(arguments)
    if arguments.name is None:
        arguments.name = _usual_name(arguments)
    if arguments.out:
        spare_input(
            arguments.out, arguments.file, *arguments.also, arguments.marks, arguments.model
        )
    if arguments.model is not None:
        from schemeforge.cli.judging import judge

        return judge(arguments)
    from schemeforge.calibration import likely_kind
    from schemeforge.cli.calibration_sources import outcome_of  # slow, so not before a refusal
    from schemeforge.paint import PaintKind
    from schemeforge.scheme.edits import fresh_id

    outcome = outcome_of(arguments)
    kind = PaintKind(arguments.kind) if arguments.kind else likely_kind(outcome, arguments.film)
    paint = outcome.paint(id=fresh_id(arguments.name, ()), name=arguments.name, kind=kind)
    if arguments.out:
        _write(paint, arguments.out)
    _tell(paint, outcome, arguments)
    return FINDING if arguments.strict and outcome.findings else 0


def _usual_name(arguments: argparse.Namespace) -> str:
    """What is calibrated is called as its file is, else as the file that is written."""
    from schemeforge.scheme.edits import fresh_name

    stem = Path(arguments.file or arguments.out or "").stem
    name = "".join(char if char.isprintable() else " " for char in stem).strip()
    return fresh_name(name or "new paint", ())


def _write(paint: "Paint", out: str) -> None:
    from schemeforge.shelf import export_paints

    export_paints((paint,), Path(out))


def _tell(paint: "Paint", outcome: "Outcome", arguments: argparse.Namespace) -> None:
    from schemeforge.cli.calibration_text import as_json, as_text

    is_told = arguments.kind is not None
    if arguments.json:
        say(as_json(paint, outcome, is_kind_told=is_told))
    else:
        say(as_text(paint, outcome, film_um=arguments.film, is_kind_told=is_told))
        if arguments.out:
            say(f"Wrote {arguments.out}")
    for finding in outcome.findings:
        complain(finding)
