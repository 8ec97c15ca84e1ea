"""``schemeforge plan FILE``: can the batch be done in the sittings, and in what order."""

import argparse
from typing import TYPE_CHECKING

from schemeforge.cli.output import complain, say
from schemeforge.cli.parsing import Parser, one_of, whole_in
from schemeforge.cli.reading import project_in, spare_input
from schemeforge.errors import InputError, SchemeForgeError, shown

if TYPE_CHECKING:
    from datetime import datetime, time

    from schemeforge.cli.planning import Planning
    from schemeforge.scheme import Project, Sitting

SUMMARY = "whether the batch fits into its sittings, in what order, and what to cut"
DESCRIPTION = (
    "Plans the batch: what is done in which sitting, when each group is finished and how likely,\n"
    "which pots to mix, and what to cut where time is short."
)
FINDING = 1
WAYS = ("whole batch", "sub-batches", "group by group")


def add_arguments(parser: Parser) -> None:
    """Declares the command's arguments."""
    add = parser.add_argument
    add("file", metavar="FILE", help="project file")
    add("--scheme", metavar="S", help="by name or id (the chosen scheme, else the first)")
    add(
        "--sittings",
        metavar="LIST",
        help='instead of the project\'s own: minutes, or day:minutes, as in "2031-05-01:180,240"',
    )
    add("--today", metavar="DAY", help="plan from that day on, YYYY-MM-DD (from the first sitting)")
    add(
        "--way",
        metavar="W",
        type=one_of("--way", "way", WAYS),
        help=f"{', '.join(WAYS)} (the painter's)",
    )
    add(
        "--sub-batch",
        metavar="N",
        type=whole_in("--sub-batch", 1, 1000),
        help="models at a time (the painter's)",
    )
    add("--json", action="store_true", help="for machines; assets/plan.schema.json tells how")
    add("--ics", metavar="OUT", help="also write the sittings to a calendar file, .ics")
    add("--begins", metavar="HH:MM", help="time of day of the sittings in it (all day)")
    add("--fail-late", action="store_true", help="exit with 1 where the batch is late")


def run(arguments: argparse.Namespace) -> int:
    """Plans, prints, and gives the exit code."""
    _check(arguments)
    begins = _time_of_day(arguments.begins)
    project = project_in(arguments.file)
    from schemeforge.cli.planning import planning
    from schemeforge.cli.reading import chosen_scheme

    try:
        project = _with_options(project, arguments)
        scheme = chosen_scheme(project, arguments.scheme)
        made = planning(project, scheme, _now(arguments.today))
    except SchemeForgeError as error:
        raise (error if error.where.startswith("--") else error.at(arguments.file)) from None
    if arguments.json:
        from schemeforge.cli.plan_json import as_json

        say(as_json(made))
    else:
        from schemeforge.cli.plan_text import as_text

        say(as_text(made))
    if arguments.ics is not None:
        _write_calendar(made, arguments.ics, begins)
    return _verdict(arguments.file, made) if arguments.fail_late else 0


def _check(arguments: argparse.Namespace) -> None:
    if arguments.ics is not None and not arguments.ics.lower().endswith(".ics"):
        raise InputError(
            "This kind of file cannot be written",
            where=arguments.ics,
            remedy="end its name in .ics",
        )
    if arguments.ics is not None:
        spare_input(arguments.ics, arguments.file)
    if arguments.begins is not None and arguments.ics is None:
        raise InputError(
            "There is no calendar to put it in", where="--begins", remedy="give --ics OUT as well"
        )


def _with_options(project: "Project", arguments: argparse.Namespace) -> "Project":
    from dataclasses import replace

    from schemeforge.scheme import Way, edits

    habits = project.habits
    if arguments.sub_batch is not None:
        habits = replace(habits, sub_batch=arguments.sub_batch, way=Way.SUB_BATCHES)
    if arguments.way is not None:
        habits = replace(habits, way=Way(arguments.way))
    project = edits.set_habits(project, habits)
    if arguments.sittings is None:
        return project
    for sitting in project.sittings:
        project = edits.remove_sitting(project, sitting.id)
    for number, text in enumerate(arguments.sittings.split(","), start=1):
        project = edits.add_sitting(project, _sitting(number, text.strip()))
    return project


def _sitting(number: int, text: str) -> "Sitting":
    from schemeforge.scheme import Sitting

    day, _, minutes = text.rpartition(":")
    try:
        length = float(minutes)
    except ValueError:
        raise InputError(
            f'"{shown(text)}" is no sitting',
            where="--sittings",
            remedy='give minutes, or day:minutes, as in "2031-05-01:180"',
        ) from None
    try:
        return Sitting(id=f"sitting-{number}", minutes=length, day=day)
    except InputError as error:
        raise error.at("--sittings") from None


def _now(today: str | None) -> "datetime | None":
    from datetime import datetime

    from schemeforge.scheme.model import iso_date

    if today is None:
        return None
    try:
        day = iso_date(today, "The day")
    except InputError as error:
        raise error.at("--today") from None
    return datetime(day.year, day.month, day.day)  # noqa: DTZ001 - the painter's own day


def _time_of_day(text: str | None) -> "time | None":
    from datetime import time

    if text is None:
        return None
    try:
        return time.fromisoformat(text)
    except ValueError:
        raise InputError(
            f'"{shown(text)}" is no time of day',
            where="--begins",
            remedy='write it as in "19:30"',
        ) from None


def _write_calendar(made: "Planning", out: str, begins: "time | None") -> None:
    from datetime import UTC, datetime

    from schemeforge.plan.ical import calendar, undated
    from schemeforge.whole_file import write_whole

    text = calendar(made.project, made.plan, datetime.now(UTC), begins=begins)
    write_whole(out, text.encode("utf-8"), keep_previous=False)
    complain(f"Wrote {out}.")
    missing = undated(made.plan)
    if missing == 1:
        complain("1 sitting has no day and is not in the calendar.")
    elif missing:
        complain(f"{missing} sittings have no day and are not in the calendar.")


def _verdict(file: str, made: "Planning") -> int:
    """Exit code: a finding where the batch is late or a sitting overfull, told in one line each."""
    findings = [overfull.sentence for overfull in made.plan.overfull]
    if made.plan.is_late:
        findings.append(made.plan.sentence)
    for finding in findings:
        complain(f"{file}: {finding}")
    return FINDING if findings else 0
