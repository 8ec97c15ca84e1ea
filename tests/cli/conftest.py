"""A small project on disk, and the command line run in this process."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NamedTuple

import pytest

from schemeforge.cli.main import run
from schemeforge.scheme.project_file import save
from tests.builders import small_project


class Ran(NamedTuple):
    """How a command ended and what it printed."""

    code: int
    out: str
    err: str


Command = Callable[..., Ran]


@pytest.fixture
def command(capsys: pytest.CaptureFixture[str]) -> Command:
    """Runs ``schemeforge`` with the words given."""

    def ran(*words: object) -> Ran:
        code = run([str(word) for word in words])
        return Ran(code, *capsys.readouterr())

    return ran


@pytest.fixture(scope="session", autouse=True)
def stand_ins(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Traced models are kept in one folder for all tests, and not with the user's data."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("SCHEMEFORGE_STAND_INS", str(tmp_path_factory.mktemp("stand-ins")))
        yield


@pytest.fixture
def project_path(tmp_path: Path) -> Path:
    """The small project, saved."""
    path = tmp_path / "small.schemeforge"
    save(small_project(), path)
    return path
