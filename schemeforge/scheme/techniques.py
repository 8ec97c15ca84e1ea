"""Trade defaults of each technique: film, waits, minutes. All are starting values.

Ranges: brush coats 30 to 80 um wet, airbrush passes 10 to 40, flooded washes 100 to 200; thin
coats recoat after 20 to 30 minutes, glaze passes after 5 to 20, washes after 30, primer after
about 2 hours, off-white from the airbrush after 30 to 60 (common practice, no source; the
painter overwrites them).
"""

from dataclasses import dataclass

from schemeforge.scheme.steps import Coat, Primer, Spray, Step, Technique, Work, WorkKind


@dataclass(frozen=True, slots=True, kw_only=True)
class TradeDefaults:
    """Starting values for one way of working.

    Args:
        light_um: Wet film of one light pass, micrometres; 0 where no film is laid.
        normal_um: Of a normal pass.
        heavy_um: Of a heavy pass.
        wait_minutes: Drying before the next coat on that zone.
        minutes_per_model: Time at one model, one zone.
        set_up_minutes: Setting up and cleaning, once a sitting.
        sprayed: True where paint leaves a nozzle.
    """

    light_um: float
    normal_um: float
    heavy_um: float
    wait_minutes: float
    minutes_per_model: float
    set_up_minutes: float = 0.0
    sprayed: bool = False


def _brush(light: float, normal: float, heavy: float, wait: float, each: float) -> TradeDefaults:
    return TradeDefaults(
        light_um=light,
        normal_um=normal,
        heavy_um=heavy,
        wait_minutes=wait,
        minutes_per_model=each,
        set_up_minutes=5.0,
    )


TECHNIQUES = {
    Technique.BASE_COAT: _brush(35.0, 50.0, 75.0, 25.0, 1.0),
    Technique.LAYER: _brush(25.0, 35.0, 50.0, 20.0, 0.8),
    Technique.GLAZE: _brush(15.0, 25.0, 40.0, 15.0, 0.6),
    Technique.FEATHERED_GLAZE: _brush(15.0, 25.0, 40.0, 15.0, 1.0),
    Technique.WASH: _brush(100.0, 140.0, 200.0, 30.0, 1.5),
    Technique.FILTER: _brush(20.0, 35.0, 50.0, 20.0, 1.0),
    Technique.STAIN: _brush(50.0, 80.0, 120.0, 30.0, 1.0),
    Technique.DRY_BRUSH: _brush(4.0, 8.0, 14.0, 10.0, 0.5),
    Technique.EDGE_HIGHLIGHT: _brush(10.0, 18.0, 30.0, 10.0, 2.0),
    Technique.AIRBRUSH: TradeDefaults(
        light_um=10.0,
        normal_um=20.0,
        heavy_um=35.0,
        wait_minutes=20.0,
        minutes_per_model=0.4,
        set_up_minutes=15.0,
        sprayed=True,
    ),
}

PRIMER = TradeDefaults(
    light_um=60.0,
    normal_um=80.0,
    heavy_um=110.0,
    wait_minutes=120.0,
    minutes_per_model=0.4,
    set_up_minutes=15.0,
    sprayed=True,
)
SPRAY = TradeDefaults(
    light_um=20.0,
    normal_um=40.0,
    heavy_um=70.0,
    wait_minutes=45.0,
    minutes_per_model=0.4,
    set_up_minutes=15.0,
    sprayed=True,
)


def _work(wait: float, each: float, set_up: float = 5.0) -> TradeDefaults:
    return TradeDefaults(
        light_um=0.0,
        normal_um=0.0,
        heavy_um=0.0,
        wait_minutes=wait,
        minutes_per_model=each,
        set_up_minutes=set_up,
    )


WORK = {
    WorkKind.CLEANING: _work(0.0, 4.0),
    WorkKind.ASSEMBLY: _work(30.0, 3.0),
    WorkKind.TEXTURE: _work(240.0, 2.0),
    WorkKind.METALLIC: _work(20.0, 1.5),
    WorkKind.DETAIL: _work(10.0, 4.0),
    WorkKind.DECAL: _work(60.0, 3.0),
    WorkKind.VARNISH: _work(1440.0, 0.3, 10.0),
    WorkKind.OTHER: _work(10.0, 2.0),
}


def defaults_for(step: Step) -> TradeDefaults:
    """The trade's starting values for the way that step is done."""
    layer = step.layer
    if isinstance(layer, Coat):
        return TECHNIQUES[layer.technique]
    if isinstance(layer, Primer):
        return PRIMER
    if isinstance(layer, Spray):
        return SPRAY
    return WORK[layer.kind]


def is_sprayed(step: Step) -> bool:
    """True where the step puts paint or varnish into the air."""
    if isinstance(step.layer, Work):
        return step.layer.sprayed
    return defaults_for(step).sprayed


def heaviness_words(coat: Coat) -> str:
    """Light, normal or heavy: the nearest of the technique's three films on a log scale."""
    d = TECHNIQUES[coat.technique]
    if coat.wet_um <= (d.light_um * d.normal_um) ** 0.5:
        return "light"
    return "normal" if coat.wet_um <= (d.normal_um * d.heavy_um) ** 0.5 else "heavy"
