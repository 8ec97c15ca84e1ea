import pytest

from schemeforge import plan
from schemeforge.scheme import Primer, Spray, Step, Technique, WorkKind
from tests.builders import coat_step
from tests.plan.batch import work

ABOVE = Step(id="s", name="s", layer=Spray(mix_id="m"), zone_ids=("hide",))
PRIME = Step(id="p", name="p", layer=Primer(mix_id="m"), zone_ids=("hide",))
AIRBRUSH = coat_step("a", "m", "hide", technique=Technique.AIRBRUSH)
VARNISH = work("v", WorkKind.VARNISH, sprayed=True)


def test_the_spray_from_above_has_the_trades_pressure_and_distance() -> None:
    # Published tutorials: zenithal 20-25 psi from 15-20 cm; aerosol 20-35 cm; stop above 55 %.
    hint = plan.spray_hint(ABOVE)
    assert hint is not None
    assert (hint.pressure_psi, hint.airbrush_cm) == ((20.0, 25.0), (15.0, 20.0))
    assert (hint.can_cm, hint.stop_above_humidity_percent) == ((20.0, 35.0), 55.0)
    # 1 psi = 6894.757 Pa (definition of pound-force and inch).
    assert hint.pressure_bar == pytest.approx((1.378951, 1.723689), abs=1e-5)
    assert hint.words == (
        "airbrush: needle 0.3-0.5 mm, 20-25 psi (1.4-1.7 bar), 15-20 cm away; can: 20-35 cm away; "
        "stop above 55 % humidity (common practice)"
    )


@pytest.mark.parametrize("step", [ABOVE, PRIME, AIRBRUSH, VARNISH])
def test_every_sprayed_step_stays_within_the_trades_pressure(step: Step) -> None:
    hint = plan.spray_hint(step)
    assert hint is not None
    low, high = hint.pressure_psi
    assert 15.0 <= low < high <= 30.0  # published tutorials: 15-30 psi
    assert hint.needle_mm[0] < hint.needle_mm[1]


def test_fine_work_takes_a_finer_needle_from_nearer_than_priming() -> None:
    fine, coarse = plan.spray_hint(AIRBRUSH), plan.spray_hint(PRIME)
    assert fine is not None
    assert coarse is not None
    assert fine.needle_mm[1] < coarse.needle_mm[0]
    assert fine.airbrush_cm[0] < coarse.airbrush_cm[0]


def test_brushed_steps_have_no_spray_hint() -> None:
    assert plan.spray_hint(coat_step("c", "m", "hide")) is None
    assert plan.spray_hint(work("v", WorkKind.VARNISH)) is None


def test_tools_in_words() -> None:
    assert plan.tool_words(ABOVE) == plan.tool_words(PRIME) == "airbrush or can"
    assert plan.tool_words(VARNISH) == "airbrush or can"
    assert plan.tool_words(AIRBRUSH) == "airbrush"
    assert "brush" in plan.tool_words(work("v", WorkKind.VARNISH))
    assert plan.tool_words(work("o", WorkKind.OTHER)) == ""
    for technique in Technique:
        assert "brush" in plan.tool_words(coat_step("c", "m", "hide", technique=technique))
    for kind in set(WorkKind) - {WorkKind.OTHER}:
        assert plan.tool_words(work("w", kind))
