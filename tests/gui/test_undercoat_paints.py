"""Which paints the window offers for priming and for light from above."""

from dataclasses import replace

import pytest

from schemeforge.desk import Page
from schemeforge.errors import InputError
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.coats.page import CoatsPage
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.starting import starting_project
from schemeforge.gui.undercoat_paints import lightness, likely_primer, likely_white
from schemeforge.paint import Paint, PaintKind
from schemeforge.scheme import Spray, edits
from schemeforge.shelf import starter_paints
from tests.builders import synthetic_paint

SHELF = {paint.id: paint for paint in starter_paints()}


def named(*ids: str) -> tuple[Paint, ...]:
    return tuple(SHELF[paint_id] for paint_id in ids)


def chosen(*paints: Paint) -> str:
    white = likely_white(paints)
    assert white is not None
    return white.id


def test_off_white_goes_before_a_purer_white_in_either_order() -> None:
    assert chosen(*named("chalk-white", "off-white")) == "off-white"
    assert chosen(*named("off-white", "chalk-white")) == "off-white"
    assert lightness(SHELF["off-white"]) < lightness(SHELF["chalk-white"])


def test_a_warm_white_is_known_by_its_colour_under_any_name() -> None:
    other = replace(SHELF["off-white"], id="sail", name="sailcloth")
    assert chosen(SHELF["chalk-white"], other) == "sail"


@pytest.mark.parametrize("name", ["Off-White", "off white, fine", "my OFFWHITE"])
def test_the_name_counts_before_the_colour(name: str) -> None:
    called = replace(SHELF["bone-white"], id="called", name=name)
    assert chosen(SHELF["chalk-white"], SHELF["off-white"], called) == "off-white"
    sail = replace(SHELF["off-white"], id="sail", name="sailcloth")
    assert chosen(SHELF["chalk-white"], sail, called) == "called"


def test_a_dark_paint_of_that_name_is_not_taken() -> None:
    wrong = replace(SHELF["soot-black"], id="wrong", name="off-white")
    assert chosen(wrong, SHELF["chalk-white"]) == "chalk-white"


def test_a_cold_white_is_no_off_white() -> None:
    # Absorbs a little more and more towards red: as pale as an off-white, but bluish.
    K = tuple(0.0001 + 0.0009 * n / 35 for n in range(36))
    cold = synthetic_paint(
        "frost", PaintKind.OPAQUE, absorption=K, scattering=(0.2,) * 36, volume_solids=0.4
    )
    assert lightness(cold) == pytest.approx(94.0, abs=3.0)
    assert chosen(cold, SHELF["chalk-white"]) == "chalk-white"


def test_without_an_off_white_the_lightest_is_sprayed() -> None:
    assert chosen(*named("bone-white", "chalk-white", "soot-black")) == "chalk-white"


def test_where_nothing_opaque_is_pale_nothing_is_offered() -> None:
    assert likely_white(named("soot-black", "glaze-medium", "kingcup-yellow")) is None
    assert likely_primer(named("soot-black", "off-white")) is None


def test_the_darkest_primer_is_taken() -> None:
    pale = replace(SHELF["off-white"], id="pale", name="pale primer", kind=PaintKind.PRIMER)
    found = likely_primer((pale, SHELF["black-primer"]))
    assert found is not None
    assert found.id == "black-primer"


def test_a_new_project_sprays_off_white_on_black() -> None:
    project = starting_project(starter_paints())
    assert [paint.id for paint in project.paints] == ["black-primer", "off-white"]


def test_a_new_project_makes_do_with_what_is_opaque() -> None:
    project = starting_project(named("poppy-red", "soot-black"))
    assert [paint.id for paint in project.paints] == ["soot-black", "poppy-red"]
    with pytest.raises(InputError, match="no opaque paint"):
        starting_project(named("glaze-medium"))


def test_the_spray_added_on_the_coats_page_is_off_white(window: MainWindow, bridge: Bridge) -> None:
    bridge.session.select(page=Page.COATS, zone_id="hide")
    page = window.page(Page.COATS)
    assert isinstance(page, CoatsPage)
    scheme_id = bridge.state.selection.scheme_id
    assert bridge.edit("without spray", lambda p: edits.remove_step(p, scheme_id, "light"))
    page.actions_row.new_spray()
    step, scheme = bridge.state.step, bridge.state.scheme
    assert step is not None
    assert scheme is not None
    assert isinstance(step.layer, Spray)
    # Cleaning comes before the primer in this scheme, and the spray right after it.
    assert [s.id for s in scheme.steps][:3] == ["clean", "prime", step.id]
    assert [i.paint_id for i in scheme.mix(step.layer.mix_id).ingredients] == ["off-white", "water"]
