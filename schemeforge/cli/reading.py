"""Reading the file that a command is given: a project file, or a recipe strip that carries one."""

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from schemeforge.scheme import Project

STRIP_SUFFIX = ".png"


def project_in(file: str) -> "Project":
    """The project in that file; errors name the file, as in ``scheme.project_file.load``."""
    if file.lower().endswith(STRIP_SUFFIX):
        from schemeforge.export.recipe_strip import read_strip

        return read_strip(Path(file))
    from schemeforge.scheme.project_file import load

    return load(file)
