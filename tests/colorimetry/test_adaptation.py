"""CAT16 against colour-science and coloraide."""

import numpy as np
import pytest
from coloraide import cat

from schemeforge import colorimetry
from tests.colorimetry.oracles import colour_science, random_lab


def white(light: str) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    return colorimetry.weights(light).white.copy()


@pytest.mark.parametrize("light", colorimetry.light_names())
def test_white_goes_to_white(light: str) -> None:
    matrix = colorimetry.adaptation(white(light), colorimetry.D65_WHITE)
    assert matrix @ white(light) == pytest.approx(colorimetry.D65_WHITE, abs=1e-14)


@pytest.mark.parametrize("light", ["D50", "A", "FL11", "LED-B1"])
def test_colour_science_adapts_alike(light: str) -> None:
    theirs = colour_science().adaptation.matrix_chromatic_adaptation_VonKries(
        white(light), colorimetry.D65_WHITE, transform="CAT16"
    )
    ours = colorimetry.adaptation(white(light), colorimetry.D65_WHITE)
    assert ours == pytest.approx(np.asarray(theirs), abs=1e-12)


@pytest.mark.parametrize("light", ["D50", "A", "FL11", "LED-B1"])
def test_coloraide_adapts_alike(light: str) -> None:
    source = white(light)
    xyz = colorimetry.xyz_from_lab(random_lab(5, 50))
    ours = xyz @ colorimetry.adaptation(source, colorimetry.D65_WHITE).T
    pair = [tuple((w[:2] / w.sum()).tolist()) for w in (source, colorimetry.D65_WHITE)]
    theirs = [cat.CAT16().adapt(pair[0], pair[1], row.tolist()) for row in xyz]
    assert ours == pytest.approx(np.array(theirs), abs=1e-12)


def test_there_and_back_is_the_identity() -> None:
    there = colorimetry.adaptation(white("A"), white("D65"))
    back = colorimetry.adaptation(white("D65"), white("A"))
    assert back @ there == pytest.approx(np.eye(3), abs=1e-14)
