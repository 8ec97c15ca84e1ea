"""Small views of models, built once for all tests."""

from pathlib import Path

import pytest

from schemeforge.resources import asset
from schemeforge.scheme import Project, project_file
from schemeforge.stand_in import WARDEN, SprayCone, StandIns, Turn, View


@pytest.fixture(scope="session")
def views(tmp_path_factory: pytest.TempPathFactory) -> StandIns:
    """A store over a folder of its own."""
    return StandIns(tmp_path_factory.mktemp("stand-ins"))


@pytest.fixture(scope="session")
def warden(views: StandIns) -> View:
    """The warden from the front, 128 pixels."""
    return views.view(WARDEN, 128, Turn(), SprayCone())


@pytest.fixture(scope="session")
def demo() -> Project:
    """The demo project."""
    return project_file.load(Path(asset("demo", "saltmarsh_wardens.schemeforge")))
