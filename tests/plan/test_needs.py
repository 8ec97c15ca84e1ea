from dataclasses import replace

import pytest

from schemeforge import plan
from schemeforge.paint import Stock
from schemeforge.scheme import Project
from tests.builders import small_project
from tests.plan.batch import scheme_of


def stocked(paint_id: str, stock: Stock) -> Project:
    project = small_project()
    paints = tuple(replace(p, stock=stock) if p.id == paint_id else p for p in project.paints)
    return replace(project, paints=paints)


def need(project: Project, paint_id: str) -> plan.PaintNeed:
    (found,) = (n for n in plan.paint_needs(project, scheme_of(project)) if n.paint_id == paint_id)
    return found


def test_needs_add_up_over_pots_and_leave_water_out() -> None:
    # Medium: 30 % of the wash pot (4.91 ml) and two fifths of the red pot (0.62225 ml), by hand
    # 1.473 + 0.2489 = 1.7219 ml.
    project = small_project()
    needs = plan.paint_needs(project, scheme_of(project))
    assert [n.paint_id for n in needs] == [
        "black-primer",
        "off-white",
        "brown-wash",
        "clear-medium",
        "red-glaze",
    ]
    medium = need(project, "clear-medium")
    assert medium.needed_ml == pytest.approx(1.7219)
    assert (medium.name, medium.pots) == ("clear medium", ("C", "D"))


def test_what_is_needed_is_what_is_in_the_pots() -> None:
    project = small_project()
    filled = plan.pots(project, scheme_of(project))
    water = sum(a.ml for pot in filled for a in pot.amounts if a.paint_id == "water")
    needs = plan.paint_needs(project, scheme_of(project), filled=filled)
    assert sum(n.needed_ml for n in needs) + water == pytest.approx(sum(p.ml for p in filled))
    assert needs == plan.paint_needs(project, scheme_of(project))


def test_enough_is_left() -> None:
    medium = need(stocked("clear-medium", Stock(bottle_ml=20.0, left_ml=1.8)), "clear-medium")
    assert (medium.is_short, medium.short_ml, medium.bottles_to_buy) == (False, 0.0, 0)
    assert (medium.cost_to_buy, medium.cost_used) == (None, None)


def test_short_by_more_than_a_bottle() -> None:
    stock = Stock(bottle_ml=0.5, left_ml=0.2, price=3.0)
    medium = need(stocked("clear-medium", stock), "clear-medium")
    # 1.7219 - 0.2 = 1.5219 ml short: four bottles of 0.5 ml.
    assert medium.is_short is True
    assert medium.short_ml == pytest.approx(1.5219)
    assert (medium.bottles_to_buy, medium.cost_to_buy) == (4, 12.0)
    assert medium.cost_used == pytest.approx(1.7219 / 0.5 * 3.0)


def test_an_unknown_stock_is_said_to_be_unknown() -> None:
    medium = need(stocked("clear-medium", Stock(bottle_ml=20.0, price=4.0)), "clear-medium")
    assert (medium.left_ml, medium.is_short, medium.short_ml) == (None, None, None)
    assert (medium.bottles_to_buy, medium.cost_to_buy) == (None, None)
    assert medium.cost_used == pytest.approx(1.7219 / 20.0 * 4.0)


def test_an_exact_bottle_is_not_rounded_up_to_two() -> None:
    needed = need(small_project(), "clear-medium").needed_ml
    stock = Stock(bottle_ml=needed * (1.0 - 1e-13), left_ml=0.0)
    assert need(stocked("clear-medium", stock), "clear-medium").bottles_to_buy == 1
