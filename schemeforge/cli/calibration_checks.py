"""What ``calibrate`` refuses before it reads a file: sources and options that do not go together.

An option that would mean nothing is refused, so that nobody believes it was heeded.
"""

import argparse

from schemeforge.cli.calibration_words import KINDS
from schemeforge.errors import InputError

_READINGS = ("over_dark", "over_light", "dark", "light", "also", "geometry", "scale")
_LEAVE_OUT = "leave out one of the two"
_OF_ONE_COLOUR = ("ground", "opacity")
_OF_TEST_MODELS = ("scheme", "zone", "group", "line", "along", "undercoat", "apply")


def check_words(arguments: argparse.Namespace) -> None:
    """Refuses words that name no source, several, or options that another source has.

    Raises:
        InputError: names the option.
    """
    _check_source(arguments)
    _check_options(arguments)
    if arguments.apply and not arguments.out:
        raise InputError(
            "Coats are made as heavy as they were laid in the project that is written",
            where="--apply",
            remedy="name that project with -o OUT.schemeforge",
        )
    if arguments.one is not None and arguments.kind is None:
        raise InputError(
            "One colour alone does not tell how a paint covers",
            where="--one",
            remedy=f"give --kind ({', '.join(KINDS)}) and, better, --opacity",
        )


def option(name: str) -> str:
    """The option as it is typed: ``over_dark`` is ``--over-dark``."""
    return f"--{name.replace('_', '-')}"


def _check_source(arguments: argparse.Namespace) -> None:
    given = [
        name
        for name, value in (
            ("FILE", arguments.file),
            ("--two", arguments.two),
            ("--one", arguments.one),
        )
        if value is not None
    ]
    if len(given) != 1:
        what = " and ".join(given) if given else "No source"
        raise InputError(
            f"{what} {'were given together' if given else 'was given'}",
            remedy="give a FILE, --two or --one",
        )
    if arguments.model is not None and arguments.file is None:
        raise InputError(
            "A test model is judged from its photograph", where="--model", remedy="give it as FILE"
        )


def _check_options(arguments: argparse.Namespace) -> None:
    beside = next(iter(_given(arguments, ("one", "two", "model", "marks"))), "")
    if beside in {"one", "two"} and arguments.marks is not None:
        raise InputError(
            f"Marks lie on a photograph and mean nothing beside {option(beside)}",
            where="--marks",
            remedy=_LEAVE_OUT,
        )
    rules = (
        (
            _OF_TEST_MODELS,
            beside != "model",
            "It is told of a painted test model only",
            "give the model's project with --model",
        ),
        (
            _READINGS,
            beside != "",
            f"It belongs to an instrument's readings and means nothing beside {option(beside)}",
            _LEAVE_OUT,
        ),
        (
            _OF_ONE_COLOUR,
            beside != "one",
            "It is told of a single colour only",
            "give the colour with --one, or leave this out",
        ),
        (
            ("kind",),
            beside == "model",
            "The coats of a test model are of paints whose kind is known",
            "leave it out",
        ),
        (
            ("finish",),
            beside == "",
            "How an instrument takes gloss is told by its geometry",
            "give --geometry instead",
        ),
    )
    for names, is_wrong, what, remedy in rules:
        strays = _given(arguments, names)
        if strays and is_wrong:
            raise InputError(what, where=option(strays[0]), remedy=remedy)


def _given(arguments: argparse.Namespace, names: tuple[str, ...]) -> list[str]:
    return [name for name in names if _is_given(arguments, name)]


def _is_given(arguments: argparse.Namespace, name: str) -> bool:
    value = getattr(arguments, name)
    return value is not None and value is not False and value != []
