"""Focal point, legibility, agreement with a target, and which scheme to take."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schemeforge import colorimetry
from schemeforge.comparison import (
    Agreement,
    Comparison,
    Handed,
    Met,
    ReadPair,
    Severity,
    TargetColour,
    TargetPalette,
    Thresholds,
    agreement,
    compare,
    palette_of,
    palette_of_picture,
    taking,
)
from schemeforge.comparison.rules_eye import focus, legibility
from schemeforge.comparison.rules_target import agreement as target_rule
from schemeforge.errors import InputError
from schemeforge.scheme import AreaBasis, edits
from tests.builders import small_project
from tests.comparison.by_hand import candidates, case, measured, only, zone

GOOD, WATCH, POOR = Severity.GOOD, Severity.WATCH, Severity.POOR
Lab = tuple[float, float, float]


def test_contrast_is_the_mean_distance_to_the_rest_by_area() -> None:
    measures = measured(
        zone("hide", lightness=30.0, chroma=0.0, area=6.0),
        zone("cloak", lightness=40.0, chroma=0.0, area=3.0),
        zone("base", lightness=80.0, chroma=0.0, area=1.0),
    )
    to_hide, to_cloak = (
        float(colorimetry.ciede2000((80.0, 0.0, 0.0), (L, 0.0, 0.0))) for L in (30.0, 40.0)
    )
    assert measures.contrast("base") == pytest.approx((6 * to_hide + 3 * to_cloak) / 9)
    assert measured(zone("hide")).contrast("hide") == 0.0


def test_a_small_zone_that_stands_out_is_a_focal_point() -> None:
    measures = measured(
        zone("hide", lightness=35.0, chroma=5.0, area=12.0),
        zone("cloak", lightness=40.0, chroma=5.0, area=7.0),
        zone("base", lightness=85.0, chroma=40.0, area=1.0),
    )
    found = only(list(focus(case(measures))), "focus")
    assert (found.severity, found.zone_ids) == (GOOD, ("base",))
    assert found.sentence.startswith("The eye goes to base: dE ")
    assert found.sentence.endswith("Put the finest work there.")
    numbers = dict(found.numbers)
    mean = sum(
        measures.area_share(z.zone_id) * measures.contrast(z.zone_id) for z in measures.zones
    )
    assert numbers["ratio"] == pytest.approx(measures.contrast("base") / mean)
    strict = case(measures, thresholds=Thresholds(stands_out=99.0))
    assert only(list(focus(strict)), "focus").severity is WATCH


def test_a_large_zone_that_stands_out_is_none_and_a_small_one_is_proposed() -> None:
    measures = measured(
        zone("hide", lightness=80.0, chroma=40.0, area=9.0),
        zone("cloak", lightness=40.0, chroma=0.0, area=8.0),
        zone("base", lightness=45.0, chroma=0.0, area=3.0),
    )
    found = only(list(focus(case(measures))), "focus")
    assert (found.severity, found.zone_ids) == (WATCH, ("base",))
    assert "goes to hide, which takes 45 % of the area" in found.sentence
    assert "base first: lighten its raised edges" in found.sentence


def test_where_all_is_alike_nothing_stands_out() -> None:
    alike = measured(
        *(zone(i, lightness=L, area=2.0) for i, L in (("hide", 50.0), ("cloak", 58.0)))
    )
    found = only(list(focus(case(alike, thresholds=Thresholds(focal_area=1.0)))), "focus")
    assert found.severity is WATCH
    assert found.sentence.startswith("Nothing stands out: ")
    same = measured(zone("hide"), zone("cloak"))
    assert list(focus(case(same))) == []
    assert list(focus(case(measured(zone("hide"))))) == []


def test_a_rim_is_no_focal_point() -> None:
    measures = measured(
        zone("hide", lightness=35.0, area=12.0),
        zone("cloak", lightness=42.0, area=2.0),
        zone("base", lightness=90.0, area=1.0),
    )
    rim = replace(small_project().zone("base"), area_basis=AreaBasis.RIM)
    judged = replace(case(measures), project=edits.update_zone(small_project(), rim))
    assert only(list(focus(judged)), "focus").zone_ids == ("cloak",)


@pytest.mark.parametrize(
    ("close", "far", "severity", "words"),
    [
        (25.0, 20.0, GOOD, "Reads at one metre: least apart are hide and cloak, 20 L*."),
        (12.0, 6.0, WATCH, "At one metre hide and cloak run together: 6 L* of the 12 L* close up"),
        (12.0, 3.0, POOR, "At one metre hide and cloak run together: 3 L* of the 12 L* close up"),
        (5.0, 5.0, WATCH, "At one metre hide and cloak run together: 5 L* apart, less than 8."),
    ],
)
def test_what_reads_at_one_metre(close: float, far: float, severity: Severity, words: str) -> None:
    pair = ReadPair(zone_ids=("hide", "cloak"), close=close, far=far)
    judged = case(measured(zone("hide")), handed=Handed(at_one_metre=(pair,)))
    found = only(list(legibility(judged)), "legibility")
    assert found.severity is severity
    assert found.sentence.startswith(words)
    assert judged.handed.hardest_to_read is pair


def test_without_a_stand_in_nothing_is_said_of_reading() -> None:
    assert list(legibility(case(measured(zone("hide"))))) == []
    assert Handed(at_one_metre=()).hardest_to_read is None


def tiled(**tiles: list[Lab]) -> dict[str, np.ndarray]:
    return {zone_id: np.array(rows)[:, np.newaxis] for zone_id, rows in tiles.items()}


def test_each_colour_of_a_target_is_met_by_the_nearest_place_on_the_model() -> None:
    measures = replace(
        measured(zone("hide"), zone("cloak")),
        tiles=tiled(hide=[(20.0, 0.0, 0.0), (60.0, 0.0, 0.0)], cloak=[(50.0, 40.0, 20.0)] * 2),
    )
    wanted = [(58.0, 0.0, 0.0), (50.0, 30.0, 15.0)]
    found = agreement(measures, palette_of(wanted, "mine"))
    assert found is not None
    assert [met.zone_id for met in found.met] == ["hide", "cloak"]
    exact = [
        float(colorimetry.ciede2000((60.0, 0.0, 0.0), wanted[0])),
        float(colorimetry.ciede2000((50.0, 40.0, 20.0), wanted[1])),
    ]
    assert [met.delta_e for met in found.met] == pytest.approx(exact)
    assert found.mean == pytest.approx(sum(exact) / 2)
    assert found.met[0].lightness == pytest.approx(2.0)
    assert found.met[1].chroma == pytest.approx(np.hypot(40, 20) - np.hypot(30, 15))
    assert found.met[1].hue == pytest.approx(0.0, abs=1e-9)
    assert found.moved is None
    assert found.furthest is max(found.met, key=lambda met: met.delta_e)
    assert agreement(measured(), palette_of(wanted, "mine")) is None


def test_a_scheme_moves_as_far_as_its_areas_differ_from_the_targets() -> None:
    """By hand: a quarter of the area has to turn from black to white, the rest stays."""
    black, white = (20.0, 0.0, 0.0), (90.0, 0.0, 0.0)
    measures = replace(
        measured(zone("hide", area=3.0), zone("cloak", area=1.0)),
        tiles=tiled(hide=[black] * 3, cloak=[white] * 3),
    )
    target = TargetPalette(
        name="halves",
        colours=(TargetColour(lab=black, share=0.5), TargetColour(lab=white, share=0.5)),
        has_shares=True,
    )
    found = agreement(measures, target)
    assert found is not None
    assert found.moved == pytest.approx(0.25 * float(colorimetry.ciede2000(black, white)))
    assert found.mean == pytest.approx(0.0)


@given(seed=st.integers(0, 1000))
@settings(max_examples=15, deadline=None)
def test_moving_is_nothing_to_itself_and_at_most_what_any_plan_costs(seed: int) -> None:
    rng = np.random.default_rng(seed)
    labs = rng.uniform((20, -30, -30), (80, 30, 30), (4, 3))
    areas = rng.uniform(1.0, 5.0, 2)
    measures = replace(
        measured(zone("hide", area=areas[0]), zone("cloak", area=areas[1])),
        tiles={"hide": np.repeat(labs[:1, None], 3, 0), "cloak": np.repeat(labs[1:2, None], 3, 0)},
    )
    shares = (areas / areas.sum()).tolist()

    def target(which: list[int]) -> TargetPalette:
        colours = (
            TargetColour(lab=tuple(labs[n].tolist()), share=share)
            for n, share in zip(which, shares, strict=True)
        )
        return TargetPalette(name="t", colours=tuple(colours), has_shares=True)

    own, other = agreement(measures, target([0, 1])), agreement(measures, target([2, 3]))
    assert own is not None
    assert other is not None
    assert own.moved == pytest.approx(0.0, abs=1e-9)
    by_share = sum(
        share * float(colorimetry.ciede2000(labs[a], labs[b]))
        for share, a, b in zip(shares, (0, 1), (2, 3), strict=True)
    )
    assert other.moved is not None
    assert other.mean - 1e-9 <= other.moved <= by_share + 1e-9


def near(**change: float) -> Agreement:
    met = Met(
        colour=TargetColour(lab=(50.0, 40.0, 20.0), share=1.0),
        zone_id="hide",
        delta_e=12.0,
        lightness=0.0,
        chroma=0.0,
        hue=0.0,
    )
    return Agreement(
        target=palette_of([(50.0, 40.0, 20.0)], "the banner"),
        met=(replace(met, **change),),  # type: ignore[arg-type]
        mean=12.0,
        moved=None,
    )


@pytest.mark.parametrize(
    ("change", "severity", "words"),
    [
        ({"lightness": -9.0}, POOR, "It is 9 L* too dark: lighten its undercoat"),
        ({"lightness": 9.0, "delta_e": 7.0}, WATCH, "It is 9 L* too light: glaze it once more"),
        ({"chroma": -14.0, "lightness": 3.0}, POOR, "It lacks 14 of chroma: glaze it stronger"),
        ({"chroma": 14.0}, POOR, "It has 14 of chroma too much: thin its glaze"),
        ({"hue": 20.0, "chroma": 5.0}, POOR, "Its hue is off: turn its glaze towards red"),
    ],
)
def test_a_colour_missed_says_what_to_mend(
    change: dict[str, float], severity: Severity, words: str
) -> None:
    judged = case(measured(zone("hide")), agreement=near(**change))
    found = only(list(target_rule(judged)), "target")
    assert (found.severity, found.zone_ids) == (severity, ("hide",))
    assert found.sentence.startswith("The red of the banner is missed by dE ")
    assert words in found.sentence


def test_a_target_met_is_good_and_without_one_nothing_is_said() -> None:
    judged = case(measured(zone("hide")), agreement=near(delta_e=4.0))
    assert only(list(target_rule(judged)), "target").severity is GOOD
    strict = replace(judged, thresholds=Thresholds(near_target=3.0))
    assert only(list(target_rule(strict)), "target").severity is WATCH
    assert list(target_rule(case(measured(zone("hide"))))) == []


def picture(parts: list[tuple[Lab, int]], wide: int = 60) -> np.ndarray:
    """Rows of those colours, so many each, in linear sRGB."""
    labs = np.concatenate([np.full((rows, wide, 3), lab) for lab, rows in parts])
    noise = np.random.default_rng(1).normal(0.0, 0.6, labs.shape)
    return np.asarray(colorimetry.linear_rgb_from_xyz(colorimetry.xyz_from_lab(labs + noise)))


def test_main_colours_of_a_picture_come_with_their_shares() -> None:
    parts = [((30.0, 20.0, 20.0), 50), ((60.0, -20.0, 25.0), 30), ((75.0, 5.0, 50.0), 20)]
    found = palette_of_picture(picture(parts), "banner", leave_backdrop=False)
    assert [colour.share for colour in found.colours] == pytest.approx([0.5, 0.3, 0.2], abs=0.01)
    for colour, (lab, _rows) in zip(found.colours, parts, strict=True):
        assert float(colorimetry.ciede2000(colour.lab, lab)) < 0.7
    assert found.has_shares
    again = palette_of_picture(picture(parts), "banner", leave_backdrop=False)
    assert again == found


def test_an_even_backdrop_is_left_out_unless_it_is_wanted() -> None:
    whole = picture([((90.0, 0.0, 0.0), 60)])
    whole[15:45, 10:50] = picture([((35.0, 30.0, 20.0), 30)])[:, :40]
    found = palette_of_picture(whole, "model")
    assert len(found.colours) == 1
    assert float(colorimetry.ciede2000(found.colours[0].lab, (35.0, 30.0, 20.0))) < 1.0
    assert len(palette_of_picture(whole, "model", leave_backdrop=False).colours) == 2
    with pytest.raises(InputError, match="all backdrop"):
        palette_of_picture(picture([((50.0, 0.0, 0.0), 40)]), "grey card")


def test_palettes_that_make_no_sense_are_refused() -> None:
    with pytest.raises(InputError, match="0 colours"):
        palette_of(np.empty((0, 3)), "none")
    with pytest.raises(InputError, match="13 colours"):
        palette_of([(50.0, 0.0, 0.0)] * 13, "many")
    with pytest.raises(InputError, match="do not sum"):
        TargetPalette(name="x", colours=(TargetColour(lab=(50.0, 0.0, 0.0), share=0.4),))
    with pytest.raises(InputError, match=r"L\* of the target"):
        palette_of([(float("nan"), 0.0, 0.0)], "nan")


def found_of(**kwargs: object) -> Comparison:
    found = compare(candidates(), **kwargs)  # type: ignore[arg-type]
    assert found is not None
    return found


def with_poor(comparison: Comparison, **counts: int) -> Comparison:
    """The same with so many findings to mend, taken or made, and none to watch."""
    entries = []
    for entry in comparison.schemes:
        one = next(f for f in entry.findings if f.key != "sameness")
        wanted = counts[entry.scheme.id]
        poor = tuple(replace(one, severity=POOR, key=f"k{n}") for n in range(wanted))
        entries.append(replace(entry, findings=poor))
    return replace(comparison, schemes=tuple(entries))


def test_the_scheme_with_least_to_mend_is_taken_and_says_against_what() -> None:
    made = with_poor(found_of(), first=3, warm=1, bare=2)
    found = taking(made)
    assert found is not None
    assert found.scheme_id == "warm"
    assert found.headline.sentence == "Take warm."
    assert found.why.sentence.startswith("1 to mend against 3 of first scheme")
    assert found.first is not None


def test_the_yardstick_stays_where_no_other_is_better() -> None:
    found = taking(with_poor(found_of(), first=0, warm=2, bare=1))
    assert found is not None
    assert found.scheme_id == "first"
    assert found.headline.sentence == "Stay with first scheme, the yardstick."
    assert found.why.sentence.startswith("0 to mend against 1 of bare")
    assert found.first is None


def test_hours_decide_between_equals_and_are_told() -> None:
    handed = {"first": Handed(minutes=600.0), "warm": Handed(minutes=480.0)}
    found = taking(with_poor(found_of(handed=handed), first=1, warm=1, bare=1))
    assert found is not None
    assert found.scheme_id == "warm"
    assert "As good as first scheme, and 2.0 h less work." in found.why.sentence
    # Of two alike the yardstick stays.
    same = taking(with_poor(found_of(), first=1, warm=1, bare=1))
    assert same is not None
    assert same.scheme_id == "first"
    assert "Nothing speaks more for" in same.why.sentence


def test_one_scheme_alone_leaves_no_choice() -> None:
    assert taking(found_of(scheme_ids=("first",))) is None


def test_a_target_reaches_measures_and_findings() -> None:
    target = palette_of([(50.0, 60.0, 40.0)], "the banner")
    found = found_of(target=target)
    for entry in found.schemes:
        assert entry.agreement is not None
        assert entry.agreement.target is target
        assert [f for f in entry.findings if f.key == "target"]
    assert all(entry.agreement is None for entry in found_of().schemes)
