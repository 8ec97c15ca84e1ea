"""A light of the painter's own, from a file of wavelengths and powers."""

from pathlib import Path

import numpy as np
import pytest
from PySide6.QtWidgets import QFileDialog

from schemeforge.appearance import look_of
from schemeforge.gui.main_window import MainWindow

EQUAL = "nm;power\n" + "".join(f"{nm};1,5\n" for nm in range(380, 735, 5))


def test_a_light_from_a_file_is_seen_under_at_once(
    window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "desk <b>lamp</b>".replace("/", "-")
    path.write_text(EQUAL, "utf-8")
    before = window.bridge.state.project
    bar = window.view_bar
    last = bar.light.count() - 1
    assert bar.light.itemText(last) == "A light of your own…"
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(path), ""))
    bar.light.setCurrentIndex(last)
    bar.light.activated.emit(last)
    project = window.bridge.state.project
    (light,) = project.lights
    assert light.name == "desk <b>lamp<-b>"
    assert (light.wavelengths_nm[0], light.wavelengths_nm[-1]) == (380.0, 730.0)
    assert set(light.power) == {1.5}
    assert project.viewing.light == light.name == bar.light.currentText()
    assert np.isfinite(look_of(project, project.viewing).matrix()).all()
    window.bridge.session.undo()
    assert window.bridge.state.project == before
    assert bar.light.currentData() == before.viewing.light


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "empty"),
        ("a lamp, very nice\n", "No table of spectra"),
        ("".join(f"{nm},1\n" for nm in range(450, 655, 5)), "reaches only from 450 to 650 nm"),
        ("".join(f"{nm},-1\n" for nm in range(380, 735, 5)), "negative"),
        ("".join(f"{nm},0\n" for nm in range(380, 735, 5)), "zero everywhere"),
        ("".join(f"{nm},1,2\n" for nm in range(380, 735, 5)), "2 spectra"),
        ("".join(f"{nm},x\n" for nm in range(380, 735, 5)), "is no number"),
    ],
)
def test_a_file_without_a_light_is_refused_in_a_sentence(
    window: MainWindow, tmp_path: Path, text: str, said: str
) -> None:
    path = tmp_path / "lamp.csv"
    path.write_text(text, "utf-8")
    before = window.bridge.state.project
    assert not window.view_bar.take_light(path)
    assert window.bridge.state.project is before
    assert said in window.notice.text
    assert "lamp.csv" in window.notice.text
    window.notice.dismiss()


def test_thinking_better_of_it_changes_nothing(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = window.bridge.state.project
    bar = window.view_bar
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: ("", ""))
    last = bar.light.count() - 1
    bar.light.setCurrentIndex(last)
    bar.light.activated.emit(last)
    assert window.bridge.state.project is before
    assert bar.light.currentData() == before.viewing.light
