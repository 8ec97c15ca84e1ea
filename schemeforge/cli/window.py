"""``schemeforge [FILE]``: the window, or the desk sheet where no window can open."""

import argparse
from itertools import count
from pathlib import Path

from schemeforge.cli.output import complain, say
from schemeforge.cli.parsing import Parser
from schemeforge.cli.reading import chosen_scheme, project_in
from schemeforge.cli.sheet import tell

DESCRIPTION = (
    "SchemeForge predicts, compares and plans layered glaze schemes for batches of painted\n"
    "miniatures. Without a command it opens the window; where no window can open it says why\n"
    "and writes the desk sheet instead."
)
DEMO = ("demo", "saltmarsh_wardens.schemeforge")


def add_arguments(parser: Parser) -> None:
    """Declares the window's one argument."""
    parser.add_argument(
        "file", metavar="FILE", nargs="?", help="project to open (the demo the first time)"
    )


def run(arguments: argparse.Namespace) -> int:
    """Opens the window, or writes the sheet of the same project, and gives the exit code."""
    from schemeforge.cli.desktop import obstacle

    hindrance = obstacle()
    file = None if arguments.file is None else Path(arguments.file)
    if hindrance is None:
        from schemeforge.gui.app import run_window

        return run_window(file)
    complain(hindrance.sentence)
    return _write_sheet_instead(file)


def _write_sheet_instead(file: Path | None) -> int:
    from schemeforge.resources import asset

    project = project_in(str(asset(*DEMO) if file is None else file))
    from schemeforge.export.options import SheetOptions
    from schemeforge.export.sheet import write_sheet

    stem = "schemeforge-demo" if file is None else file.stem
    scheme = chosen_scheme(project)
    result = write_sheet(project, scheme.id, free_name(f"{stem}-sheet"), SheetOptions())
    whose = "the demo project" if file is None else project.name
    say(f'Here is the desk sheet of {whose} instead, scheme "{scheme.name}".')
    tell(result)
    return 0


def free_name(stem: str, folder: Path = Path()) -> Path:
    """``STEM.pdf`` in the folder, or ``STEM-2.pdf`` and so on where that is taken."""
    names = (f"{stem}.pdf" if n == 1 else f"{stem}-{n}.pdf" for n in count(1))
    return next(folder / name for name in names if not (folder / name).exists())
