"""What a command is given: a project file or a recipe strip that carries one, and its scheme."""

from pathlib import Path
from typing import TYPE_CHECKING

from schemeforge.cli.parsing import pick
from schemeforge.errors import InputError

if TYPE_CHECKING:
    from schemeforge.scheme import Project, Scheme

STRIP_SUFFIX = ".png"


def spare_input(out: str | Path, *read: str | None) -> None:
    """Refuses to write over a file that is read, also by another name of the same file.

    Raises:
        InputError: names the output.
    """
    for file in read:
        if file is not None and _is_same(out, file):
            raise InputError(
                "This is the file to read and would be replaced",
                where=str(out),
                remedy="write under another name",
            )


def _is_same(one: str | Path, other: str | Path) -> bool:
    try:
        return Path(one).samefile(other)
    except (OSError, ValueError):  # not there, or no name of a file at all
        return False


def project_in(file: str) -> "Project":
    """The project in that file; errors name the file, as in ``scheme.project_file.load``."""
    if file.lower().endswith(STRIP_SUFFIX):
        from schemeforge.export.recipe_strip import read_strip

        return read_strip(Path(file))
    from schemeforge.scheme.project_file import load

    return load(file)


def chosen_scheme(project: "Project", wanted: str | None = None) -> "Scheme":
    """The scheme of that name or id, else the chosen one, else the first.

    Raises:
        UnknownNameError: where there is none of that name.
        InputError: where the project has no scheme.
    """
    if not project.schemes:
        raise InputError("The project has no scheme", remedy="add a scheme to it")
    if wanted is not None:
        return pick(project.schemes, wanted, "scheme", "--scheme")
    if project.chosen_scheme_id:
        return project.scheme(project.chosen_scheme_id)
    return project.schemes[0]
