"""``schemeforge match FILE TARGET``: what to mix for a colour, a zone or a stage of it."""

import argparse
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from schemeforge.cli.output import complain, say
from schemeforge.cli.parsing import Parser, number_in, one_of, pick, whole_in
from schemeforge.cli.reading import project_in
from schemeforge.cli.viewing import add_viewing_options, viewing_of
from schemeforge.errors import FileError, InputError, SchemeForgeError

if TYPE_CHECKING:
    from schemeforge.cli.matching import Question
    from schemeforge.paint import Paint
    from schemeforge.recipe import Target
    from schemeforge.scheme import Project, Scheme, Viewing, Zone

SUMMARY = "what to mix for a colour, a zone or a stage of it"
DESCRIPTION = (
    "Finds what to mix, how thin and in how many coats, so that a zone looks like TARGET:\n"
    "a screen colour (#8a5a3c), CIELAB (52,12,-30), or a zone, all its tones at once."
)
FINDING = 1
STARTER = "starter"
TECHNIQUES = (
    "base coat",
    "layer",
    "glaze",
    "feathered glaze",
    "wash",
    "filter",
    "stain",
    "dry brush",
    "edge highlight",
    "airbrush",
)


def add_arguments(parser: Parser) -> None:
    """Declares the command's arguments."""
    add = parser.add_argument
    add("file", metavar="FILE", help="project file")
    add("target", metavar="TARGET", help="#rrggbb, L,a,b, or a zone by name or id")
    add("--of", metavar="S", help="the scheme of a zone that is the target (as --scheme)")
    add("--stage", metavar="STEP", help="the target zone after that step (finished)")
    add("--on", metavar="Z", help="the zone to paint (the target zone, else the first)")
    add("--scheme", metavar="S", help="whose coats lie below (the chosen scheme, else the first)")
    add("--after", metavar="STEP", help="lay it on that step's coat (on the bare undercoat)")
    add(
        "--at",
        metavar="R",
        type=number_in("--at", 0.0, 1.0),
        help="place from recess 0 to raised edge 1 (0.75; a zone's whole ramp)",
    )
    add(
        "--technique",
        metavar="T",
        type=one_of("--technique", "technique", TECHNIQUES),
        default="glaze",
        help="base coat, layer, glaze, wash, dry brush, ... (glaze)",
    )
    add("--layered", action="store_true", help="a base coat with a glaze on it as well")
    add("--coats", metavar="N", type=whole_in("--coats", 1, 12), default=3, help="at most (3)")
    add("--parts", metavar="N", type=whole_in("--parts", 1, 20), default=10, help="at most (10)")
    add("--paints", metavar="P", help="a file of paints, or starter (those of the project)")
    add("--thinner", metavar="P", help="a medium by name or id (water)")
    add("--must", metavar="P", action="append", default=[], help="use that paint; may be repeated")
    add("--without", metavar="P", action="append", default=[], help="not that paint; likewise")
    add("--in-stock", action="store_true", help="leave out paints of which nothing is left")
    add(
        "--count",
        metavar="N",
        type=whole_in("--count", 1, 50),
        default=10,
        help="how many different recipes (10)",
    )
    add_viewing_options(parser)
    add("--json", action="store_true", help="for machines; assets/match.schema.json tells how")
    add(
        "--fail-above",
        metavar="DE",
        type=number_in("--fail-above", 0.0, 1000.0),
        help="exit with 1 where the nearest recipe is farther off than that",
    )


def run(arguments: argparse.Namespace) -> int:
    """Searches, prints, and gives the exit code."""
    project = project_in(arguments.file)
    from schemeforge.cli.matching import answer, as_json, as_text

    try:
        found = answer(_question(project, arguments))
    except FileError:  # of the paints, which it names
        raise
    except SchemeForgeError as error:
        if error.where.startswith("--") or error.where == "TARGET":
            raise
        raise error.at(arguments.file) from None
    say(as_json(found) if arguments.json else as_text(found))
    nearest, limit = found.reach.delta_e, arguments.fail_above
    if limit is None or nearest <= limit:
        return 0
    complain(
        f"{arguments.file}: The nearest recipe is {nearest:.2f} CIEDE2000 off, above the "
        f"{limit:g} asked for; allow more paints, coats or layers."
    )
    return FINDING


def _question(project: "Project", arguments: argparse.Namespace) -> "Question":
    from schemeforge.cli.matching import Question
    from schemeforge.cli.reading import chosen_scheme
    from schemeforge.recipe import LAYERED, Laying, Request, look_for, zone_bed
    from schemeforge.scheme import Technique

    if not project.zones:
        raise InputError("The project has no zone", remedy="add a zone to it")
    scheme = chosen_scheme(project, arguments.scheme)
    viewing = replace(viewing_of(project, arguments), wet=False)
    target, zone, relief = _target(project, scheme, viewing, arguments)
    if arguments.on is not None:
        zone = pick(project.zones, arguments.on, "zone", "--on")
    after = arguments.after
    if after is not None:
        after = pick(scheme.steps, after, "step", "--after").id
    laying = Laying(
        technique=Technique(arguments.technique),
        coats=tuple(range(1, arguments.coats + 1)),
        most_parts=arguments.parts,
    )
    base, glaze = LAYERED
    layered = (base, replace(glaze, coats=laying.coats, most_parts=laying.most_parts))
    paints = _paints(project, arguments.paints)
    thinner = arguments.thinner
    request = Request(
        target=target,
        bed=zone_bed(project, scheme, zone.id, relief=relief, after=after),
        look=look_for(project, viewing),
        paints=paints,
        builds=((laying,), layered) if arguments.layered else ((laying,),),
        thinner_id="water" if thinner is None else pick(paints, thinner, "paint", "--thinner").id,
        must=tuple(pick(paints, name, "paint", "--must").id for name in arguments.must),
        without=tuple(pick(paints, name, "paint", "--without").id for name in arguments.without),
        only_in_stock=arguments.in_stock,
        count=arguments.count,
    )
    return Question(project=project, zone=zone, viewing=viewing, request=request, relief=relief)


def _target(
    project: "Project", scheme: "Scheme", viewing: "Viewing", arguments: argparse.Namespace
) -> "tuple[Target, Zone, tuple[float, ...]]":
    """The target, the zone to paint where none is named, and the places from recess to edge."""
    from schemeforge.recipe import RAMP, typed_target, zone_target

    text = arguments.target.strip()
    place = (0.75,) if arguments.at is None else (arguments.at,)
    colour = typed_target(text)
    if colour is not None:
        for option in ("of", "stage"):
            if getattr(arguments, option) is not None:
                raise InputError(
                    "The target is a colour", where=f"--{option}", remedy="leave that option out"
                )
        return colour, project.zones[0], place
    zone = pick(project.zones, text, "zone", "TARGET")
    if arguments.of is not None:
        scheme = pick(project.schemes, arguments.of, "scheme", "--of")
    stage = arguments.stage
    if stage is not None:
        stage = pick(scheme.steps, stage, "step", "--stage").id
    relief = RAMP if arguments.at is None else place
    target = zone_target(project, scheme, zone.id, relief=relief, after=stage, viewing=viewing)
    return target, zone, relief


def _paints(project: "Project", wanted: str | None) -> "tuple[Paint, ...]":
    from schemeforge.shelf import import_paints, starter_paints

    if wanted is None:
        return project.paints
    return starter_paints() if wanted == STARTER else import_paints(Path(wanted))
