"""``schemeforge predict FILE``: the colour after every coat, with how sure it is."""

import argparse
from dataclasses import replace
from typing import TYPE_CHECKING

from schemeforge.cli.output import complain, say
from schemeforge.cli.parsing import Parser, number_in, pick, whole_in
from schemeforge.cli.reading import project_in
from schemeforge.cli.viewing import add_viewing_options, viewing_of
from schemeforge.errors import InputError, SchemeForgeError

if TYPE_CHECKING:
    from schemeforge.cli.prediction import Prediction, Request
    from schemeforge.scheme import Project

SUMMARY = "the colour of every zone after every coat, as a table or JSON"
DESCRIPTION = (
    "Predicts the colour of every zone after every coat: Lab, sRGB and tolerance at points\n"
    "from recess to raised edge. Tone, the light of the undercoat, goes along with relief."
)
FINDING = 1
# More points make a longer table, not a better prediction.
MOST_POINTS = 256


def add_arguments(parser: Parser) -> None:
    """Declares the command's arguments."""
    add = parser.add_argument
    add("file", metavar="FILE", help="project file")
    add("--scheme", metavar="S", help="one scheme, by name or id (all)")
    add("--zone", metavar="Z", help="one zone, by name or id (all)")
    add("--group", metavar="G", help="what one group of models gets (the full recipe)")
    add_viewing_options(parser)
    add("--wet", action="store_true", help="each coat as it looks before it dries")
    add(
        "--points",
        metavar="N",
        type=whole_in("--points", 2, MOST_POINTS),
        default=5,
        help="points from recess to raised edge (5)",
    )
    add(
        "--along",
        metavar="A",
        type=number_in("--along", 0.0, 1.0),
        default=0.5,
        help="place along the part, 0 root to 1 tip (0.5)",
    )
    add("--json", action="store_true", help="for machines; assets/prediction.schema.json tells how")
    add(
        "--fail-above",
        metavar="DE",
        type=number_in("--fail-above", 0.0, 1000.0),
        help="exit with 1 where a tolerance shown is larger than that",
    )


def run(arguments: argparse.Namespace) -> int:
    """Predicts, prints, and gives the exit code."""
    project = project_in(arguments.file)
    from schemeforge.cli.prediction import predict

    try:
        request = _request(project, arguments)
        prediction = predict(project, request)
    except SchemeForgeError as error:
        if error.where.startswith("--"):
            raise
        raise error.at(arguments.file) from None
    if arguments.json:
        from schemeforge.cli.prediction_json import as_json

        say(as_json(prediction))
    else:
        from schemeforge.cli.prediction_text import as_text, shows_colour

        say(as_text(prediction, colour=shows_colour()))
    return _verdict(arguments.file, prediction, arguments.fail_above)


def _request(project: "Project", arguments: argparse.Namespace) -> "Request":
    from schemeforge.cli.prediction import Request

    schemes, zones, group = project.schemes, project.zones, None
    if arguments.scheme is not None:
        schemes = (pick(schemes, arguments.scheme, "scheme", "--scheme"),)
    if arguments.zone is not None:
        zones = (pick(zones, arguments.zone, "zone", "--zone"),)
    if arguments.group is not None:
        group = pick(project.groups, arguments.group, "group", "--group")
    for things, kind in ((schemes, "scheme"), (zones, "zone")):
        if not things:
            raise InputError(f"The project has no {kind}", remedy=f"add a {kind} to it")
    viewing = viewing_of(project, arguments)
    return Request(
        schemes=schemes,
        zones=zones,
        group=group,
        viewing=replace(viewing, wet=viewing.wet or arguments.wet),
        points=arguments.points,
        along=arguments.along,
    )


def _verdict(file: str, prediction: "Prediction", limit: float | None) -> int:
    """Exit code: a finding where some tolerance is above the limit, told in one line."""
    worst = prediction.least_sure
    if limit is None or worst is None or worst.tolerance <= limit:
        return 0
    complain(
        f"{file}: The colour of {worst.where} is sure to {worst.tolerance:.2f} CIEDE2000 only, "
        f"above the {limit:g} asked for; measure its paints or allow more."
    )
    return FINDING
