"""Options that several commands share: how colours are looked at."""

import argparse
from dataclasses import replace
from typing import TYPE_CHECKING

from schemeforge.cli.parsing import Parser, one_of

if TYPE_CHECKING:
    from schemeforge.scheme import Project, Viewing

_FINISHES = ("matt", "unvarnished", "satin", "gloss")


def add_viewing_options(parser: Parser) -> None:
    """Declares light, observer and finish; what is not given is as the project says."""
    add = parser.add_argument
    add("--light", metavar="L", help="D65, D50, A, LED-B4, FL11, ... or one of the project's own")
    add(
        "--observer",
        metavar="DEG",
        type=one_of("--observer", "observer", ("2", "10")),
        help="2 or 10 degrees",
    )
    add(
        "--finish",
        metavar="F",
        type=one_of("--finish", "finish", _FINISHES),
        help=", ".join(_FINISHES),
    )


def viewing_of(project: "Project", arguments: argparse.Namespace) -> "Viewing":
    """The project's viewing with what the options say instead; raises UnknownNameError."""
    from schemeforge.colorimetry import light_names
    from schemeforge.scheme import Finish

    viewing = project.viewing
    if arguments.light is not None:
        known = (*light_names(), *(light.name for light in project.lights))
        viewing = replace(viewing, light=one_of("--light", "light", known)(arguments.light))
    if arguments.observer is not None:
        viewing = replace(viewing, observer=int(arguments.observer))
    if arguments.finish is not None:
        viewing = replace(viewing, finish=Finish(arguments.finish))
    return viewing
