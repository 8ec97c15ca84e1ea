from dataclasses import replace

import pytest

from schemeforge.scheme.steps import Coat, Primer, Spray, Step, Technique, Work, WorkKind
from schemeforge.scheme.techniques import (
    PRIMER,
    SPRAY,
    TECHNIQUES,
    WORK,
    defaults_for,
    heaviness_words,
    is_sprayed,
)


def step(layer: Primer | Spray | Coat | Work) -> Step:
    return Step(id="s", name="s", layer=layer, zone_ids=("z",))


def test_every_technique_and_work_has_defaults() -> None:
    assert set(TECHNIQUES) == set(Technique)
    assert set(WORK) == set(WorkKind)


@pytest.mark.parametrize("technique", Technique)
def test_light_normal_and_heavy_rise(technique: Technique) -> None:
    usual = TECHNIQUES[technique]
    assert 0.0 < usual.light_um < usual.normal_um < usual.heavy_um
    for film, word in (
        (usual.light_um, "light"),
        (usual.normal_um, "normal"),
        (usual.heavy_um, "heavy"),
        (0.0, "light"),
        (1000.0, "heavy"),
    ):
        coat = Coat(mix_id="m", technique=technique, wet_um=film)
        assert heaviness_words(coat) == word


def test_waits_and_films_lie_in_the_trade_ranges() -> None:
    # common practice, no source: the ranges that the module's docstring states
    assert 20.0 <= TECHNIQUES[Technique.LAYER].wait_minutes <= 30.0
    assert 5.0 <= TECHNIQUES[Technique.GLAZE].wait_minutes <= 20.0
    assert TECHNIQUES[Technique.WASH].wait_minutes == 30.0
    assert PRIMER.wait_minutes == 120.0
    assert 30.0 <= SPRAY.wait_minutes <= 60.0
    assert WORK[WorkKind.VARNISH].wait_minutes == 24 * 60
    wash, airbrush = TECHNIQUES[Technique.WASH], TECHNIQUES[Technique.AIRBRUSH]
    assert 100.0 <= wash.light_um < wash.heavy_um <= 200.0
    assert 10.0 <= airbrush.light_um < airbrush.heavy_um <= 40.0


def test_defaults_are_found_for_each_kind_of_layer() -> None:
    wash = Coat(mix_id="m", technique=Technique.WASH)
    assert defaults_for(step(wash)) is TECHNIQUES[Technique.WASH]
    assert defaults_for(step(Primer(mix_id="m"))) is PRIMER
    assert defaults_for(step(Spray(mix_id="m"))) is SPRAY
    assert defaults_for(step(Work(kind=WorkKind.DECAL))) is WORK[WorkKind.DECAL]


def test_what_is_sprayed() -> None:
    assert is_sprayed(step(Primer(mix_id="m")))
    assert is_sprayed(step(Spray(mix_id="m")))
    assert is_sprayed(step(Coat(mix_id="m", technique=Technique.AIRBRUSH)))
    assert not is_sprayed(step(Coat(mix_id="m")))
    varnish = step(Work(kind=WorkKind.VARNISH))
    assert not is_sprayed(varnish)
    assert is_sprayed(replace(varnish, layer=Work(kind=WorkKind.VARNISH, sprayed=True)))
