"""Cards photographed: references, light, response, clipped and noisy areas."""

from dataclasses import replace

import numpy as np
import pytest

from schemeforge.calibration import (
    NO_CORRECTION,
    Area,
    Reference,
    correction_of,
    from_photograph,
    sample,
)
from schemeforge.calibration.outcome import Outcome
from schemeforge.calibration.photograph import Ground
from schemeforge.errors import InputError
from schemeforge.paint import Basis
from tests.benchmarks.calibration_card import BARE, GAIN, REFERENCES, SWATCHES, card
from tests.benchmarks.calibration_truths import Truth
from tests.calibration.swatches import FILM_UM, errors, red

TRUTH = Truth(name="red", K=red()[0], S=red()[1], synthetic=True)


def fitted(seed: int = 11, **how: object) -> Outcome:
    rng = np.random.default_rng(seed)
    picture, clipped = card(TRUTH, rng, **how)  # type: ignore[arg-type]
    return from_photograph(
        picture,
        clipped,
        references=REFERENCES,
        grounds=BARE,
        swatches=SWATCHES,
        film_um=FILM_UM,
        hand=0.05,
    )


@pytest.mark.parametrize(
    "fault",
    [{"fall": 0.0}, {"gain": GAIN, "fall": 0.25}, {"gamma": 1.12, "gain": np.full(3, 0.8)}],
    ids=["none", "gain and light", "response"],
)
def test_references_cure_gain_light_and_response(fault: dict[str, object]) -> None:
    cards = [fitted(seed, **fault) for seed in (11, 12, 13)]
    for found in cards:
        assert found.basis is Basis.PHOTOGRAPHED
        assert found.findings == ()
    off = np.array([errors(found, red()) for found in cards])
    assert np.median(off) < 0.8
    assert off.max() < 3.0


def test_without_them_a_gain_of_four_per_cent_stays() -> None:
    rng = np.random.default_rng(11)
    picture, clipped = card(TRUTH, rng, gain=GAIN, fall=0.0)
    got = sample(picture, clipped, SWATCHES[0].area, "swatch")
    right = correction_of(picture, clipped, REFERENCES).corrected(
        np.array(got.linear), SWATCHES[0].area.centre
    )
    raw = NO_CORRECTION.corrected(np.array(got.linear), SWATCHES[0].area.centre)
    assert raw == pytest.approx(got.linear)
    assert (raw / right)[[0, 2]] / (raw / right)[1] == pytest.approx([1.04 / 0.96] * 2, rel=0.02)


def test_one_grey_reference_gives_the_gain() -> None:
    rng = np.random.default_rng(3)
    picture, clipped = card(TRUTH, rng, gain=GAIN, fall=0.0)
    (grey,) = (r for r in REFERENCES if r.name == "grey 0")
    found = correction_of(picture, clipped, [grey])
    assert np.exp(found.log_gain) == pytest.approx(0.95 * GAIN, rel=0.04)


def test_a_robust_mean_does_not_see_dust() -> None:
    picture = np.full((40, 40, 3), 0.2, dtype=np.float32)
    picture[::7, ::5] = 0.9
    got = sample(picture, np.zeros((40, 40), dtype=bool), _whole(), "x")
    assert got.linear == pytest.approx((0.2, 0.2, 0.2))
    assert got.pixels == 1600


def test_clipped_swatches_are_left_out_and_told() -> None:
    rng = np.random.default_rng(11)
    picture, clipped = card(TRUTH, rng)
    field = SWATCHES[0].area
    rows, columns = (
        slice(int(a * n), int(b * n))
        for a, b, n in (
            (field.top, field.bottom, picture.shape[0]),
            (field.left, field.right, picture.shape[1]),
        )
    )
    clipped[rows, columns] = True
    found = _fit(picture, clipped)
    assert len(found.patches) == len(SWATCHES) - 1
    assert found.findings[0].startswith(f'The swatch "{SWATCHES[0].name}" is clipped and left out')
    with pytest.raises(InputError, match="No swatch can be used"):
        from_photograph(
            picture, clipped, references=REFERENCES, grounds=BARE, swatches=SWATCHES[:1]
        )


def test_noisy_swatches_count_less_and_are_told() -> None:
    rng = np.random.default_rng(11)
    picture, clipped = card(TRUTH, rng, noise=0.13)
    found = _fit(picture, np.zeros_like(clipped))
    assert any("is uneven or noisy and counts less" in f for f in found.findings)
    assert max(p.noise for p in found.patches) > 0.03


def test_bad_marks_are_told() -> None:
    rng = np.random.default_rng(11)
    picture, clipped = card(TRUTH, rng)
    with pytest.raises(InputError, match="No reference is marked; mark a white, grey or black"):
        from_photograph(picture, clipped, references=(), grounds=BARE, swatches=SWATCHES)
    with pytest.raises(InputError, match='ground "wood" that is not marked'):
        _fit(picture, clipped, swatches=[replace(SWATCHES[0], ground="wood")])
    white = next(r for r in REFERENCES if r.name == "white 0")
    exchanged = [
        replace(white, reflectance=0.04),
        replace(REFERENCES[0], reflectance=0.88),
    ]
    with pytest.raises(InputError, match="is no lighter in the picture than"):
        _fit(picture, clipped, references=exchanged)
    all_clipped = np.ones_like(clipped)
    with pytest.raises(InputError, match='reference "black 0" is clipped: 100% of it'):
        _fit(picture, all_clipped)
    with pytest.raises(InputError, match=r"has only .* pixels; mark a larger area"):
        sample(picture, clipped, Area(left=0.1, right=0.101, top=0.1, bottom=0.101), "dot")
    with pytest.raises(InputError, match="no width or no height"):
        Area(left=0.2, right=0.2, top=0.1, bottom=0.3)
    with pytest.raises(InputError, match="reflectance is 0, outside"):
        Reference(name="r", area=_whole(), reflectance=0.0)


def test_a_reference_that_does_not_fit_is_told() -> None:
    rng = np.random.default_rng(11)
    picture, clipped = card(TRUTH, rng)
    wrong = [replace(r, reflectance=0.35) if r.name == "grey 0" else r for r in REFERENCES]
    found = _fit(picture, clipped, references=wrong)
    assert any('The reference "grey' in finding for finding in found.findings)


def test_a_ground_that_glares_is_told() -> None:
    rng = np.random.default_rng(11)
    picture, clipped = card(TRUTH, rng)
    picture = np.array(picture)
    # A vivid lamp reflected where the bare ground should be.
    height, width = clipped.shape
    picture[: height // 12, : width // 12] = (1.0, 0.0, 0.0)
    glare = Ground(name="black", area=Area(left=0.0, right=0.07, top=0.0, bottom=0.07))
    found = _fit(picture, clipped, grounds=[glare, *BARE[1:]])
    assert any("No film gives" in finding for finding in found.findings)


def _whole() -> Area:
    return Area(left=0.0, right=1.0, top=0.0, bottom=1.0)


def _fit(picture: object, clipped: object, **other: object) -> Outcome:
    marks = {"references": REFERENCES, "grounds": BARE, "swatches": SWATCHES, **other}
    return from_photograph(picture, clipped, film_um=FILM_UM, **marks)  # type: ignore[arg-type]
