"""The ``schemeforge`` command: finds the command, runs it, and turns every error into a sentence.

Exit codes: 0 done; 1 a finding that the user asked to fail on; 2 bad input; 130 interrupted.
"""

import os
import sys
from collections.abc import Sequence
from pathlib import Path

from schemeforge import __version__
from schemeforge.cli import calibrate, match, output, picture, plan, predict, sheet, window
from schemeforge.cli.parsing import Command, Parser
from schemeforge.errors import InputError, SchemeForgeError, UnknownNameError

COMMANDS: dict[str, Command] = {
    "calibrate": calibrate,
    "match": match,
    "picture": picture,
    "plan": plan,
    "predict": predict,
    "sheet": sheet,
}
BAD_INPUT = 2
INTERRUPTED = 130
# Set to anything, an error in the program itself shows where it happened.
TRACE_VARIABLE = "SCHEMEFORGE_TRACE"


def run(argv: Sequence[str] | None = None) -> int:
    """Runs the command line and gives its exit code.

    Args:
        argv: The words after the program's name; those of the process where None.
    """
    output.prepare()
    words = list(sys.argv[1:] if argv is None else argv)
    try:
        code = _dispatch(words)
        output.finish()
    except SystemExit as leaving:  # argparse leaves this way after --help and --version
        return int(leaving.code or 0)
    except SchemeForgeError as error:
        output.complain(error.sentence)
        return BAD_INPUT
    except KeyboardInterrupt:
        output.complain("Interrupted.")
        return INTERRUPTED
    except Exception as error:
        if os.environ.get(TRACE_VARIABLE):
            raise
        output.complain(_own_fault(error))
        return BAD_INPUT
    return code


def _dispatch(words: list[str]) -> int:
    name = words[0] if words else ""
    command = COMMANDS.get(name)
    if command is not None:
        parser = Parser(prog=f"schemeforge {name}", description=command.DESCRIPTION)
        command.add_arguments(parser)
        return command.run(parser.parse(words[1:]))
    if name and not name.startswith("-") and not _may_be_file(name):
        raise _no_such_command(name)
    parser = Parser(
        prog="schemeforge",
        usage="schemeforge [FILE]\n       schemeforge COMMAND FILE [options]",
        description=window.DESCRIPTION,
        epilog=_epilog(),
    )
    parser.add_argument("--version", action="version", version=f"SchemeForge {__version__}")
    window.add_arguments(parser)
    return window.run(parser.parse(words))


def _epilog() -> str:
    lines = [f"  {name:<9} {command.SUMMARY}" for name, command in COMMANDS.items()]
    return "\n".join(
        [
            "commands:",
            *lines,
            "",
            'Options of a command: "schemeforge COMMAND --help".',
            "Exit code: 0 done, 1 a finding that you asked to fail on, 2 bad input.",
        ]
    )


def _may_be_file(name: str) -> bool:
    """True for what is there, and for what is written like a path rather than like a command."""
    try:
        there = Path(name).exists()
    except (OSError, ValueError):  # too long, or with a null in it
        there = True  # whoever opens it says what is wrong with it
    return there or "." in name or "/" in name or os.sep in name


def _no_such_command(name: str) -> InputError:
    error = UnknownNameError("command or file", name, COMMANDS)
    if error.remedy.startswith("did you mean"):
        return error
    return InputError(error.what, remedy=f"give a project file, or one of {', '.join(COMMANDS)}")


def _own_fault(error: Exception) -> str:
    kind = type(error).__name__
    return (
        f"An error in the program itself ({kind}: {error}); please report it with this command, "
        f"run once more with {TRACE_VARIABLE}=1."
    )
