"""A plan for machines; ``assets/plan.schema.json`` describes it.

The version rises when a field changes its meaning or goes away; new fields may come without
notice.
"""

import json
from typing import Any

from schemeforge.cli.planning import Planning
from schemeforge.plan import (
    GroupFinish,
    Lever,
    Overfull,
    PaintNeed,
    PotState,
    SittingPlan,
    Stretch,
    zone_order,
)

FORMAT = "schemeforge plan"
VERSION = 1
_DIGITS = 3


def as_json(made: Planning) -> str:
    """The plan as JSON text. Minutes within a sitting count from its start."""
    return json.dumps(_tree(made), ensure_ascii=False, allow_nan=False, indent=1)


def _tree(made: Planning) -> dict[str, Any]:
    plan, spread = made.plan, made.spread
    chances = {chance.group.id: chance for chance in spread.chances}
    return {
        "format": FORMAT,
        "version": VERSION,
        "project": {"id": made.project.id, "name": made.project.name},
        "scheme": {"id": made.scheme.id, "name": made.scheme.name},
        "late": plan.is_late,
        "summary": plan.sentence,
        "hands": plan.hands,
        "models": plan.models,
        "minutes": {
            "worked": _round(plan.worked),
            "waited": _round(plan.waited),
            "spare": _round(plan.spare),
            "beyond": _round(plan.beyond),
        },
        "chance_all_in_time": _round(spread.all_in_time),
        "runs": spread.runs,
        "drivers": [
            {"step": d.step_id, "share": _round(d.share), "minutes": _round(d.minutes)}
            for d in spread.drivers
        ],
        "sittings": [_sitting(sitting) for sitting in plan.sittings],
        "groups": [
            _group(f, chances[f.group.id].in_time if f.group.id in chances else None)
            for f in plan.groups
        ],
        "overfull": [_overfull(overfull) for overfull in plan.overfull],
        "pots": [_pot(state) for state in made.pots],
        "paints": [_paint(need) for need in made.needs],
        "levers": [_lever(lever) for lever in made.levers],
        "sub_batches": [
            {"models": t.models, "lost_minutes": _round(t.lost), "late": t.is_late}
            for t in made.trials
        ],
        "zone_order": list(zone_order(made.project, plan)),
        "cautions": [caution.value for caution in made.cautions],
    }


def _sitting(sitting: SittingPlan) -> dict[str, Any]:
    return {
        "number": sitting.number,
        "id": None if sitting.sitting is None else sitting.sitting.id,
        "day": None if sitting.day is None else sitting.day.isoformat(),
        "minutes": _round(sitting.minutes),
        "laying_out": _round(sitting.laying_out),
        "worked": _round(sitting.worked),
        "waited": _round(sitting.waited),
        "spare": _round(sitting.spare),
        "stretches": [_stretch(stretch) for stretch in sitting.stretches],
    }


def _stretch(stretch: Stretch) -> dict[str, Any]:
    return {
        "step": stretch.step.id,
        "pass": stretch.layer_pass,
        "hands": stretch.hands + 1,
        "begin": _round(stretch.begin),
        "start": _round(stretch.start),
        "end": _round(stretch.end),
        "set_up": _round(stretch.set_up_minutes),
        "wait": _round(stretch.wait_minutes),
        "breaks": [[_round(begin), _round(end)] for begin, end in stretch.breaks],
        "dries": _round(stretch.dry_after),
        "mix": stretch.mix_id or None,
        "models": [
            {"group": part.group.id, "first": part.first + 1, "count": _round(part.models)}
            for part in stretch.models
        ],
    }


def _group(finish: GroupFinish, chance: float | None) -> dict[str, Any]:
    return {
        "id": finish.group.id,
        "sitting": finish.sitting or None,
        "ready": None if finish.ready_day is None else finish.ready_day.isoformat(),
        "late_days": finish.late_days,
        "late": finish.is_late,
        "chance": _round(chance),
    }


def _overfull(overfull: Overfull) -> dict[str, Any]:
    return {
        "sitting": overfull.sitting.id,
        "pinned_minutes": _round(overfull.pinned_minutes),
        "over_minutes": _round(overfull.over_minutes),
        "spills": [
            {
                "step": spill.step.id,
                "models": _round(spill.models),
                "minutes": _round(spill.minutes),
                "sittings": list(spill.sittings),
            }
            for spill in overfull.spills
        ],
        "sentence": overfull.sentence,
    }


def _pot(state: PotState) -> dict[str, Any]:
    return {
        "letter": state.pot.letter,
        "mix": state.pot.mix.id,
        "steps": list(state.pot.step_ids),
        "ml": _round(state.pot.ml),
        "grams": _round(state.pot.grams),
        "drops": _round(state.pot.drops),
        "brush_loads": _round(state.pot.brush_loads),
        "needed_ml": _round(state.needed_ml),
        "left_ml": _round(state.left_ml),
        "short_ml": _round(state.short_ml),
        "models_left": state.models_left,
    }


def _paint(need: PaintNeed) -> dict[str, Any]:
    return {
        "id": need.paint_id,
        "name": need.name,
        "pots": list(need.pots),
        "needed_ml": _round(need.needed_ml),
        "left_ml": _round(need.left_ml),
        "short_ml": _round(need.short_ml),
        "bottles_to_buy": need.bottles_to_buy,
    }


def _lever(lever: Lever) -> dict[str, Any]:
    return {
        "key": lever.key,
        "kind": lever.kind.value,
        "title": lever.title,
        "loses": lever.loses,
        "saved_minutes": _round(lever.saved_minutes),
        "seen_delta_e": None if lever.seen is None else _round(lever.seen.delta_e),
        "seen_per_hour": _round(lever.seen_per_hour),
    }


def _round(value: float | None) -> float | None:
    return None if value is None else round(float(value), _DIGITS)
