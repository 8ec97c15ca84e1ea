"""Recipes from a target, and what stands in for a paint that is not there.

`ranking` answers the painter: the best different recipes for a `Request`, in order, each with why;
`reach` says what holds a target back; `swaps`, `mix_request`, `remix` and `without_airbrush` help
out where a paint, a pot or the airbrush is not there. Whatever takes long has ``go_on``: told the
share done, 0 to 1, it returns False to stop, and the result is then None.
"""

from schemeforge.recipe.bed import Bed, look_for, plain_bed, zone_bed
from schemeforge.recipe.funnel import NORMAL, Effort, GoOn
from schemeforge.recipe.laying import Laying
from schemeforge.recipe.no_airbrush import Brushed, brushed_scheme, without_airbrush
from schemeforge.recipe.ramp import RAMP, paint_target, resampled, zone_target
from schemeforge.recipe.ranking import Ranked, Ranking, ranking
from schemeforge.recipe.reach import UNREACHED, Cause, Reach, reach
from schemeforge.recipe.recipe import Part, Recipe, RecipeCoat
from schemeforge.recipe.remix import Remix, Shortage, remix, shortages
from schemeforge.recipe.request import LAYERED, SINGLE, Request
from schemeforge.recipe.saying import Saying, coat_words, recipe_words
from schemeforge.recipe.solver import Found, search
from schemeforge.recipe.sturdiness import LIGHTS, Sturdiness, sturdiness
from schemeforge.recipe.substitutes import Swap, Use, mix_request, swaps, with_mix
from schemeforge.recipe.target import (
    Target,
    UnderLight,
    chip_target,
    colour_target,
    screen_target,
    typed_target,
)

__all__ = [
    "LAYERED",
    "LIGHTS",
    "NORMAL",
    "RAMP",
    "SINGLE",
    "UNREACHED",
    "Bed",
    "Brushed",
    "Cause",
    "Effort",
    "Found",
    "GoOn",
    "Laying",
    "Part",
    "Ranked",
    "Ranking",
    "Reach",
    "Recipe",
    "RecipeCoat",
    "Remix",
    "Request",
    "Saying",
    "Shortage",
    "Sturdiness",
    "Swap",
    "Target",
    "UnderLight",
    "Use",
    "brushed_scheme",
    "chip_target",
    "coat_words",
    "colour_target",
    "look_for",
    "mix_request",
    "paint_target",
    "plain_bed",
    "ranking",
    "reach",
    "recipe_words",
    "remix",
    "resampled",
    "screen_target",
    "search",
    "shortages",
    "sturdiness",
    "swaps",
    "typed_target",
    "with_mix",
    "without_airbrush",
    "zone_bed",
    "zone_target",
]
