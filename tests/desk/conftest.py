"""A session over temporary folders."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from schemeforge.desk import Places, Session
from tests.builders import small_paints, small_project


@pytest.fixture
def places(tmp_path: Path) -> Places:
    return Places(data=tmp_path / "data", settings=tmp_path / "settings")


@pytest.fixture
def session(places: Places) -> Iterator[Session]:
    """The small project, never saved, with its paints on the shelf."""
    opened = Session(small_project(), places=places, shelf=small_paints())
    yield opened
    opened.close()
