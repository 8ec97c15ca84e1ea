"""``schemeforge picture FILE -o OUT.png``: the scheme on a stand-in model."""

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from schemeforge.cli.output import say
from schemeforge.cli.parsing import Parser, number_in, one_of, pick, whole_in
from schemeforge.cli.reading import chosen_scheme, project_in, spare_input
from schemeforge.cli.viewing import add_viewing_options, viewing_of
from schemeforge.errors import FileError, InputError, SchemeForgeError

if TYPE_CHECKING:
    from schemeforge.scheme import Project, Scheme
    from schemeforge.stand_in import Model, Picture, StandIns, Turn

SUMMARY = "a picture of a scheme on a stand-in model, PNG"
DESCRIPTION = (
    "Paints a stand-in model with a scheme and writes the picture as PNG with its colour profile\n"
    "and at true size: what is between 0 and 1 of a pixel's cover is transparent."
)
# Told here so that help need not import what draws them; a test holds them to the catalogue.
MODELS = (
    "warden",
    "limb",
    "ribbed plate",
    "flat shield",
    "cloak",
    "lantern",
    "sphere",
    "round base",
)
FINISHED = "finished"


def add_arguments(parser: Parser) -> None:
    """Declares the command's arguments."""
    add = parser.add_argument
    add("file", metavar="FILE", help="project file")
    add("-o", "--out", metavar="OUT", required=True, help="picture to write, .png")
    add("--scheme", metavar="S", help="by name or id (the chosen scheme, else the first)")
    add("--beside", metavar="S", help="another scheme, on the right half of the model")
    add(
        "--model",
        metavar="M",
        type=one_of("--model", "stand-in model", MODELS),
        default=MODELS[0],
        help=f"{', '.join(MODELS)} ({MODELS[0]})",
    )
    add("--zone", metavar="Z", help="one zone, by name or id, all over the model")
    add("--group", metavar="G", help="as one group of models gets it (the full recipe)")
    add("--stage", metavar="STEP", help="after that step, by name or id (finished)")
    add(
        "--models",
        metavar="N",
        type=whole_in("--models", 1, 20),
        default=1,
        help="so many in a row by who gets what, no two quite alike (1)",
    )
    size = whole_in("--size", 16, 2048)
    add("--size", metavar="PX", type=size, default=512, help="pixels of one model (512)")
    turn, tilt = number_in("--view", -360.0, 360.0), number_in("--above", 0.0, 80.0)
    add("--view", metavar="DEG", type=turn, default=20.0, help="turned by so much (20)")
    add("--above", metavar="DEG", type=tilt, default=14.0, help="seen from so far above (14)")
    side, height = number_in("--lamp", -180.0, 180.0), number_in("--lamp-height", -10.0, 90.0)
    add("--lamp", metavar="DEG", type=side, default=-38.0, help="lamp to the right (-38)")
    add("--lamp-height", metavar="DEG", type=height, default=48.0, help="lamp above the table (48)")
    add("--wet", action="store_true", help="with the last coat still wet")
    add("--keep", metavar="FOLDER", help="where traced models are kept (with the user's data)")
    add_viewing_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Writes the picture, says so, and gives the exit code."""
    if not arguments.out.lower().endswith(".png"):
        raise InputError(
            "This kind of file cannot be written", where=arguments.out, remedy="end it in .png"
        )
    spare_input(arguments.out, arguments.file)
    project = project_in(arguments.file)
    try:
        _write(project, arguments)
    except FileError:  # of the file to write, which it names
        raise
    except SchemeForgeError as error:
        raise (error if error.where.startswith("--") else error.at(arguments.file)) from None
    say(f"Wrote {arguments.out}")
    return 0


def _write(project: "Project", arguments: argparse.Namespace) -> None:
    from PIL import Image

    from schemeforge.export.png import png_of
    from schemeforge.stand_in import model
    from schemeforge.whole_file import write_whole

    stand_in = model(arguments.model)
    picture = _picture(project, stand_in, arguments)
    dpi = arguments.size / (stand_in.frame.span / 25.4)  # so that it prints at true size
    data = png_of(Image.fromarray(picture.rgba), dpi)
    write_whole(Path(arguments.out), data, keep_previous=False)


def _picture(project: "Project", model: "Model", arguments: argparse.Namespace) -> "Picture":
    from schemeforge.stand_in import Turn, split

    views = kept_views(arguments.keep)
    turn = Turn(arguments.view % 360.0, arguments.above)
    scheme = chosen_scheme(project, arguments.scheme)
    picture = _one(project, scheme, model, views, turn, arguments)
    if arguments.beside is None:
        return picture
    other = pick(project.schemes, arguments.beside, "scheme", "--beside")
    return split(picture, _one(project, other, model, views, turn, arguments))


def _one(
    project: "Project",
    scheme: "Scheme",
    model: "Model",
    views: "StandIns",
    turn: "Turn",
    arguments: argparse.Namespace,
) -> "Picture":
    from dataclasses import replace

    from schemeforge.stand_in import (
        LightDirection,
        SprayCone,
        members,
        picture_of,
        row,
        stages_after,
        worn,
    )

    viewing = replace(viewing_of(project, arguments), wet=arguments.wet or project.viewing.wet)
    zone_id = group_id = stage = None
    if arguments.zone is not None:
        zone_id = pick(project.zones, arguments.zone, "zone", "--zone").id
    if arguments.group is not None:
        group_id = pick(project.groups, arguments.group, "group", "--group").id
    if arguments.stage is not None and arguments.stage.casefold() != FINISHED:
        step = pick(scheme.steps, arguments.stage, "step", "--stage")
        stage = stages_after(project, scheme, step.id, group_id)
    lamp = LightDirection(azimuth=arguments.lamp, elevation=arguments.lamp_height)
    view = views.view(model, arguments.size, turn, SprayCone())
    wearing = worn(project, model, zone_id)
    if arguments.models == 1:
        return picture_of(
            project,
            scheme,
            view,
            wearing,
            viewing,
            light_direction=lamp,
            stage=stage,
            group_id=group_id,
        )
    chosen = (group_id,) * arguments.models if group_id else members(project, arguments.models)
    return row(
        project,
        scheme,
        (view,),
        wearing,
        viewing,
        groups=chosen,
        light_direction=lamp,
        stage=stage,
    )


def kept_views(folder: str | None = None) -> "StandIns":
    """Views of models, kept in that folder or with the user's data."""
    from schemeforge.desk.places import default_places
    from schemeforge.stand_in import StandIns

    return StandIns(default_places().stand_ins if folder is None else Path(folder))
