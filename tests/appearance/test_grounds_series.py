"""A few points in place of many grounds: exact for what they stand for, and near with few."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schemeforge import colorimetry, optics
from schemeforge.appearance import Points, zone_lattice, zone_stages
from schemeforge.appearance.folding import Film, Fold, film_of, laid_on, lay, strength_of
from schemeforge.appearance.grounds_series import series_of, xyz_over_series
from schemeforge.appearance.look import Look
from schemeforge.appearance.undercoat import Grounds, single
from schemeforge.scheme import Spray
from tests.appearance.projects import random_project

LOOK = Look(optics.UNVARNISHED, "D65", 2, 0.0)
BANDS = optics.bands.COUNT


def some_grounds(seed: int, tones: int = 4) -> Grounds:
    rng = np.random.default_rng(seed)
    R = rng.uniform(0.02, 0.95, (6, tones, BANDS))
    weights = rng.dirichlet(np.ones(6), (tones, BANDS)).transpose(2, 0, 1)
    return Grounds(R, weights, R * weights, 1.0)


def some_fold(seed: int, depth: float) -> Fold:
    rng = np.random.default_rng(seed)
    K, S = rng.uniform(0.001, 0.05, (2, 3, 1, BANDS))
    strength = strength_of(K, S)
    film = film_of(depth * rng.uniform(0.2, 1.0, (3, 2, 1)) * strength.decay, strength)
    return Fold(film.reflects, film.reflects, film.through)


def spot_by_spot(fold: Fold, grounds: Grounds) -> np.ndarray:
    """XYZ ``(3, tones, 3, 2)`` by the surface's own formula, one ground after the other."""
    surface = optics.UNVARNISHED
    over, below, through = (term[np.newaxis] for term in fold)
    seen: Any = 0.0
    upright = (array[:, :, np.newaxis, np.newaxis] for array in grounds[:2])
    for R, weight in zip(*upright, strict=True):
        within = over + through * R / (1 - below * R)
        seen = seen + weight * optics.seen(within, surface)
    return np.moveaxis(seen @ colorimetry.adapted_matrix("D65", 2), -1, 0)


@given(seed=st.integers(0, 10**6), depth=st.floats(0.01, 1000.0))
@settings(max_examples=40, deadline=None)
def test_the_mean_over_grounds_is_that_of_each_ground_by_itself(seed: int, depth: float) -> None:
    grounds, fold = some_grounds(seed), some_fold(seed, depth)
    series = series_of(grounds, LOOK.surface.k2, np.float64)
    assert np.allclose(series.shares.sum(axis=1), 1.0, atol=1e-12)
    found = xyz_over_series(fold, series, LOOK)
    assert found.shape == (3, 4, 3, 2)
    assert np.allclose(found, spot_by_spot(fold, grounds), rtol=1e-9, atol=1e-11)


def test_a_bare_ground_is_itself() -> None:
    R = np.linspace(0.1, 0.9, BANDS)
    series = series_of(single(R), LOOK.surface.k2, np.float64)
    xyz = xyz_over_series(None, series, LOOK)
    seen = optics.seen(R, optics.UNVARNISHED)
    assert np.allclose(xyz[:, 0, 0, 0], seen @ colorimetry.adapted_matrix("D65", 2), rtol=1e-12)


def test_grounds_that_are_all_alike_need_no_range() -> None:
    R = np.full((3, 2, BANDS), 0.4)
    weights = np.full_like(R, 1 / 3)
    series = series_of(Grounds(R, weights, R * weights, 1.0), 0.6, np.float64)
    alone = xyz_over_series(None, series_of(single(R[0, 0]), 0.6, np.float64), LOOK)
    assert np.allclose(xyz_over_series(None, series, LOOK), alone, rtol=1e-9)


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("droplet_um", [3.0, 10.0, 0.3])
def test_pixels_miss_by_less_than_an_eye_or_a_code_can_tell(seed: int, droplet_um: float) -> None:
    project = random_project(seed, Spray(mix_id="white-pot", peak_um=50.0, droplet_um=droplet_um))
    t, r, a = np.linspace(0, 1, 9), np.linspace(0, 1, 5), np.linspace(0, 1, 4)
    points = Points(t[:, None, None], r[:, None], a)
    for zone in project.zones:
        scheme = project.schemes[0]
        quick = zone_lattice(project, scheme, zone.id, (t, r, a), dtype=np.float32)
        exact = zone_stages(project, scheme, zone.id, points)[-1].xyz
        labs = [colorimetry.lab_from_xyz(np.asarray(x, np.float64)) for x in (quick, exact)]
        # A tenth of what pictures as a whole are allowed.
        assert colorimetry.ciede2000(*labs).max() <= 0.05


def test_stacks_on_stacks_are_films_laid_one_by_one() -> None:
    folds = [some_fold(seed, 20.0) for seed in (1, 2, 3)]
    one_by_one = None
    for fold in folds:
        one_by_one = lay(Film(fold.over, fold.through), one_by_one)
    assert one_by_one is not None
    from_above = laid_on(laid_on(folds[2], folds[1]), folds[0])
    from_below = laid_on(folds[2], laid_on(folds[1], folds[0]))
    for a, b, c in zip(one_by_one, from_above, from_below, strict=True):
        assert np.allclose(a, b, rtol=1e-12)
        assert np.allclose(a, c, rtol=1e-12)


def test_wet_sprays_are_milkier_as_they_are() -> None:
    project = random_project(4, Spray(mix_id="white-pot", peak_um=30.0, droplet_um=6.0))
    scheme, tones = project.schemes[0], np.linspace(0, 1, 5)
    points = Points(tones, np.array(0.5), np.array(0.5))
    checked = 0
    for wet in (False, True):
        viewing = replace(project.viewing, wet=wet)
        for zone in project.zones:
            stages = zone_stages(project, scheme, zone.id, points, viewing)
            for n, stage in enumerate(stages[:2]):
                if stage.step is None:
                    continue
                at = (tones, [0.5], [0.5])
                lattice = zone_lattice(project, scheme, zone.id, at, viewing, steps=n + 1)
                assert np.allclose(lattice[:, 0, 0], stage.xyz, atol=2e-6)
                checked += 1
    assert checked >= 8
