"""Each rule on numbers written by hand: when it speaks, how gravely, and what it says to do."""

from dataclasses import replace

import pytest

from schemeforge.comparison import (
    Finding,
    Handed,
    Severity,
    Shift,
    Thresholds,
    Transition,
    ZoneDifference,
    figure,
    findings,
    listed,
)
from schemeforge.comparison.rules_colour import (
    chroma,
    constancy,
    hands,
    hues,
    other_eyes,
    transitions,
)
from schemeforge.comparison.rules_light import separation, span
from schemeforge.comparison.rules_work import hours, paints, sameness
from schemeforge.scheme import AreaBasis, Project, edits
from tests.builders import small_project
from tests.comparison.by_hand import case, family, measured, only, pair, zone

GOOD, WATCH, POOR = Severity.GOOD, Severity.WATCH, Severity.POOR


def test_touching_zones_far_apart_are_good_and_the_nearest_are_named() -> None:
    found = list(separation(case(measured(pairs=(pair(31.0), pair(24.0))))))
    assert only(found, "separation").severity is GOOD
    assert found[0].sentence == (
        "All touching zones differ by 20 L* or more; nearest are hide and cloak, 24 L* apart: "
        "let those two come no nearer."
    )
    assert found[0].numbers == (("lightness", 24.0),)


def test_zones_too_close_say_which_to_lighten_and_which_to_glaze() -> None:
    found = only(list(separation(case(measured(pairs=(pair(8.0),))))), "separation")
    assert (found.severity, found.zone_ids) == (POOR, ("hide", "cloak"))
    assert found.sentence == (
        "Hide and cloak differ by 8 L*, less than 20: lighten the undercoat on hide or glaze "
        "cloak once more."
    )


def test_a_zone_without_a_spray_is_to_be_started_lighter() -> None:
    close = pair(12.0, zone_ids=("base", "cloak"))
    found = only(list(separation(case(measured(pairs=(close,))))), "separation")
    assert found.severity is WATCH
    assert "start base on a lighter undercoat or glaze cloak once more" in found.sentence


def test_hue_may_keep_zones_apart_but_not_in_grey_light() -> None:
    close = pair(3.0, hue=120.0, delta_e=40.0)
    found = only(list(separation(case(measured(pairs=(close,))))), "separation")
    assert found.severity is WATCH
    assert "differ by 3 L* only; their hues, 120° apart" in found.sentence


def test_without_touching_zones_nothing_is_said_of_them() -> None:
    assert list(separation(case(measured(zone("hide"))))) == []
    assert list(other_eyes(case(measured(zone("hide"))))) == []


@pytest.mark.parametrize(
    ("spans", "severity", "words"),
    [
        ([-6.0, -9.0], POOR, "Hide and cloak: raised edges are 6–9 L* darker"),
        ([3.0], POOR, "Hide: only 3 L* from recess to raised edge, less than 30"),
        ([29.7], WATCH, "Hide: 29.7 L* from recess to raised edge, less than 30"),
        ([52.0], WATCH, "Hide: 52 L* from recess to raised edge, more than 40"),
        ([33.0, 38.0], GOOD, "Hide and cloak: 33–38 L* from recess to raised edge, enough"),
    ],
)
def test_range_from_recess_to_raised_edge(
    spans: list[float], severity: Severity, words: str
) -> None:
    zones = [zone(i, span=s) for i, s in zip(("hide", "cloak"), spans, strict=False)]
    found = only(list(span(case(measured(*zones)))), "span")
    assert found.severity is severity
    assert found.sentence.startswith(words)


def test_a_rim_may_be_flat() -> None:
    hidden = case(measured(zone("base", span=0.0)))
    rim = replace(small_project().zone("base"), area_basis=AreaBasis.RIM)
    rimmed: Project = edits.update_zone(small_project(), rim)
    assert list(span(replace(hidden, project=rimmed))) == []


@pytest.mark.parametrize(
    ("shares", "severity", "words"),
    [
        ([], WATCH, "No main hue"),
        ([0.5], WATCH, "1 main hue, red, and 20 % neutral"),
        ([0.5, 0.3], GOOD, "2 main hues, red and red, with 20 % neutral"),
        ([0.3, 0.2, 0.2, 0.1], WATCH, "4 main hues: red, red, red and red. More than 3"),
        ([0.5, 0.3, 0.01], GOOD, "2 main hues"),
    ],
)
def test_number_of_main_hues(shares: list[float], severity: Severity, words: str) -> None:
    hued = measured(zone("hide"), families=tuple(family(share, "cloak") for share in shares))
    found = only(list(hues(case(hued))), "hues")
    assert (found.severity, found.sentence[: len(words)]) == (severity, words)


def test_a_painter_may_want_no_hue_at_all() -> None:
    grey = case(measured(zone("hide")), thresholds=Thresholds(hues_low=0))
    assert only(list(hues(grey)), "hues").severity is GOOD


def test_a_small_vivid_zone_is_an_accent() -> None:
    small = measured(zone("cloak", chroma=60.0, area=2.0), zone("hide", chroma=11.0, area=18.0))
    found = only(list(chroma(case(small))), "chroma")
    share = 60 * 2 / (60 * 2 + 11 * 18)
    assert found.severity is GOOD
    assert found.sentence == (
        f"Cloak is the accent: {100 * share:.0f} % of the chroma on 10 % of the area. Keep the "
        "others quieter."
    )
    assert dict(found.numbers)["ratio"] == pytest.approx(share / 0.1)


def test_even_chroma_has_no_accent_and_too_little_says_nothing() -> None:
    even = measured(zone("cloak", chroma=30.0), zone("hide", chroma=28.0))
    assert only(list(chroma(case(even))), "chroma").severity is WATCH
    assert list(chroma(case(measured(zone("hide", chroma=30.0))))) == []
    assert list(chroma(case(measured(zone("hide", chroma=3.0), zone("cloak", chroma=2.0))))) == []


@pytest.mark.parametrize(
    ("turn", "severity", "words"),
    [
        (Transition(hue=48.0, delta_e=20.0, lightness=-5.0), GOOD, "Cloak: 48° in hue from"),
        (Transition(hue=None, delta_e=20.0, lightness=-15.0), GOOD, "Cloak: 15 L* from"),
        (Transition(hue=9.0, delta_e=4.9, lightness=0.0), WATCH, "Cloak: the feathered coats ha"),
    ],
)
def test_feathered_coats_show_or_are_not_worth_their_while(
    turn: Transition, severity: Severity, words: str
) -> None:
    both = measured(zone("hide"), zone("cloak", transition=turn))
    found = only(list(transitions(case(both))), "transition")
    assert found.severity is severity
    assert found.sentence.startswith(words)
    assert "collar" in found.sentence
    assert "hem" in found.sentence


@pytest.mark.parametrize(
    ("moved", "severity", "words"),
    [
        (1.4, GOOD, "Keeps its colours under other lights: the most is cloak, dE 1.4 under white"),
        (2.0, WATCH, "Under white LED, cloak: a shift of dE 2.0, shows in the ranks"),
        (7.0, POOR, "Under white LED, cloak: another colour (dE 7.0)"),
    ],
)
def test_other_lights(moved: float, severity: Severity, words: str) -> None:
    both = measured(zone("hide"), zone("cloak", light=Shift(moved, moved, 0.0)))
    found = only(list(constancy(case(both))), "constancy")
    assert (found.severity, found.zone_ids) == (severity, ("cloak",))
    assert found.sentence.startswith(words)


@pytest.mark.parametrize(
    ("heavy", "light", "severity", "words"),
    [
        (
            1.0,
            1.2,
            GOOD,
            "Forgives a light or heavy hand: the most is cloak, dE 1.2. Lay it without",
        ),
        (3.0, 1.2, WATCH, "With a heavy hand, cloak: dE 3.0 (4 L*), shows in the ranks"),
        (3.0, 5.0, POOR, "With a light hand, cloak: another colour (dE 5.0, 6 L*)"),
    ],
)
def test_light_and_heavy_hands(heavy: float, light: float, severity: Severity, words: str) -> None:
    cloak = zone(
        "cloak",
        heavy_hand=Shift(heavy, heavy, -4.0),
        light_hand=Shift(light, light, 6.0),
    )
    found = only(list(hands(case(measured(zone("hide"), cloak)))), "hands")
    assert found.severity is severity
    assert found.sentence.startswith(words)


def test_zones_that_only_other_eyes_confuse_are_poor() -> None:
    lost = pair(3.0, delta_e=22.0, altered=3.1)
    found = only(list(other_eyes(case(measured(pairs=(pair(25.0), lost))))), "other eyes")
    assert found.severity is POOR
    assert found.sentence == (
        "To an eye with weak or missing green cones, hide and cloak look much alike (dE 3.1, 3 L* "
        "apart). Set them apart by lightness, not by hue."
    )
    same = pair(0.5, delta_e=2.0, altered=1.0)  # alike to every eye: separation speaks of that
    found = only(list(other_eyes(case(measured(pairs=(same, pair(25.0)))))), "other eyes")
    assert found.severity is GOOD


def test_hours_alone_and_against_the_yardstick() -> None:
    measures = measured(zone("hide"))

    def said(minutes: float, before: float | None) -> Finding:
        yardstick = None if before is None else Handed(minutes=before)
        judged = case(measures, handed=Handed(minutes=minutes), yardstick=yardstick)
        return only(list(hours(judged)), "hours")

    assert said(90.0, None).sentence == (
        "1.5 h of work for the batch: 3 coats in 4 passes. Put that many aside."
    )
    assert said(600.0, 601.0).sentence == (
        "10.0 h of work for the batch, as long as the other: choose by looks."
    )
    assert said(540.0, 600.0).sentence == (
        "9.0 h of work for the batch, 1.0 h less than the other: spend them on the models in front."
    )
    assert said(630.0, 600.0).severity is GOOD
    assert said(630.0, 600.0).sentence.endswith(
        "0.5 h more than the other. Take it where the looks are worth that."
    )
    longer = said(720.0, 600.0)
    assert longer.severity is WATCH
    assert longer.sentence.endswith("Leave a second glaze off the rank and file first.")
    assert dict(longer.numbers)["more_minutes"] == pytest.approx(120.0)
    assert list(hours(case(measures))) == []


def test_paints_to_buy_are_named_with_their_cost_where_it_is_known() -> None:
    measures = measured(zone("hide"))
    assert list(paints(case(measures))) == []
    enough = only(list(paints(case(measures, handed=Handed(to_buy=())))), "paints")
    assert enough.severity is GOOD
    short = Handed(to_buy=("red glaze", "off white"))
    found = only(list(paints(case(measures, handed=short))), "paints")
    assert found.severity is WATCH
    assert found.sentence == (
        "Of 2 paints and mediums too little is left of red glaze and off white: buy before you "
        "start."
    )
    priced = replace(short, cost=7.5)
    found = only(list(paints(case(measures, handed=priced))), "paints")
    assert "buy for 7.50 before" in found.sentence


def test_paints_of_which_nobody_knows_what_is_left_are_not_said_to_suffice() -> None:
    measures = measured(zone("hide"))
    number = len(measures.work.paint_ids)
    some = Handed(to_buy=(), unknown=("red glaze",))
    found = only(list(paints(case(measures, handed=some))), "paints")
    assert "enough" not in found.sentence
    what = "red glaze" if number > 1 else "them"
    assert found.sentence == (
        f"{number} paints and mediums; how much is left of {what} is not known: look before you "
        "start."
    )
    every = Handed(to_buy=(), unknown=tuple(f"paint {n}" for n in range(number)))
    found = only(list(paints(case(measures, handed=every))), "paints")
    assert found.sentence == (
        f"{number} paints and mediums; how much is left of them is not known: look before you "
        "start."
    )
    short = Handed(to_buy=("off white",), unknown=("red glaze",))
    found = only(list(paints(case(measures, handed=short))), "paints")
    assert found.severity is WATCH
    assert found.sentence.endswith(
        "buy before you start. How much is left of red glaze is not known."
    )
    assert dict(found.numbers)["unknown"] == 1.0


def test_a_scheme_that_looks_just_like_the_yardstick_is_said_to() -> None:
    measures = measured(zone("hide"), zone("cloak"))
    same = (
        ZoneDifference(zone_id="hide", mean=0.2, worst=0.9, lightness=0.0),
        ZoneDifference(zone_id="cloak", mean=0.0, worst=0.0, lightness=0.0),
    )
    found = only(list(sameness(case(measures, yardstick=Handed(), differences=same))), "sameness")
    assert found.severity is WATCH
    assert found.sentence.startswith("Looks just like the other")
    for mean, said in ((3.04, "dE 3.0: shows in the ranks"), (22.6, "dE 23: another colour")):
        apart = (same[0], replace(same[1], mean=mean, worst=30.0))
        found = only(
            list(sameness(case(measures, yardstick=Handed(), differences=apart))), "sameness"
        )
        assert found.severity is GOOD
        assert found.sentence == (
            f"Differs from the other on 1 of 2 zones, most on cloak ({said}): look there first."
        )
    both = (replace(same[0], mean=4.0, worst=9.0), replace(same[1], mean=12.4, worst=30.0))
    found = only(list(sameness(case(measures, yardstick=Handed(), differences=both))), "sameness")
    assert found.zone_ids == ("cloak", "hide")
    assert "on 2 of 2 zones, most on cloak (dE 12: another colour), then hide (4.0)" in (
        found.sentence
    )
    assert list(sameness(case(measures))) == []
    assert list(sameness(case(measures, yardstick=Handed()))) == []


def test_findings_come_good_first_then_poor_then_to_watch_each_by_weight() -> None:
    measures = measured(
        zone("hide", span=3.0),
        zone("cloak", chroma=60.0, area=1.0, light=Shift(3.0, 3.0, 0.0)),
        pairs=(pair(8.0),),
        families=(family(0.5, "hide"), family(0.2, "cloak")),
    )
    found = findings(case(measures, handed=Handed(minutes=60.0, to_buy=("red glaze",))))
    order = [GOOD, POOR, WATCH]
    ranks = [(order.index(f.severity), -f.weight) for f in found]
    assert ranks == sorted(ranks)
    assert {f.scheme_id for f in found} == {"first"}
    assert {GOOD, POOR, WATCH} == {f.severity for f in found}


def test_nothing_is_said_of_nothing() -> None:
    assert findings(case(measured())) == ()


def test_thresholds_are_the_painters() -> None:
    close = case(measured(pairs=(pair(8.0),)), thresholds=Thresholds(apart=5.0))
    assert only(list(separation(close)), "separation").severity is GOOD


@pytest.mark.parametrize(
    ("value", "limit", "text"),
    [
        (8.2, 20.0, "8"),
        (19.7, 20.0, "19.7"),
        (19.97, 20.0, "19.97"),
        (20.3, 20.0, "20"),
        (20.0, 20.0, "20"),
        (-0.2, None, "0"),
        (12.5, None, "12"),
    ],
)
def test_figures_take_the_digits_that_tell_them_from_the_limit(
    value: float, limit: float | None, text: str
) -> None:
    assert figure(value, limit) == text


def test_names_and_terms_are_joined_and_terms_translated() -> None:
    assert (listed([]), listed(["a"]), listed(["a", "b", "c"])) == ("", "a", "a, b and c")
    finding = Finding(
        key="k",
        scheme_id="s",
        severity=GOOD,
        template="{zones} are {term}",
        names=(("zones", ("{red}", "%s")),),
        terms=(("term", "fine"),),
    )
    assert finding.sentence == "{red} and %s are fine"
    german = {
        "{zones} are {term}": "{zones} sind {term}",
        "fine": "gut",
        "{0} and {1}": "{0} und {1}",
    }
    assert finding.said(german.__getitem__) == "{red} und %s sind gut"
