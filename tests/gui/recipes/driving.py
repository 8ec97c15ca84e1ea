"""Waiting for answers, and what a scheme then shows."""

import numpy as np
from numpy.typing import NDArray
from pytestqt.qtbot import QtBot

from schemeforge import colorimetry
from schemeforge.appearance import Points, final_xyz
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.recipes.asked import ColourWanted, FindRecipe
from schemeforge.gui.recipes.bench import MixingBench
from schemeforge.gui.recipes.finding import Match

NEAR = FindRecipe(wanted=ColourWanted(name="slate", lab=((50.0, -3.0, -8.0),)))
FAR = FindRecipe(wanted=ColourWanted(name="signal green", lab=((87.0, -84.0, 78.0),)))


def answered(qtbot: QtBot, bench: MixingBench) -> None:
    """Wait until what is asked is answered."""

    def done() -> bool:
        return not bench.is_looking and not bench.bridge.jobs.is_any_busy

    qtbot.waitUntil(done, timeout=60_000)


def asked(qtbot: QtBot, bench: MixingBench, what: object = NEAR) -> None:
    """Ask as a page does, and wait for the answers."""
    bench.bridge.asked.emit(what)
    answered(qtbot, bench)


def seen(bridge: Bridge, bench: MixingBench) -> NDArray[np.float64]:
    """CIELAB of the zone in question as the document now has it, at the places matched."""
    question = bench.question
    assert isinstance(question, Match)
    project = bridge.state.project
    places = np.array(question.wanted.places)
    low, high = question.zone.tones
    points = Points(low + (high - low) * places, places, 0.5)
    scheme = project.scheme(question.scheme.id)
    xyz = final_xyz(project, scheme, question.zone.id, points, question.viewing)
    return np.asarray(colorimetry.lab_from_xyz(xyz), dtype=np.float64)
