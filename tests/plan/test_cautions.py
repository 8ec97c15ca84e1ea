import re

import pytest

from schemeforge import plan
from schemeforge.plan import Caution
from schemeforge.scheme import Primer, Spray, Step, Technique, WorkKind
from tests.builders import coat_step, small_project
from tests.plan.batch import large_project, scheme_of, work


@pytest.mark.parametrize("caution", list(Caution))
def test_every_sentence_defers_to_label_data_sheet_rules_and_licence(caution: Caution) -> None:
    for words in ("label", "safety data sheet", "local rules", "licensed practice"):
        assert words in caution.sentence
    assert caution.advice in caution.sentence
    assert len(caution.advice) > 30


# What the trade's usual cautions ask for at each danger (common practice, no source).
@pytest.mark.parametrize(
    ("caution", "words"),
    [
        (Caution.SPRAYING, "outdoors|extraction"),
        (Caution.SPRAYING, "breathing protection"),
        (Caution.SPRAYING, "no flame or spark"),
        (Caution.SPRAYING, "never warm a can"),
        (Caution.SOLVENTS, "flames"),
        (Caution.BLADES, "cut away from yourself"),
        (Caution.GLUE, "skin and eyes"),
        (Caution.DUST, "sand wet"),
        (Caution.DUST, "mask"),
        (Caution.MAGNETS, "children and animals"),
        (Caution.MAGNETS, "pacemakers"),
        (Caution.BRUSHES, "do not lick"),
        (Caution.BRUSHES, "20 to 30 minutes"),
    ],
)
def test_advice_says_what_the_trade_says(caution: Caution, words: str) -> None:
    assert re.search(words, caution.advice)


@pytest.mark.parametrize(
    ("step", "expected"),
    [
        (work("w", WorkKind.CLEANING), {Caution.BLADES, Caution.DUST}),
        (work("w", WorkKind.ASSEMBLY), {Caution.BLADES, Caution.GLUE, Caution.MAGNETS}),
        (work("w", WorkKind.TEXTURE), {Caution.GLUE, Caution.DUST}),
        (work("w", WorkKind.METALLIC), {Caution.BRUSHES}),
        (work("w", WorkKind.METALLIC, sprayed=True), {Caution.SPRAYING, Caution.SOLVENTS}),
        (work("w", WorkKind.DETAIL), {Caution.BRUSHES}),
        (work("w", WorkKind.DECAL), {Caution.BLADES, Caution.SOLVENTS}),
        (work("w", WorkKind.VARNISH), {Caution.SOLVENTS}),
        (work("w", WorkKind.VARNISH, sprayed=True), {Caution.SPRAYING, Caution.SOLVENTS}),
        (work("w", WorkKind.OTHER), {Caution.PRODUCT}),
        (
            work("w", WorkKind.OTHER, sprayed=True),
            {Caution.SPRAYING, Caution.SOLVENTS, Caution.PRODUCT},
        ),
        (coat_step("c", "m", "hide"), {Caution.BRUSHES}),
        (
            coat_step("c", "m", "hide", technique=Technique.AIRBRUSH),
            {Caution.SPRAYING, Caution.SOLVENTS},
        ),
        (
            Step(id="p", name="p", layer=Primer(mix_id="m"), zone_ids=("hide",)),
            {Caution.SPRAYING, Caution.SOLVENTS},
        ),
        (
            Step(id="s", name="s", layer=Spray(mix_id="m"), zone_ids=("hide",)),
            {Caution.SPRAYING, Caution.SOLVENTS},
        ),
    ],
)
def test_steps_carry_the_cautions_they_need(step: Step, expected: set[Caution]) -> None:
    found = plan.cautions_for(step)
    assert set(found) == expected
    assert len(found) == len(expected)


def test_every_kind_of_work_and_every_technique_carries_a_caution() -> None:
    for kind in WorkKind:
        assert plan.cautions_for(work("w", kind))
    for technique in Technique:
        assert plan.cautions_for(coat_step("c", "m", "hide", technique=technique))


def test_planned_steps_carry_them() -> None:
    for project in (small_project(), large_project()):
        for step in plan.planned_steps(project, scheme_of(project)):
            assert step.cautions == plan.cautions_for(step.step)
            assert (Caution.SPRAYING in step.cautions) == step.sprayed


def test_the_safety_line_says_each_advice_once_and_defers_once() -> None:
    line = plan.safety_line([Caution.GLUE, Caution.SPRAYING, Caution.GLUE])
    assert line == f"{Caution.SPRAYING.advice} {Caution.GLUE.advice} {plan.DEFER}"
    assert plan.safety_line([]) == plan.DEFER
