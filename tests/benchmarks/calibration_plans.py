"""Which patches are photographed in the calibration table: in a plain order, and as suggested."""

from collections.abc import Callable, Sequence
from functools import partial

import numpy as np

from schemeforge import colorimetry
from schemeforge.calibration import BLACK, WHITE, suggested
from schemeforge.calibration.patches import PHOTO_NOISE
from tests.benchmarks.calibration_truths import Truth, colour, labs

HAND = 0.15
PLAIN = ((BLACK, 1.0), (WHITE, 1.0), (WHITE, 3.0), (BLACK, 3.0), (WHITE, 2.0), (BLACK, 2.0))
Plan = Sequence[tuple[tuple[float, ...], float]]


def as_suggested(truth: Truth, count: int, rng: np.random.Generator) -> Plan:
    """Grounds and coats as `suggested` after a look at one coat over black and over white."""
    pair = np.array([colour(truth, ground) for ground in (BLACK, WHITE)])
    looked = colorimetry.encode(pair) + rng.standard_normal((2, 3)) * PHOTO_NOISE
    dark, light = labs(np.asarray(colorimetry.decode(looked)))
    apart = float(colorimetry.ciede2000(dark, light))
    plan = suggested(count, apart, float(np.clip(looked[1], 0, 1).min()))
    return [(WHITE if s.over_white else BLACK, s.coats) for s in plan]


def photographs(
    rng: np.random.Generator,
) -> list[tuple[str, Callable[[Truth], Plan], float, str]]:
    """Rows of photographs: label, plan of a truth, spread of a coat, target."""
    rows: list[tuple[str, Callable[[Truth], Plan], float, str]] = []
    for count, target in (
        (2, "0.90 / 2.60"),
        (3, "0.60 / 1.70"),
        (4, "0.60 / 1.70"),
        (6, "0.60 / 1.70"),
    ):
        plain: Callable[[Truth], Plan] = partial(lambda n, _: PLAIN[:n], count)
        ways: tuple[tuple[str, Callable[[Truth], Plan]], ...] = (
            ("as suggested", partial(as_suggested, count=count, rng=rng)),
            ("one coat first", plain),
        )
        for how, plan_of in ways:
            for hand in (0.0, HAND):
                vary = ", coats vary 15 %" if hand else ""
                label = f"{count} patches {how}{vary}"
                rows.append((label, plan_of, hand, "" if hand else target))
    return rows
