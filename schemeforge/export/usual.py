"""What to watch at each way of working, where the painter has written nothing of their own.

Common practice, no source. The painter's own words for a step always come first.
"""

from dataclasses import dataclass

from schemeforge.scheme import Coat, Primer, Spray, Step, Technique, Work, WorkKind


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """What right looks like, what wrong looks like with its cure, and when to stop; "" if none."""

    look_for: str = ""
    cure: str = ""
    stop: str = ""


_HALF_DRY = "Half-dry paint: leave it alone until it is dry."
_HUMID = "Above 55 % humidity: do not spray."

_PRIMER = Advice(
    look_for="A thin, even, fully dull skin; detail stays sharp.",
    cure="Rough or dusty: too far away or too dry; rub down lightly, spray nearer. "
    "Runs: let dry, rub down, spray thinner.",
    stop=_HUMID,
)
_SPRAY = Advice(
    look_for="From above, edges brighter than feels right; dark stays under overhangs.",
    cure="Chalky or grainy: too dry or too far away; thin more, go nearer. "
    "Too pale below: tip the model back upright and spray from higher up.",
    stop=_HUMID,
)
_COATS = {
    Technique.BASE_COAT: Advice(
        look_for="Even cover after the second coat, no brush marks.",
        cure="Streaks: thin more and lay another coat when dry.",
        stop=_HALF_DRY,
    ),
    Technique.LAYER: Advice(
        look_for="A soft step to the coat below, placed where light falls.",
        cure="Hard step: glaze over it with the coat below, thinned.",
        stop=_HALF_DRY,
    ),
    Technique.GLAZE: Advice(
        look_for="A thin, even tint; the brush leaves no bead behind.",
        cure="Pools in recesses: lift them at once with a damp brush.",
        stop=_HALF_DRY,
    ),
    Technique.FEATHERED_GLAZE: Advice(
        look_for="The edge fades out to nothing, no line where it ends.",
        cure="A line dries in: soften it with a thinner pass that reaches further.",
        stop=_HALF_DRY,
    ),
    Technique.WASH: Advice(
        look_for="Colour runs into recesses; raised edges stay clean.",
        cure="Pools and rings: wick them up while wet; once dry, glaze the panel even.",
        stop=_HALF_DRY,
    ),
    Technique.FILTER: Advice(
        look_for="A hardly seen shift of hue all over, no pools.",
        cure="Rings: brush out while wet; once dry, another weak pass all over.",
        stop=_HALF_DRY,
    ),
    Technique.STAIN: Advice(
        look_for="Flows off edges and settles in recesses by itself.",
        cure="Blotches on flat panels: keep them moving, wick up the excess.",
        stop=_HALF_DRY,
    ),
    Technique.DRY_BRUSH: Advice(
        look_for="Only raised edges catch; test on a cloth first.",
        cure="Dusty: the brush was too loaded; wash the recess colour back in.",
    ),
    Technique.EDGE_HIGHLIGHT: Advice(
        look_for="A thin line on the sharpest edge only.",
        cure="Too broad: cut it back with the colour below.",
    ),
    Technique.AIRBRUSH: Advice(
        look_for="Wet sheen for a moment, dry within a minute, pass by pass.",
        cure="Spider legs: too thin or too near. Dusty: too far away or too dry.",
        stop=_HUMID,
    ),
}
_WORK = {
    WorkKind.CLEANING: Advice(look_for="No mould lines; every model on its handle."),
    WorkKind.METALLIC: Advice(look_for="Even shine; stir often, flakes settle."),
    WorkKind.TEXTURE: Advice(look_for="Feet stand in it, not on it; rim kept clean."),
    WorkKind.DECAL: Advice(
        look_for="Flat, no silver edge.", cure="Air below: prick it and wet it again."
    ),
    WorkKind.VARNISH: Advice(
        look_for="One model first, judged dry, then all.",
        cure="White bloom: too damp or too thick; stop and wait for dry air.",
        stop=_HUMID,
    ),
}


def advice_for(step: Step) -> Advice:
    """What to look for, the cure and the stop rule: the painter's words, else the usual ones."""
    usual = _usual(step)
    return Advice(
        look_for=step.look_for or usual.look_for, cure=step.cure or usual.cure, stop=usual.stop
    )


def _usual(step: Step) -> Advice:
    layer = step.layer
    if isinstance(layer, Primer):
        return _PRIMER
    if isinstance(layer, Spray):
        return _SPRAY
    if isinstance(layer, Coat):
        return _COATS[layer.technique]
    advice = _WORK.get(layer.kind, Advice())
    return advice if _can_stop(layer) else Advice(look_for=advice.look_for, cure=advice.cure)


def _can_stop(work: Work) -> bool:
    """Humidity only stops what is sprayed."""
    return work.sprayed
