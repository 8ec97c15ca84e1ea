"""The stand-in on paper: on the sheet's front and on the strip, cut close, true to size."""

import io
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from schemeforge import colorimetry
from schemeforge.export.desk_sheet import sheet_pages
from schemeforge.export.facts import Facts, gather
from schemeforge.export.options import Section, SheetOptions
from schemeforge.export.page import GREY, Page, Picture
from schemeforge.export.portrait import SIZE, framed, portrait, shown_steps
from schemeforge.export.recipe_strip import MOST_DRAWN, strip_of, strip_project
from schemeforge.export.sheet import write_sheet
from schemeforge.export.strip_page import strip_page
from schemeforge.export.typeface import Typeface
from schemeforge.resources import asset
from schemeforge.scheme import Project, project_file
from schemeforge.stand_in import WARDEN, SprayCone, StandIns, Turn, picture_of, worn

FACE = Typeface()
WITHOUT = SheetOptions(include=frozenset(Section) - {Section.PICTURE})


@pytest.fixture(scope="module")
def demo() -> Project:
    return project_file.load(Path(asset("demo", "saltmarsh_wardens.schemeforge")))


@pytest.fixture(scope="module")
def views(tmp_path_factory: pytest.TempPathFactory) -> StandIns:
    return StandIns(tmp_path_factory.mktemp("views"))


@pytest.fixture(scope="module")
def facts(demo: Project, views: StandIns) -> Facts:
    return gather(demo, demo.schemes[0].id, SheetOptions(), views)


def models_on(page: Page) -> list[Picture]:
    return [item for item in page.items if isinstance(item, Picture) and item.role == "model"]


def codes(model: Picture) -> np.ndarray:
    return np.frombuffer(model.pixels, np.uint8).reshape(model.rows, model.columns, 3)


def test_the_front_shows_the_model_and_no_other_side_does(demo: Project, views: StandIns) -> None:
    scheme_id = demo.schemes[0].id
    pages = sheet_pages(demo, scheme_id, SheetOptions(), FACE.measure, views=views)
    assert [len(models_on(page)) for page in pages] == [1] + [0] * (len(pages) - 1)
    (model,) = models_on(pages[0])
    assert model.frame.width / model.frame.height == pytest.approx(model.columns / model.rows)
    for options, where in ((WITHOUT, views), (SheetOptions(), None)):
        bare = sheet_pages(demo, scheme_id, options, FACE.measure, views=where)
        assert not any(models_on(page) for page in bare)
        assert len(bare) == len(pages)


def test_its_colours_are_those_of_the_stand_in(
    demo: Project, views: StandIns, facts: Facts
) -> None:
    made = portrait(facts)
    assert made is not None
    view = views.view(WARDEN, SIZE, Turn(), SprayCone())
    rgba = picture_of(demo, demo.schemes[0], view, worn(demo, WARDEN), demo.viewing).rgba
    rows, columns = np.nonzero(rgba[..., 3])
    part = rgba[rows.min() : rows.max() + 1, columns.min() : columns.max() + 1]
    drawn = np.frombuffer(made.pixels, np.uint8).reshape(made.rows, made.columns, 3)
    whole, bare = part[..., 3] == 255, part[..., 3] == 0
    assert np.array_equal(drawn[whole], part[whole][:, :3])
    assert (drawn[bare] == round(255 * GREY[0])).all()
    # Half covered: half the light of each, not half the code.
    edge = np.argwhere((part[..., 3] > 120) & (part[..., 3] < 135))[0]
    a = part[tuple(edge)][3] / 255.0
    light = colorimetry.decode(part[tuple(edge)][:3] / 255.0) * a
    light += colorimetry.decode(np.array(GREY)) * (1 - a)
    assert drawn[tuple(edge)] == pytest.approx(255 * colorimetry.encode(light), abs=0.6)


def test_it_is_no_larger_than_the_model(facts: Facts) -> None:
    made = portrait(facts)
    assert made is not None
    assert made.width / made.columns == pytest.approx(WARDEN.frame.span / SIZE)
    wide = framed(made, 500.0, 500.0)
    picture = next(item for item in wide.items if isinstance(item, Picture))
    assert (picture.frame.width, picture.frame.height) == (made.width, made.height)
    low = framed(made, 500.0, 20.0)
    assert low.height == pytest.approx(20.0)


def test_a_group_shows_its_own_share(demo: Project, views: StandIns, facts: Facts) -> None:
    short = gather(demo, demo.schemes[0].id, SheetOptions(group_id="captains"), views)
    full, own = portrait(facts), portrait(short)
    assert full is not None
    assert own is not None
    assert full.pixels != own.pixels


def test_stages_run_from_the_undercoat_to_the_last_coat(facts: Facts) -> None:
    steps = shown_steps(facts, 5)
    places = [facts.scheme.steps.index(step) for step in steps]
    assert places == sorted(places)
    assert len(steps) == 5
    assert steps[0].name.startswith("off-white")
    assert not any(step.coat for step in facts.scheme.steps[places[-1] + 1 :])
    assert shown_steps(facts, 0) == ()
    assert len(shown_steps(facts, 100)) <= len(facts.scheme.steps)


def test_the_strip_shows_it_grow_and_still_opens(demo: Project, views: StandIns) -> None:
    scheme_id = demo.schemes[0].id
    page = strip_page(gather(demo, scheme_id, SheetOptions(), views), FACE.measure)
    models = models_on(page)
    assert len({model.pixels for model in models}) == len(models) == 5
    assert "finished" in {text.text for text in page.texts}
    light = [codes(model).astype(int).sum() for model in models]
    assert light[0] == max(light)  # off-white goes darker under glazes
    for dpi in (72, 1200):
        strip = strip_of(demo, scheme_id, SheetOptions(dpi=dpi), views=views)
        assert strip_project(strip.data) == demo
        with Image.open(io.BytesIO(strip.data)) as image:
            assert image.width * image.height <= MOST_DRAWN
            assert image.info["icc_profile"] == colorimetry.srgb_icc_profile()
    assert not models_on(strip_page(gather(demo, scheme_id, WITHOUT, views), FACE.measure))


def test_a_sheet_with_its_picture_is_the_same_every_time(
    demo: Project, views: StandIns, tmp_path: Path
) -> None:
    files = [tmp_path / name for name in ("a.pdf", "b.pdf")]
    for file in files:
        write_sheet(demo, demo.schemes[0].id, file, views=views)
    assert files[0].read_bytes() == files[1].read_bytes()
