import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from schemeforge import plan
from schemeforge.errors import InputError
from schemeforge.scheme import Ingredient, Mix
from tests.builders import mix

WASH = mix("wash-pot", brown_wash=3.0, clear_medium=3.0, water=4.0)

parts = st.lists(st.floats(0.01, 100.0), min_size=1, max_size=8)


def mix_of(amounts: list[float]) -> Mix:
    ingredients = tuple(Ingredient(paint_id=f"p{i}", parts=p) for i, p in enumerate(amounts))
    return Mix(id="m", name="m", ingredients=ingredients)


def test_in_a_mix_of_ten_drops_one_drop_of_three_is_a_third_of_the_strength() -> None:
    # The known example: 10 drops with 3 of wash are off by 33 % with one drop (by hand: 1/3).
    share = plan.smallest_drop_share(WASH, 10.0, {"brown-wash"})
    assert share.paint_id == "brown-wash"
    assert share.drops == pytest.approx(3.0)
    assert share.change == pytest.approx(1.0 / 3.0)
    assert plan.smallest_drop_share(WASH, 30.0, {"brown-wash"}).change == pytest.approx(1.0 / 9.0)


def test_the_scarcest_of_all_is_taken_where_none_is_named() -> None:
    tinted = mix("tint", off_white=20.0, red_glaze=1.0, water=0.5)
    assert plan.smallest_drop_share(tinted, 43.0).paint_id == "water"
    assert plan.smallest_drop_share(tinted, 43.0, {"off-white", "red-glaze"}).drops == (
        pytest.approx(2.0)
    )
    assert plan.smallest_drop_share(tinted, 43.0, {"elsewhere"}).paint_id == "water"


@pytest.mark.parametrize("drops", [0.0, -1.0, float("nan"), float("inf")])
def test_no_drops_are_refused_in_a_sentence(drops: float) -> None:
    with pytest.raises(InputError, match=r"[Dd]rops"):
        plan.smallest_drop_share(WASH, drops)


def test_a_vanishing_mix_stays_finite() -> None:
    assert plan.smallest_drop_share(WASH, 1e-300).change == 1e6


def test_whole_drops_keep_the_ratio_where_a_little_more_is_enough() -> None:
    assert plan.whole_drops(WASH, 100.72) == (33, 33, 44)  # 110: the next multiple of 10
    assert plan.whole_drops(WASH, 100.0) == (30, 30, 40)
    assert plan.whole_drops(mix("m", a=1.0, b=1.0 / 3.0), 40.0) == (30, 10)
    assert plan.whole_drops(mix("m", a=30.0, b=30.0, water=40.0), 10.0) == (3, 3, 4)
    assert plan.whole_drops(mix("m", a=30.0, b=30.0, water=40.0), 55.0) == (18, 18, 24)
    assert plan.whole_drops(mix("m", a=2.5, water=5.0), 30.0) == (10, 20)


def test_whole_drops_are_rounded_where_the_ratio_would_take_far_more() -> None:
    assert plan.whole_drops(WASH, 12.0) == (4, 4, 5)
    assert plan.whole_drops(mix("m", a=97.0, b=3.0), 20.0) == (19, 1)
    assert plan.whole_drops(mix("m", a=1000.0, b=1.0), 20.0) == (20, 1)
    assert plan.whole_drops(WASH, 0.0) == (0, 0, 0)


# Awkward decimals whose common denominator runs into thousands of millions.
AWKWARD = [0.01, *(0.01 * (5000 + 1 / d) for d in (20, 19, 17, 13, 11, 9, 7))]


@given(amounts=parts, drops=st.floats(0.1, 1e5))
@example(amounts=AWKWARD, drops=0.5)
@settings(max_examples=400)
def test_whole_drops_leave_nothing_out_and_come_close(amounts: list[float], drops: float) -> None:
    made = mix_of(amounts)
    counted = plan.whole_drops(made, drops)
    assert min(counted) >= 1
    # A tenth more, or one drop of rounding for each ingredient, is the most it may be off.
    assert drops - len(counted) - 1e-6 <= sum(counted)
    assert sum(counted) <= max(1.1 * drops, drops + len(counted)) + 1.0


@given(amounts=st.lists(st.integers(1, 9), min_size=1, max_size=8), runs=st.integers(1, 50))
def test_whole_drops_of_a_multiple_of_the_ratio_are_exact(amounts: list[int], runs: int) -> None:
    made = mix_of([float(part) for part in amounts])
    assert plan.whole_drops(made, float(sum(amounts) * runs)) == tuple(
        part * runs for part in amounts
    )


def test_warning_in_words() -> None:
    warning = plan.DropWarning(pot="C", ingredient="brown wash", total_drops=24.0, change=0.14)
    assert warning.sentence == (
        "Pot C holds about 24 drops: one drop of brown wash changes its strength by 14%; "
        "mix more, measure with a syringe, or weigh it."
    )
    scarce = plan.DropWarning(pot="C", ingredient="red", total_drops=24.0, change=1.5)
    assert "it takes no more than one drop of red;" in scarce.sentence
