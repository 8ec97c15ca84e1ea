"""The Saltmarsh Wardens: the batch, the zones that all models share, and the painter's habits."""

from schemeforge.scheme import (
    AreaBasis,
    Build,
    Facing,
    Group,
    Habits,
    ModelSize,
    Sitting,
    Surfacing,
    Zone,
)

NOTE = (
    "Invented data for trying the program out: nobody has painted these models, the paints are "
    "typical and not measured, and areas, minutes and films are starting values.\n"
    "The Saltmarsh Wardens: thirty-six heron-headed guardians who walk the tidal marsh at low "
    "water, in lacquered plates and cloaks of cut reed, and see to it that what the sea took "
    "stays taken. Four carry lanterns of horn glass to light the others home."
)

SIZE = ModelSize(base_mm=32.0, build=Build.MEDIUM)

GROUPS = (
    Group(id="captains", name="captains", count=2, priority=1, note="Looked at closest."),
    Group(id="lanterns", name="lantern-bearers", count=4, priority=2),
    Group(id="wardens", name="wardens", count=30, priority=3, note="Seen in ranks."),
)

ZONES = (
    Zone(
        id="hide",
        name="feathered hide",
        area_basis=AreaBasis.BODY_SHARE,
        body_share=0.34,
        surfacing=Surfacing.TEXTURED,
        facing=Facing.UP,
        tone_range=(0.25, 1.0),
        touches=("plates", "cloak", "lantern"),
        along_words=("breast", "feather tips"),
    ),
    Zone(
        id="plates",
        name="lacquered plates",
        area_basis=AreaBasis.BODY_SHARE,
        body_share=0.24,
        surfacing=Surfacing.FLAT,
        facing=Facing.UP,
        tone_range=(0.2, 0.95),
        touches=("hide", "cloak"),
        along_words=("upper edge", "lower edge"),
    ),
    Zone(
        id="cloak",
        name="reed cloak",
        area_basis=AreaBasis.BODY_SHARE,
        body_share=0.34,
        surfacing=Surfacing.FOLDED,
        facing=Facing.SIDE,
        tone_range=(0.05, 0.9),
        touches=("hide", "plates", "base"),
        along_words=("collar", "hem"),
    ),
    Zone(
        id="lantern",
        name="horn-glass lantern",
        area_cm2=1.5,
        surfacing=Surfacing.FLAT,
        facing=Facing.UP,
        tone_range=(0.08, 1.0),
        touches=("hide",),
        along_words=("foot", "crown"),
    ),
    Zone(
        id="base",
        name="mud base",
        area_basis=AreaBasis.BASE_TOP,
        surfacing=Surfacing.TEXTURED,
        facing=Facing.UP,
        tone_range=(0.1, 0.8),
        touches=("cloak", "rim"),
        along_words=("under the feet", "edge"),
    ),
    Zone(
        id="rim",
        name="dark rim",
        area_basis=AreaBasis.RIM,
        surfacing=Surfacing.FLAT,
        facing=Facing.SIDE,
        touches=("base",),
        along_words=("bottom", "top"),
    ),
)

HABITS = Habits(waste=2.0, stays_in_pot_ml=1.0, overspray=0.5, sub_batch=6)

SITTINGS = (
    Sitting(id="sitting-1", minutes=240.0),
    Sitting(id="sitting-2", minutes=240.0),
    Sitting(id="sitting-3", minutes=240.0),
    Sitting(id="sitting-4", minutes=240.0),
)
