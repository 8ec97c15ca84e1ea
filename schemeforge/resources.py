"""Finds the program's assets and shared data, installed from a wheel or in a checkout."""

from pathlib import Path

from schemeforge.errors import MissingFileError

_PACKAGE = Path(__file__).resolve().parent


def _folder(name: str) -> Path:
    """The folder of that name: inside the installed package, else beside it in a checkout."""
    for candidate in (_PACKAGE / f"_{name}", _PACKAGE.parent / name):
        if candidate.is_dir():
            return candidate
    raise MissingFileError(
        f'The folder "{name}" that belongs to the program is missing',
        remedy="install the program again",
    )


def asset(*parts: str) -> Path:
    """Path of a file in ``assets/``; raises MissingFileError where it is not there."""
    return _existing(_folder("assets").joinpath(*parts))


def shared(*parts: str) -> Path:
    """Path of a file in ``shared/``; raises MissingFileError where it is not there."""
    return _existing(_folder("shared").joinpath(*parts))


def _existing(path: Path) -> Path:
    if not path.exists():
        raise MissingFileError(
            "A file that belongs to the program is missing",
            where=str(path),
            remedy="install the program again",
        )
    return path
