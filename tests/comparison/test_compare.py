"""Candidates against the yardstick, the thresholds, and what is measured only once."""

from dataclasses import asdict, replace

import numpy as np
import pytest

from schemeforge.comparison import (
    DEFAULTS,
    RULES,
    Comparison,
    Handed,
    Thresholds,
    compare,
    differences,
    measure,
    yardstick_of,
)
from schemeforge.errors import InputError, UnknownNameError
from schemeforge.scheme import Project, edits
from tests.comparison.by_hand import candidates


def compared(project: Project, **how: object) -> Comparison:
    found = compare(project, **how)  # type: ignore[arg-type]
    assert found is not None
    return found


def test_the_yardstick_differs_from_itself_nowhere_and_others_do() -> None:
    project = candidates()
    found = compared(project)
    assert found.yardstick_id == "first"
    first, warm, bare = found.schemes
    assert (first.differences, first.whole_difference) == ((), None)
    assert [d.zone_id for d in warm.differences] == ["hide", "cloak", "base"]
    base = warm.difference("base")
    assert base is not None
    assert base.worst == pytest.approx(0.0, abs=1e-9)
    assert not base.is_seen
    hide = bare.difference("hide")
    assert hide is not None
    assert hide.is_seen
    assert 0.0 < hide.mean <= hide.worst
    assert found.differing_zones() == {"hide", "cloak"}
    assert first.difference("hide") is None
    assert found.scheme("bare") is bare


def test_differences_are_the_same_seen_from_either_side() -> None:
    project = candidates()
    one, two = (measure(project, project.scheme(i)) for i in ("first", "warm"))
    assert one is not None
    assert two is not None
    for there, back in zip(differences(one, two), differences(two, one), strict=True):
        assert there.mean == pytest.approx(back.mean, abs=1e-9)
        assert there.worst == pytest.approx(back.worst, abs=1e-9)
        assert there.lightness == pytest.approx(-back.lightness)


def test_the_whole_difference_weighs_zones_by_area() -> None:
    bare = compared(candidates()).scheme("bare")
    areas = np.array([zone.area_cm2 for zone in bare.measures.zones])
    means = np.array([d.mean for d in bare.differences])
    assert bare.whole_difference == pytest.approx(float((areas * means).sum() / areas.sum()))


def test_a_yardstick_need_not_be_among_those_shown() -> None:
    project = edits.set_yardstick(candidates(), "warm")
    assert yardstick_of(project) is project.scheme("warm")
    found = compared(project, scheme_ids=("bare", "first"))
    assert found.yardstick_id == "warm"
    assert [entry.scheme.id for entry in found.schemes] == ["bare", "first"]
    assert all(entry.differences for entry in found.schemes)


def test_hours_handed_in_reach_the_sentences() -> None:
    handed = {"first": Handed(minutes=600.0), "bare": Handed(minutes=300.0)}
    found = compared(candidates(), handed=handed)
    sentences = [f.sentence for f in found.scheme("bare").findings if f.key == "hours"]
    (sentence,) = sentences
    assert sentence.startswith("5.0 h of work for the batch, 5.0 h less than first scheme: spend")
    assert found.scheme("bare").handed.minutes == 300.0
    assert not [f for f in found.scheme("warm").findings if f.key == "hours"]


def test_what_is_known_is_not_measured_again() -> None:
    project = candidates()
    first = compared(project)
    known = {entry.scheme.id: entry.measures for entry in first.schemes}
    told: list[float] = []

    def note(share: float) -> bool:
        told.append(share)
        return True

    again = compared(project, known=known, go_on=note)
    assert told == []
    assert all(again.scheme(i).measures is known[i] for i in known)
    del known["bare"]
    compared(project, known=known, go_on=note)
    assert told == sorted(told)
    assert told[-1] == pytest.approx(1.0)


def test_told_to_stop_or_without_schemes_there_is_no_comparison() -> None:
    project = candidates()
    assert compare(project, go_on=lambda share: share < 0.5) is None
    empty = replace(project, schemes=(), chosen_scheme_id="")
    assert yardstick_of(empty) is None
    assert compare(empty) is None


def test_an_unknown_scheme_is_named() -> None:
    with pytest.raises(UnknownNameError, match="frist"):
        compare(candidates(), ("frist",))


def test_every_threshold_has_its_words_and_range() -> None:
    assert [rule.field for rule in RULES] == list(asdict(DEFAULTS))
    assert all("rule of thumb" in rule.origin or "2009" in rule.origin for rule in RULES)
    assert all(rule.words and rule.low < rule.high for rule in RULES)
    assert all(rule.low <= getattr(DEFAULTS, rule.field) <= rule.high for rule in RULES)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"apart": -1.0}, "Touching zones apart"),
        ({"span_low": 50.0}, "Lightness from recess to raised edge"),
        ({"hues_low": 5}, "Number of main hues"),
        ({"steady": 6.0}, "Colour difference"),
        ({"heavy_hand": 0.5}, "heavy hand"),
        ({"apart": float("nan")}, "Touching zones apart"),
    ],
)
def test_thresholds_that_make_no_sense_are_refused(change: dict[str, float], words: str) -> None:
    with pytest.raises(InputError, match=words):
        replace(DEFAULTS, **change)  # type: ignore[arg-type]
    assert Thresholds() == DEFAULTS
