"""How the table of readings and the plot of the fit are laid out and painted."""

from collections.abc import Iterator

import numpy as np
import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QAbstractButton, QApplication
from pytestqt.qtbot import QtBot

from schemeforge.desk import Surround
from schemeforge.gui.adding.fit_plot import Curve, FitPlot
from schemeforge.gui.adding.samples import Loaded, Sample
from schemeforge.gui.adding.samples_table import SamplesTable
from schemeforge.gui.theme import apply_theme, theme_of
from schemeforge.measurement import Scale, SpectraFile, Spectrum
from schemeforge.optics import bands

NM = tuple(float(nm) for nm in bands.wavelengths_nm())
NEAR = 12  # of 255: text is smoothed into its ground


def loaded(count: int) -> Loaded:
    """That many samples of one file."""
    spectra = tuple(
        Spectrum(name=f"sample {n}", wavelengths_nm=NM, values=tuple(0.1 for _ in NM))
        for n in range(count)
    )
    file = SpectraFile(spectra=spectra, scale=Scale.FRACTION, is_scale_sure=True)
    samples = tuple(Sample(label=s.name, file=0, spectrum=s) for s in spectra)
    return Loaded(names=("card.csv",), files=(file,), samples=samples)


@pytest.fixture
def light(qapp: QApplication) -> Iterator[None]:
    """The light surround, and afterwards what there was."""
    sheet, palette = qapp.styleSheet(), qapp.palette()
    apply_theme(qapp, Surround.LIGHT)
    yield
    qapp.setStyleSheet(sheet)
    qapp.setPalette(palette)


@pytest.fixture
def table(qtbot: QtBot, light: None) -> SamplesTable:
    del light
    made = SamplesTable()
    qtbot.addWidget(made)
    made.show_samples(loaded(4))
    made.resize(600, made.sizeHint().height())
    made.show()
    qtbot.waitExposed(made)
    return made


def test_the_table_is_as_high_as_its_rows(table: SamplesTable) -> None:
    headings = table.verticalHeader()
    assert headings.length() == headings.viewport().height(), "no stub of a heading below"
    first = headings.viewport().mapToGlobal(headings.rect().topLeft()).y()
    cells = table.viewport().mapToGlobal(table.viewport().rect().topLeft()).y()
    assert first == cells, "headings stand beside their rows"


def test_the_corner_of_the_table_is_of_one_colour(table: SamplesTable) -> None:
    corner = table.findChild(QAbstractButton)
    assert corner is not None
    image = corner.grab().toImage()
    inside = {
        image.pixelColor(x, y).name()
        for x in range(image.width())
        for y in range(image.height() - 2)
    }
    assert inside == {theme_of(Surround.LIGHT).panel}


def curve(name: str, level: float, swing: float) -> Curve:
    """A wave about a level, as read and as fitted."""
    values = level + swing * np.cos(np.linspace(0.0, 2.0 * np.pi, bands.COUNT))
    return Curve(name, values, values, np.zeros(bands.COUNT, dtype=bool))


@pytest.mark.parametrize("surround", [Surround.LIGHT, Surround.DARK])
@pytest.mark.parametrize(("level", "swing"), [(0.45, 0.33), (0.5, -0.45), (0.9, 0.09)])
def test_no_curve_crosses_a_name(
    qtbot: QtBot, surround: Surround, level: float, swing: float
) -> None:
    theme = theme_of(surround)
    plot = FitPlot()
    qtbot.addWidget(plot)
    plot.setStyleSheet(f"background: {theme.panel};")
    plot.resize(330, 150)
    plot.show_curves((curve("over light", level, swing), curve("over dark", 0.1, 0.04)), theme)
    image = plot.grab().toImage()
    for box in plot.name_boxes():
        assert accented(image, box, QColor(theme.accent)) == 0
    area = QRectF(plot.rect())
    assert accented(image, area, QColor(theme.accent)) > 100, "the curves are there"


def accented(image: QImage, box: QRectF, accent: QColor) -> int:
    """How many pixels of the box have the curves' colour."""
    count = 0
    for x in range(int(box.left()) + 1, int(box.right())):
        for y in range(int(box.top()) + 1, int(box.bottom())):
            seen = image.pixelColor(x, y)
            off = (
                seen.red() - accent.red(),
                seen.green() - accent.green(),
                seen.blue() - accent.blue(),
            )
            count += all(abs(channel) <= NEAR for channel in off)
    return count
