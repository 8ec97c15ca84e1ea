"""A colour is the same number on every page, in the sheet, on the command line, from the file."""

import json
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
import pytest
from pytestqt.qtbot import QtBot

from schemeforge import colorimetry
from schemeforge.appearance import Points, ramp_tones, zone_stages
from schemeforge.cli.main import run
from schemeforge.desk import Page, Places, Session
from schemeforge.desk.colours import RAMP_POINTS
from schemeforge.export.facts import gather
from schemeforge.export.options import SheetOptions
from schemeforge.export.swatches import Swatches
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.coats.page import CoatsPage
from schemeforge.gui.files import demo_project
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.schemes.page import SchemesPage
from schemeforge.gui.sheet.page import SheetPage
from schemeforge.gui.widgets.strip import ColourStrip
from schemeforge.scheme import Finish, edits
from schemeforge.scheme.project_file import load, save
from schemeforge.shelf.starter import starter_paints

PATIENCE_MS = 30_000
# Lab is printed to four decimals by the command line.
LAB = 0.5e-4 + 1e-9
ENDS = (0, RAMP_POINTS // 2, RAMP_POINTS - 1)


class Looked(NamedTuple):
    """The command line's answer: points of a stage by scheme, zone and step."""

    points: dict[tuple[str, str, str], list[dict[str, Any]]]

    def final(self, scheme_id: str, zone_id: str) -> list[dict[str, Any]]:
        """The finished zone."""
        keys = [key for key in self.points if key[:2] == (scheme_id, zone_id)]
        return self.points[keys[-1]]


@pytest.fixture(params=[("D65", Finish.MATT), ("A", Finish.SATIN)], ids=["matt", "satin lamp"])
def file(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    """The demo under a light and finish of its own, saved."""
    light, finish = request.param
    project = demo_project()
    viewing = replace(project.viewing, light=light, finish=finish)
    path = tmp_path / "demo.schemeforge"
    save(edits.set_viewing(project, viewing), path)
    return path


@pytest.fixture
def window(qtbot: QtBot, file: Path, tmp_path: Path) -> Iterator[MainWindow]:
    places = Places(data=tmp_path / "home", settings=tmp_path / "home")
    session = Session(demo_project(), places=places, shelf=starter_paints())
    session.open(file)
    bridge = Bridge(session)
    made = MainWindow(bridge)
    qtbot.addWidget(made)
    made.resize(1440, 900)
    made.show()
    qtbot.waitExposed(made)
    yield made
    bridge.close()
    session.close()


@pytest.fixture
def asked(file: Path, capsys: pytest.CaptureFixture[str]) -> Any:
    """Runs ``predict --json`` on the file."""

    def ask(*words: str) -> Looked:
        assert run(["predict", str(file), "--json", *words]) == 0
        tree = json.loads(capsys.readouterr().out)
        return Looked(
            {
                (scheme["id"], zone["id"], stage["step"]["id"]): stage["points"]
                for scheme in tree["schemes"]
                for zone in scheme["zones"]
                for stage in zone["stages"]
            }
        )

    return ask


def assert_reads(strip: ColourStrip, points: list[dict[str, Any]]) -> None:
    """The strip's own reading, and its words with Numbers on, are the command line's."""
    assert len(strip.xyz) == len(points)
    for place in ENDS:
        reading = strip.reading(place / (RAMP_POINTS - 1))
        expected = points[place]
        assert reading.hex_code == expected["srgb"]
        assert reading.lab == pytest.approx(expected["lab"], abs=LAB)
        assert reading.in_gamut == expected["in_gamut"]
        assert expected["srgb"] in reading.text(numbers=True)


def test_coats_and_the_command_line(window: MainWindow, asked: Any) -> None:
    page = window.page(Page.COATS)
    assert isinstance(page, CoatsPage)
    count = ("--points", str(RAMP_POINTS))
    dry, wet = asked(*count), asked(*count, "--wet")
    session = window.bridge.session
    for scheme in session.project.schemes:
        for place, zone in enumerate(session.project.zones):
            session.select(scheme_id=scheme.id, zone_id=zone.id)
            assert_reads(page.seen, dry.final(scheme.id, zone.id))
            chip = page.zones.chips[place]
            assert zone.name in chip.accessibleName()
            stages = window.bridge.colours.zone(
                session.project, scheme, zone, session.project.viewing
            )
            for n, step in enumerate(stages.steps):
                dry_strip, wet_strip = page.after.strips(n)
                assert_reads(dry_strip, dry.points[scheme.id, zone.id, step.id])
                assert_reads(wet_strip, wet.points[scheme.id, zone.id, step.id])
    session.prefer(numbers=True)
    assert page.seen.reading(1.0).hex_code in page.seen_words.text()


def test_schemes_and_the_command_line(window: MainWindow, asked: Any) -> None:
    page = window.page(Page.SCHEMES)
    assert isinstance(page, SchemesPage)
    window.bridge.session.select(page=Page.SCHEMES)
    dry = asked("--points", str(RAMP_POINTS))
    for scheme_id, column in page.board.columns.items():
        for zone_id, cell in column.cells.items():
            assert_reads(cell.strip, dry.final(scheme_id, zone_id))
    assert len(page.board.columns) == 3


def test_the_sheet_and_the_command_line(qtbot: QtBot, window: MainWindow, asked: Any) -> None:
    project = window.bridge.state.project
    scheme = project.scheme(project.chosen_scheme_id)
    root, tip = (asked("--points", "2", "--along", at) for at in ("0", "1"))
    facts = gather(project, scheme.id, SheetOptions())
    swatches = Swatches(facts, tolerances=False)
    printed = [(swatch, "") for swatch in swatches.finished()]
    printed += [
        (swatch, step.step.id)
        for step in facts.steps
        if not step.step.by_name_only
        for swatch in swatches.of_step(step)
    ]
    assert len(printed) > 20
    for swatch, step_id in printed:
        zone_id = swatch.zones[0].id
        for end, looked in ((swatch.dry.root, root), (swatch.dry.tip, tip)):
            points = (
                looked.points[scheme.id, zone_id, step_id]
                if step_id
                else looked.final(scheme.id, zone_id)
            )
            assert [shade.code for shade in end] == [point["srgb"] for point in points]
            for shade, point in zip(end, points, strict=True):
                assert shade.lightness == pytest.approx(point["lab"][0], abs=LAB)
    page = window.page(Page.SHEET)
    assert isinstance(page, SheetPage)
    window.bridge.session.select(page=Page.SHEET, scheme_id=scheme.id)
    qtbot.waitUntil(lambda: page.sheet is not None, timeout=PATIENCE_MS)
    assert page.sheet is not None
    words = " ".join(text.text for side in page.sheet.pages for text in side.texts)
    for swatch in swatches.finished():
        assert swatch.dry.root[0].code in words


def test_the_file_and_the_command_line(file: Path, asked: Any) -> None:
    """Worked out anew from what was saved, at places between those of the ramps too."""
    project = load(file)
    looked = asked("--points", "7", "--along", "0.3")
    for scheme in project.schemes:
        for zone in project.zones:
            points = Points(ramp_tones(zone, 7), np.linspace(0.0, 1.0, 7), 0.3)
            for stage in zone_stages(project, scheme, zone.id, points):
                assert stage.step is not None
                found = looked.points[scheme.id, zone.id, stage.step.id]
                assert colorimetry.hex_codes(stage.xyz) == [point["srgb"] for point in found]
                lab = colorimetry.lab_from_xyz(stage.xyz)
                np.testing.assert_allclose(lab, [point["lab"] for point in found], atol=LAB)
