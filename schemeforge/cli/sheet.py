"""``schemeforge sheet FILE -o OUT``: the desk sheet as PDF, picture or table."""

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from schemeforge.cli.output import complain, say
from schemeforge.cli.parsing import Parser, one_of, pick, whole_in
from schemeforge.cli.reading import chosen_scheme, project_in, spare_input
from schemeforge.cli.viewing import add_viewing_options, viewing_of
from schemeforge.errors import FileError, InputError, SchemeForgeError, UnknownNameError

if TYPE_CHECKING:
    from schemeforge.export.options import SheetOptions
    from schemeforge.export.sheet import SheetResult
    from schemeforge.scheme import Project

SUMMARY = "the desk sheet to print and paint by: PDF, PNG or CSV"
DESCRIPTION = (
    "Writes the desk sheet of a scheme: steps in order with mixes, amounts, waits, swatches and\n"
    "what to look for, one side of paper a sitting where it fits."
)
FINDING = 1
# The sections' names, told here so that help need not import what draws them.
PARTS = (
    "picture of the model",
    "finished zones",
    "who gets what",
    "sittings",
    "stock to fetch",
    "swatches",
    "tolerances",
    "mixes",
    "what to look for",
    "minutes and waits",
)
SUFFIXES = (".pdf", ".png", ".csv")


def add_arguments(parser: Parser) -> None:
    """Declares the command's arguments."""
    add = parser.add_argument
    add("file", metavar="FILE", help="project file")
    add("-o", "--out", metavar="OUT", required=True, help="what to write: .pdf, .png or .csv")
    add("--scheme", metavar="S", help="by name or id (the chosen scheme, else the first)")
    add("--group", metavar="G", help="for one group of models only (the whole batch)")
    add(
        "--paper",
        metavar="P",
        type=one_of("--paper", "paper", ("A4", "Letter")),
        default="A4",
        help="A4 or Letter (A4)",
    )
    add("--landscape", action="store_true", help="with the long edge across")
    add(
        "--leave-out",
        metavar="PART",
        action="append",
        default=[],
        help=f"any of: {', '.join(PARTS)}; may be given again",
    )
    add("--large-type", action="store_true", help="bigger cards, on as many sides as they take")
    add("--no-date", action="store_true", help="print no date, so that equal files come out equal")
    add(
        "--dpi",
        metavar="N",
        type=whole_in("--dpi", 36, 1200),
        default=150,
        help="dots per inch of a PNG (150)",
    )
    add("--keep", metavar="FOLDER", help="where traced models are kept (with the user's data)")
    add("--strict", action="store_true", help="exit with 1 where the sheet has findings")
    add_viewing_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Writes the sheet, says what was written, and gives the exit code."""
    _check_suffix(arguments.out)
    spare_input(arguments.out, arguments.file)
    project = project_in(arguments.file)
    from schemeforge.export.sheet import write_sheet  # slow, so not before a file is refused

    try:
        scheme = chosen_scheme(project, arguments.scheme)
        from schemeforge.cli.picture import kept_views

        options = _options(project, arguments)
        out = Path(arguments.out)
        result = write_sheet(project, scheme.id, out, options, views=kept_views(arguments.keep))
    except FileError:  # of the file to write, which it names
        raise
    except SchemeForgeError as error:
        raise (error if error.where.startswith("--") else error.at(arguments.file)) from None
    tell(result)
    return FINDING if arguments.strict and result.findings else 0


def tell(result: "SheetResult") -> None:
    """Says which files were written, and one line for each finding."""
    for file in result.files:
        say(f"Wrote {file}")
    for finding in result.findings:
        complain(finding)


def _check_suffix(out: str) -> None:
    if not out.lower().endswith(SUFFIXES):
        raise InputError(
            "This kind of file cannot be written",
            where=out,
            remedy="end its name in .pdf, .png or .csv",
        )


def _options(project: "Project", arguments: argparse.Namespace) -> "SheetOptions":
    from datetime import UTC, datetime

    from schemeforge.export.options import Section, SheetOptions

    group = None
    if arguments.group is not None:
        group = pick(project.groups, arguments.group, "group", "--group").id
    sections = {section.value: section for section in Section}
    for name in arguments.leave_out:
        if name not in sections:
            raise UnknownNameError("part of the sheet", name, sections, where="--leave-out")
    now = datetime.now(tz=UTC).astimezone().replace(tzinfo=None, microsecond=0)
    today = None if arguments.no_date else now.date()
    return SheetOptions(
        paper=arguments.paper,
        landscape=arguments.landscape,
        include=frozenset(Section) - {sections[name] for name in arguments.leave_out},
        viewing=viewing_of(project, arguments),
        group_id=group,
        today=today,
        now=None if arguments.no_date else now,
        dpi=arguments.dpi,
        roomy=arguments.large_type,
    )
