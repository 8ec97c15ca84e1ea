"""The batch as work: what is done when, with which pots, whether there is time, and what to cut."""

from schemeforge.plan.advice import Trial, best_trial, sub_batch_words, trials, zone_order
from schemeforge.plan.cautions import DEFER, Caution, cautions_for, safety_line
from schemeforge.plan.clock import ClockState, Moment, Press, Stint, Target, timings
from schemeforge.plan.clock_file import ClockFile, this_moment
from schemeforge.plan.drops import DropShare, DropWarning, smallest_drop_share, whole_drops
from schemeforge.plan.ical import calendar
from schemeforge.plan.letters import pot_letters
from schemeforge.plan.levers import Lever, LeverKind, levers, seen_by_lever, with_lever
from schemeforge.plan.needs import PaintNeed, paint_needs
from schemeforge.plan.pace import Pace, PaceBasis, paces
from schemeforge.plan.progress import NOTHING_DONE, Progress, progress
from schemeforge.plan.schedule import Schedule, schedule
from schemeforge.plan.seen_change import Seen, SeenChange
from schemeforge.plan.sessions import HandsOn, hands_on, sitting_hours, total_minutes
from schemeforge.plan.spread import Chance, Driver, Spread, chance_words, spread
from schemeforge.plan.standing import Drying, Standing, Todo, standing
from schemeforge.plan.steps import PlannedStep, planned_steps, sub_batches
from schemeforge.plan.timeline import (
    GroupFinish,
    GroupModels,
    Overfull,
    SittingPlan,
    Spill,
    Stretch,
)
from schemeforge.plan.tools import SprayHint, spray_hint, tool_words
from schemeforge.plan.usage import PotState, pot_states
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
    "NOTHING_DONE",
    "Amount",
    "Caution",
    "Chance",
    "ClockFile",
    "ClockState",
    "Driver",
    "DropShare",
    "DropWarning",
    "Drying",
    "GroupFinish",
    "GroupModels",
    "HandsOn",
    "Lever",
    "LeverKind",
    "Moment",
    "Overfull",
    "Pace",
    "PaceBasis",
    "PaintNeed",
    "PlannedStep",
    "Pot",
    "PotState",
    "Press",
    "Progress",
    "Receiver",
    "Schedule",
    "Seen",
    "SeenChange",
    "SittingPlan",
    "Spill",
    "SprayHint",
    "Spread",
    "Standing",
    "Stint",
    "Stretch",
    "Target",
    "Todo",
    "Trial",
    "best_trial",
    "calendar",
    "cautions_for",
    "chance_words",
    "drop_warnings",
    "film_ml",
    "film_um",
    "grid",
    "hands_on",
    "levers",
    "paces",
    "paint_needs",
    "planned_steps",
    "pot_letters",
    "pot_states",
    "pots",
    "progress",
    "receivers",
    "safety_line",
    "schedule",
    "seen_by_lever",
    "sitting_hours",
    "smallest_drop_share",
    "spray_hint",
    "spread",
    "standing",
    "sub_batch_words",
    "sub_batches",
    "this_moment",
    "timings",
    "tool_words",
    "topping_up",
    "total_minutes",
    "trials",
    "who_words",
    "whole_drops",
    "with_lever",
    "zone_order",
]
