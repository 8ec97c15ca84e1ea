"""Lattices, spaces, metric and kernel, each against plain arithmetic."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from schemeforge import colorimetry
from schemeforge.errors import InputError
from schemeforge.optics import bands
from schemeforge.paint import WATER
from schemeforge.recipe import Laying, plain_bed
from schemeforge.recipe.bed import Bed
from schemeforge.recipe.kernel import Kernel
from schemeforge.recipe.laying import THINNED, lattice, possible
from schemeforge.recipe.metric import Gap, ramp_difference
from schemeforge.recipe.request import spectra
from schemeforge.recipe.sieve import Sieve, features, solved, spread_out
from schemeforge.recipe.space import builds, combinations, space_of
from schemeforge.scheme import Technique
from schemeforge.scheme.techniques import TECHNIQUES
from tests.recipe.shelves import LOOK, SMALL, depths, medium, mixes, ramp_bed, seen_lab, shelf

FREE = Laying(thinned=(0.0, 1.0))


def test_the_whole_lattice_of_three_paints_is_there_once() -> None:
    """942 recipes with coats are 896 films: 46 leave the same as another in fewer coats."""
    every = set(mixes(FREE, 3))
    assert len(every) == 942
    lat = lattice(FREE, 3)
    assert len(lat) == 942 - 46
    films = {tuple(np.round(row, 9)) for row in lat.deposit}
    assert films == {
        tuple(round(p / (sum(parts) + thin) * coats * film, 9) for p in parts)
        for parts, thin, coats, film in every
    }


@given(
    st.sampled_from(list(Technique)),
    st.integers(1, 3),
    st.integers(3, 7),
    st.booleans(),
)
@settings(max_examples=40, deadline=None)
def test_lattices_hold_to_parts_films_and_thinner(
    technique: Technique, paints: int, most: int, hazy: bool
) -> None:
    trade = TECHNIQUES[technique]
    laying = Laying(
        technique=technique,
        films_um=(trade.light_um, trade.heavy_um),
        coats=(1, 3),
        most_parts=most,
        thinned=None if technique is not Technique.FILTER else (0.0, 0.95),
    )
    lat = lattice(laying, paints, hazy=hazy)
    total = lat.parts.sum(axis=1) + lat.thinner
    assert total.max() <= most
    assert lat.parts.min() >= 1
    assert (np.gcd(np.gcd.reduce(lat.parts, axis=1), lat.thinner) == 1).all()
    low, high = laying.thinner_shares
    share = lat.thinner / total
    assert (share >= low - 1e-9).all()
    assert (share <= high + 1e-9).all()
    assert np.allclose(lat.deposit.sum(axis=1) + lat.carrier, lat.film_um * lat.coats)
    assert np.allclose(lat.share.sum(axis=1) + share, 1.0)
    key = np.round(np.column_stack([lat.deposit, lat.carrier]) if hazy else lat.deposit, 9)
    assert len(np.unique(key, axis=0)) == len(lat)


def test_of_equal_films_the_one_with_fewest_coats_stays() -> None:
    lat = lattice(Laying(coats=(1, 2), most_parts=4, thinned=(0.0, 1.0)), 1)
    whole = np.flatnonzero(np.isclose(lat.deposit[:, 0], TECHNIQUES[Technique.GLAZE].normal_um))
    # Neat in one coat leaves what 1:1 in two coats does.
    assert lat.coats[whole].tolist() == [1]
    assert lat.thinner[whole].tolist() == [0]


def test_layings_refuse_what_cannot_be_laid() -> None:
    with pytest.raises(InputError, match="cannot be laid in one coat; give 15 to 40 um"):
        Laying(technique=Technique.GLAZE, films_um=(90.0,))
    assert Laying(films_um=(90.0,), any_film=True).films == (90.0,)
    assert Laying().films == (25.0,)
    for bad in (
        {"coats": ()},
        {"coats": (0,)},
        {"most_paints": 4},
        {"most_parts": 0},
        {"thinned": (0.6, 0.4)},
        {"films_um": (0.0,), "any_film": True},
    ):
        with pytest.raises(InputError):
            Laying(**bad)
    assert possible(Laying(most_parts=2)) == (1, 2)
    assert possible(Laying(technique=Technique.FILTER, most_parts=4)) == (1, 2)
    with pytest.raises(InputError, match="Nothing can be mixed in 1 parts with 30 to 95 %"):
        possible(Laying(technique=Technique.FILTER, most_parts=1))
    assert set(THINNED) == set(Technique)


@given(st.integers(0, 7), st.integers(1, 3))
@settings(max_examples=24, deadline=None)
def test_combinations_are_all_there_in_order(count: int, of: int) -> None:
    paints = np.arange(10, 10 + count, dtype=np.int16)
    made = [tuple(map(int, column)) for column in combinations(paints, of).T]
    assert made == list(itertools.combinations(paints.tolist(), of))


def test_spaces_hold_every_build_and_what_must_be_used() -> None:
    assert builds([FREE]) == [(1,), (2,), (3,)]
    assert builds([FREE, FREE]) == [(1, 1), (1, 2), (2, 1)]
    for bad, must in (([], 0), ([FREE] * 3, 0), ([FREE], 4)):
        with pytest.raises(InputError):
            builds(bad, must)
    paints = np.arange(6, dtype=np.int16)
    space = space_of((3,), [FREE], [paints], must=(2, 4))
    assert space.sets.shape[1] == 4
    assert all({2, 4} <= set(column) for column in space.sets.T.tolist())
    assert space.size == 4 * 896
    layered = space_of((1, 2), [SMALL, SMALL], [paints, paints])
    assert layered.slots == (0, 1, 1)
    assert layered.sets.shape == (3, 6 * 15)
    assert len(layered.deposits) == len(layered.lattices[0]) * len(layered.lattices[1])
    row = 17
    first, second = layered.rows[:, row]
    assert layered.deposits[row, 0] == layered.lattices[0].deposit[first, 0]
    assert (layered.deposits[row, 1:] == layered.lattices[1].deposit[second]).all()
    twice = space_of((1, 1), [SMALL, SMALL], [paints, paints])
    assert twice.sets.shape[1] == 30
    assert (twice.sets[0] != twice.sets[1]).all()


LAB = st.tuples(st.floats(5, 95), st.floats(-60, 60), st.floats(-60, 60))


@given(LAB, LAB)
@settings(max_examples=200, deadline=None)
def test_three_numbers_make_up_ciede2000_however_far(
    one: tuple[float, float, float], other: tuple[float, float, float]
) -> None:
    """Exactly, but for hues just opposite, between which CIEDE2000 itself jumps."""
    turn = math.atan2(one[2], one[1]) - math.atan2(other[2], other[1])
    assume(abs(math.remainder(turn, 2 * math.pi)) < 3.0)
    assume(math.hypot(one[1], one[2]) > 0.01)
    gap = Gap(np.array([[one]]), np.array([other]))
    exact = float(colorimetry.ciede2000(one, other))
    assert float(np.sqrt((gap.value**2).sum())) == pytest.approx(exact, abs=1e-6)


@given(LAB, st.tuples(st.floats(-8, 8), st.floats(-8, 8), st.floats(-8, 8)))
@settings(max_examples=100, deadline=None)
def test_slopes_say_where_to_go(
    target: tuple[float, float, float], off: tuple[float, float, float]
) -> None:
    """A tenth of the way that they point brings the colour nearer, by about a tenth."""
    lab = np.array(target) + np.array(off)
    assume(math.hypot(target[1], target[2]) > 15 and np.linalg.norm(off) > 1)
    assume(not 240 < math.degrees(math.atan2(target[2], target[1])) % 360 < 310)
    gap = Gap(lab[np.newaxis, np.newaxis], np.array([target]))
    slopes = np.stack([gap.change(e * np.ones((1, 1, 3)))[0, :, 0] for e in np.eye(3)], axis=1)
    way = -np.linalg.solve(slopes, gap.value[0, :, 0])
    before = float(colorimetry.ciede2000(lab, target))
    after = float(colorimetry.ciede2000(lab + 0.1 * way, target))
    assert after == pytest.approx(0.9 * before, rel=0.02)


def test_the_difference_of_a_ramp_is_the_root_mean_square() -> None:
    rng = np.random.default_rng(3)
    lab = rng.uniform(20, 60, (2, 4, 5, 3))
    target = rng.uniform(20, 60, (4, 3))
    each = colorimetry.ciede2000(lab, target[:, np.newaxis])
    assert np.allclose(ramp_difference(lab, target), np.sqrt((each**2).mean(axis=1)))
    one = ramp_difference(lab[:, :1], target[:1])
    assert np.allclose(one, each[:, 0])


BEDS = {
    "plain": plain_bed(0.35),
    "ramp": ramp_bed(),
    "spread": ramp_bed(spread_n=1.8),
}


@pytest.mark.parametrize("name", BEDS)
@pytest.mark.parametrize("layers", [(0,), (0, 0, 0), (0, 1), (0, 1, 1)])
def test_the_kernel_is_films_one_on_another(name: str, layers: tuple[int, ...]) -> None:
    bed = BEDS[name]
    paints = shelf(4, 6)
    K, S = spectra(paints)
    haze = medium()
    thin = np.array([[haze.absorption, haze.scattering]] * (layers[-1] + 1))
    rng = np.random.default_rng(9)
    sets = np.stack([rng.permutation(6)[: len(layers)] for _ in range(4)], axis=1).astype(np.int16)
    films = rng.uniform(1.0, 30.0, (5, len(layers), 4))
    carrier = rng.uniform(0.0, 20.0, (5, layers[-1] + 1, 4))
    kernel = Kernel(K, S, thin, bed, LOOK, layers)
    lab = colorimetry.lab_from_xyz(kernel.xyz(sets, films, carrier))
    single = Kernel(K, S, thin, bed, LOOK, layers, dtype=np.float32)
    near = colorimetry.lab_from_xyz(single.xyz(sets, films, carrier))
    assert near.dtype == np.float32
    assert colorimetry.ciede2000(near, lab).max() < 0.01
    for point, column in itertools.product(range(5), range(4)):
        stack = []
        for layer in range(layers[-1] + 1):
            slots = [n for n, own in enumerate(layers) if own == layer]
            KX = sum(films[point, n, column] * K[sets[n, column]] for n in slots)
            SX = sum(films[point, n, column] * S[sets[n, column]] for n in slots)
            extra = carrier[point, layer, column]
            stack.append((KX + extra * thin[layer, 0], SX + extra * thin[layer, 1]))
        wanted = seen_lab(stack, bed, LOOK)
        assert np.abs(lab[point, :, column] - wanted).max() < 1e-8


def test_thinner_counts_only_where_it_is_handed_in() -> None:
    paints = shelf(4, 2)
    K, S = spectra(paints)
    haze = medium()
    thin = np.array([[haze.absorption, haze.scattering]])
    kernel = Kernel(K, S, thin, plain_bed(0.1), LOOK, (0,))
    clear = Kernel(K, S, np.zeros_like(thin), plain_bed(0.1), LOOK, (0,))
    sets, film = np.zeros((1, 1), np.int16), np.full((1, 1, 1), 5.0)
    carrier = np.full((1, 1, 1), 30.0)
    assert np.array_equal(kernel.xyz(sets, film), clear.xyz(sets, film, carrier))
    assert (kernel.xyz(sets, film, carrier) > kernel.xyz(sets, film)).all()


def test_a_mix_is_what_optics_mixes() -> None:
    paints = list(shelf(2, 2))
    KX, SX = depths(paints, WATER, (2, 1), 3, 30.0)
    K, S = spectra(tuple(paints))
    assert np.allclose(KX, 10.0 * K[0] + 5.0 * K[1])
    assert np.allclose(SX, 10.0 * S[0] + 5.0 * S[1])


@given(st.integers(1, 3), st.integers(0, 1000))
@settings(max_examples=40, deadline=None)
def test_tiny_systems_are_solved(size: int, seed: int) -> None:
    rng = np.random.default_rng(seed)
    A = rng.normal(size=(7, size, size))
    H = A @ np.swapaxes(A, 1, 2) + 0.1 * np.eye(size)
    g = rng.normal(size=(7, size))
    wanted = np.linalg.solve(H, g[..., np.newaxis])[..., 0]
    found = solved(np.moveaxis(H, 0, -1), g.T)
    assert np.allclose(found.T, wanted, rtol=1e-7, atol=1e-9)


def sieve_of(bed: Bed, counts: tuple[int, ...] = (3,)) -> tuple[Sieve, np.ndarray]:
    paints = shelf(8, 6)
    K, S = spectra(paints)
    layers = [FREE] * len(counts)
    usable = [np.arange(6, dtype=np.int16)] * len(counts)
    space = space_of(counts, layers, usable)
    thin = np.zeros((len(counts), 2, bands.COUNT))
    kernel = Kernel(K, S, thin, bed, LOOK, space.slots)
    target = np.linspace((30.0, 10.0, 5.0), (60.0, 20.0, 25.0), bed.tones)
    return Sieve(kernel, target, space), space.sets


@pytest.mark.parametrize("name", ["plain", "ramp"])
def test_models_foretell_the_colours_nearby(name: str) -> None:
    """The form follows the cost as exactly computed where it was made, and to first order by."""
    sieve, sets = sieve_of(BEDS[name])
    logs = np.log(np.full((3, sets.shape[1]), 6.0))
    model = sieve.model(sets, logs)
    table = features(np.log([[6.0, 6.0, 6.0], [6.2, 5.9, 6.1]]))
    said = model.coefficients() @ table
    assert np.allclose(said[:, 0], model.cost, rtol=1e-6, atol=1e-6)
    near = sieve.model(sets, np.log([[6.2], [5.9], [6.1]]) * np.ones(sets.shape[1]))
    assert np.abs(np.sqrt(np.abs(said[:, 1])) - np.sqrt(near.cost)).max() < 0.15


@pytest.mark.parametrize("counts", [(3,), (1, 2)])
def test_settling_comes_as_low_as_the_best_of_the_whole_lattice(counts: tuple[int, ...]) -> None:
    """From one of its two starts, in most sets, and never higher than where it started."""
    sieve, sets = sieve_of(BEDS["plain"], counts)
    cost, best = sieve.start(sets)
    assert cost.shape == best.shape == (2, sets.shape[1])
    places = sieve.starts.reshape(-1, 3)
    lowest = np.full(sets.shape[1], np.inf)
    for row in best:
        starts = places[row].T
        after = sieve.settle(sets, starts, 8)
        assert (after.cost <= sieve.model(sets, starts).cost + 1e-9).all()
        assert np.exp(after.at).max() <= 75.0 + 1e-6
        lowest = np.minimum(lowest, after.cost)
    logs = sieve.features[1:4].T[::7]
    of_points = [sieve.model(sets, np.tile(row[:, np.newaxis], sets.shape[1])).cost for row in logs]
    lattice_best = np.min(of_points, axis=0)
    assert np.mean(np.sqrt(lowest) <= np.sqrt(lattice_best) + 0.1) > 0.75


def test_starting_points_lie_apart() -> None:
    points = np.random.default_rng(1).normal(size=(50, 2))
    chosen = spread_out(points, 6)
    assert len(set(chosen.tolist())) == 6
    assert spread_out(points[:3], 6).tolist() != []
    assert len(spread_out(points[:3], 6)) == 3
