"""The general wash mix, 30 wash : 30 medium : 40 water, worked through by hand.

The mix is common practice, no source. Film, colour and millilitres are worked here from the
published formulas in forms that the package does not use, and held against the package.
"""

import math
from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from schemeforge import colorimetry, optics, plan
from schemeforge.optics import bands
from schemeforge.scheme import Group, Project, Scheme, Technique, Zone
from tests.builders import brown_wash, clear_medium, coat_step, mix, small_project
from tests.colorimetry.oracles import NM, light_table, observer_table

FILM_UM = 140.0
MODELS = 36
ZONE_CM2 = 6.0
GROUND = 0.80

WASH = mix("wash-pot", brown_wash=30.0, clear_medium=30.0, water=40.0)


def batch() -> Project:
    """Thirty-six models of one zone of 6 cm2 that gets the wash, one flooded pass."""
    project = small_project()
    step = coat_step("wash", "wash-pot", "cloak", technique=Technique.WASH, wet_um=FILM_UM)
    return replace(
        project,
        zones=(Zone(id="cloak", name="cloak", area_cm2=ZONE_CM2),),
        groups=(Group(id="all", name="all", count=MODELS),),
        schemes=(Scheme(id="first", name="first", mixes=(WASH,), steps=(step,)),),
    )


def wash_absorption(nm: NDArray[np.float64]) -> NDArray[np.float64]:
    """The test wash's K per um of neat wet paint at any wavelength: what ``brown_wash`` samples."""
    return 0.002 + 0.03 * np.exp(-0.5 * ((nm - 400.0) / 110.0) ** 2)


def test_film() -> None:
    # 140 um wet leave 0.3 x 140 = 42 um of neat wash, 42 um of neat medium, and of the 56 um of
    # water nothing. With a tenth of solids in the wash and three tenths in the medium that dries
    # to 4.2 + 12.6 = 16.8 um.
    left = optics.deposits([i.parts for i in WASH.ingredients], FILM_UM)
    assert left[:2] == pytest.approx([42.0, 42.0])
    wash, medium = brown_wash(), clear_medium()
    dry = left[0] * wash.volume_solids + left[1] * medium.volume_solids
    assert dry == pytest.approx(16.8)


def test_two_half_passes_leave_what_one_pass_leaves() -> None:
    half = optics.deposits([i.parts for i in WASH.ingredients], FILM_UM / 2)
    assert 2 * half == pytest.approx(optics.deposits([30.0, 30.0, 40.0], FILM_UM))


def internal_by_hand(nm: NDArray[np.float64]) -> NDArray[np.float64]:
    """Reflectance inside the film over the ground, in the hyperbolic form [Kubelka1948].

    R = (1 - Rg (a - b coth bSX)) / (a - Rg + b coth bSX) with a = 1 + K/S, b = sqrt(a2 - 1).
    At 550 nm: K = 0.002 + 0.03 exp(-0.5 (150/110)2) = 0.0138395, KX = 42 K = 0.581260,
    SX = 42 (0.002 + 0.0003) = 0.0966, a = 7.017184, b = 6.945565, b SX = 0.670942,
    b coth bSX = 6.945565 x 1.707653 = 11.860618; over 0.80
    R = (1 - 0.8 (7.017184 - 11.860618)) / (7.017184 - 0.8 + 11.860618) = 4.874747 / 18.077802
    = 0.269654.
    """
    KX = 42.0 * wash_absorption(nm)
    SX = 42.0 * (0.002 + 0.0003)
    a = 1.0 + KX / SX
    b = np.sqrt(a * a - 1.0)
    bc = b / np.tanh(b * SX)
    hand: NDArray[np.float64] = (1.0 - GROUND * (a - bc)) / (a - GROUND + bc)
    return hand


def matt_by_hand(internal: NDArray[np.float64]) -> NDArray[np.float64]:
    """As seen through a matt surface, k1 = 0.04 and k2 = 0.60 [Saunderson1942].

    At 550 nm: 0.04 + 0.384 x 0.269654 / (1 - 0.6 x 0.269654) = 0.163534.
    """
    return 0.04 + 0.96 * 0.40 * internal / (1.0 - 0.60 * internal)


def predicted() -> NDArray[np.float64]:
    """The package's reflectance of the wash over the ground, matt."""
    paints = (brown_wash(), clear_medium())
    water = (0.0,) * bands.COUNT
    K = np.array([*(paint.absorption for paint in paints), water])
    S = np.array([*(paint.scattering for paint in paints), water])
    KX, SX = optics.mix([30.0, 30.0, 40.0], FILM_UM, K, S)
    return optics.seen(optics.reflectance_over(GROUND, KX, SX), optics.MATT)


def test_reflectance() -> None:
    nm = bands.wavelengths_nm()
    at_550 = int((550 - bands.FIRST_NM) / bands.STEP_NM)
    assert float(wash_absorption(nm)[at_550]) == pytest.approx(0.0138395, abs=5e-8)
    assert float(predicted()[at_550]) == pytest.approx(0.163534, abs=5e-7)
    assert predicted() == pytest.approx(matt_by_hand(internal_by_hand(nm)), rel=1e-12)


def test_colour() -> None:
    # Integrated at 1 nm over 360 to 830 with CIE tables, to CIELAB with the sums' own white
    # [CIE15]; the wash is smooth, so 36 bands must agree to the 0.02 that the project promises
    # under daylight for such spectra.
    seen = matt_by_hand(internal_by_hand(NM))
    weighted = light_table("D65")[:, None] * observer_table(2)
    ratios = (seen @ weighted) / weighted.sum(axis=0)
    assert ratios.min() > (6 / 29) ** 3  # the cube-root branch is enough
    fx, fy, fz = (math.cbrt(float(ratio)) for ratio in ratios)
    by_hand = (116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz))
    assert math.dist(by_hand, colorimetry.lab(predicted())) < 0.02
    # A brown: redder and much yellower than grey, far darker than the ground (L* 91.7 internal).
    assert 40.0 < by_hand[0] < 60.0
    assert by_hand[1] > 5.0
    assert by_hand[2] > 15.0


def test_millilitres_grams_and_drops() -> None:
    # 36 x 6 cm2 x 140 um / 10 000 = 3.024 ml on the models; x 1.5 waste + 0.5 ml in the pot
    # = 5.036 ml. Of that 30 % = 1.5108 ml each of wash and medium, 40 % = 2.0144 ml water;
    # at 1.1 g/ml 1.66188 g each, water 2.0144 g; at 0.05 ml a drop 30.216, 30.216, 40.288 drops.
    project = batch()
    (pot,) = plan.pots(project, project.schemes[0])
    assert pot.on_models_ml == pytest.approx(3.024)
    assert pot.ml == pytest.approx(5.036)
    assert [a.ml for a in pot.amounts] == pytest.approx([1.5108, 1.5108, 2.0144])
    assert [a.grams for a in pot.amounts] == pytest.approx([1.66188, 1.66188, 2.0144])
    assert [a.drops for a in pot.amounts] == pytest.approx([30.216, 30.216, 40.288])
    # 100.72 drops: the next whole multiple of 3:3:4 is 33:33:44, 9 % more and the ratio exact.
    assert [a.whole_drops for a in pot.amounts] == [33, 33, 44]
    assert pot.warning is None
