"""The batch as work: steps in order, pots to mix, paint to buy, minutes at the desk."""

from schemeforge.plan.cautions import DEFER, Caution, cautions_for, safety_line
from schemeforge.plan.drops import DropShare, DropWarning, smallest_drop_share, whole_drops
from schemeforge.plan.letters import pot_letters
from schemeforge.plan.needs import PaintNeed, paint_needs
from schemeforge.plan.sessions import HandsOn, hands_on, sitting_hours, total_minutes
from schemeforge.plan.steps import PlannedStep, planned_steps, sub_batches
from schemeforge.plan.tools import SprayHint, spray_hint, tool_words
from schemeforge.plan.volumes import (
    Amount,
    Pot,
    drop_warnings,
    film_ml,
    film_um,
    pots,
    topping_up,
)
from schemeforge.plan.who import Receiver, grid, receivers, who_words

__all__ = [
    "DEFER",
    "Amount",
    "Caution",
    "DropShare",
    "DropWarning",
    "HandsOn",
    "PaintNeed",
    "PlannedStep",
    "Pot",
    "Receiver",
    "SprayHint",
    "cautions_for",
    "drop_warnings",
    "film_ml",
    "film_um",
    "grid",
    "hands_on",
    "paint_needs",
    "planned_steps",
    "pot_letters",
    "pots",
    "receivers",
    "safety_line",
    "sitting_hours",
    "smallest_drop_share",
    "spray_hint",
    "sub_batches",
    "tool_words",
    "topping_up",
    "total_minutes",
    "who_words",
    "whole_drops",
]
