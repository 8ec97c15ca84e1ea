"""The Drowned Bell: dusk under a violet sky, bone plates, a lantern of the wrong colour."""

from assets.scripts.demo import parts
from assets.scripts.demo.parts import catches, coat, pools, pot, towards_root, towards_tip
from schemeforge.scheme import Mix, Scheme, Share, ShareKind, Step, Technique

NOTE = (
    "Dusk, and a bell somewhere under the water. Violet feathers that end in night blue, plates "
    "bleached like bone, wine-dark cloaks, and a lantern of marsh light, yellow-green below and "
    "cold blue above. Sprayed from a can, so the shade is grainy, which suits it. The darkest of "
    "the three: the plates carry it across the table."
)


def scheme() -> Scheme:
    """The candidate."""
    primer_pot, primer = parts.priming()
    light_pot, light = parts.spraying(
        "off-white from above, coarse can",
        peak_um=64.0,
        droplet_um=16.0,
        white=2,
        water=1,
        words="A grainy fade like frost: two short passes from straight above, no more.",
    )
    return Scheme(
        id="drowned-bell",
        name="The Drowned Bell",
        note=NOTE,
        mixes=(primer_pot, light_pot, *_mixes()),
        steps=(
            parts.cleaning(),
            primer,
            light,
            *_feathers(),
            *_plates(),
            *_cloak(),
            *_lantern(),
            *_ground(),
            parts.metal("Cold pewter, a touch of rust in the hinges."),
            parts.bills(),
            parts.varnishing("sprayed"),
        ),
        shares=_shares(),
    )


def _mixes() -> tuple[Mix, ...]:
    return (
        pot(
            "gloaming-pot",
            "gloaming",
            "The general wash mix, two washes in one: feathers and cloak from one pot.",
            violet_wash=7,
            blue_black_wash=2,
            matt_medium=6,
            water=8,
        ),
        pot("dusk-pot", "dusk feathers", dusk_violet=1, glaze_medium=7, water=3),
        pot("night-pot", "night tips", indigo_ink=4, blue_black_wash=8, glaze_medium=13, water=4),
        pot("old-bone-pot", "old bone", amber=1, sepia_wash=2, glaze_medium=6, water=2),
        pot(
            "crack-pot",
            "joint wash",
            "The general wash mix: three of wash, three of medium, four of water.",
            sepia_wash=3,
            matt_medium=3,
            water=4,
        ),
        pot("wine-pot", "drowned wine", dark_wine=2, poppy_red=4, glaze_medium=24, water=6),
        pot("tide-pot", "tide line", indigo_ink=2, violet_wash=5, glaze_medium=9, water=2),
        pot("marsh-pot", "marsh light", green_gold=1, kingcup_yellow=2, glaze_medium=9, water=2),
        pot("cold-fire-pot", "cold fire", deep_water_blue=5, dark_teal_ink=2, glaze_medium=18),
        pot(
            "moon-pot",
            "moon highlight",
            "One pot for plate edges and reeds.",
            chalk_white=3,
            bone_white=1,
            water=1,
        ),
        pot("rust-pot", "rust run", rust_wash=6, rust_orange=1, glaze_medium=8, water=3),
        pot("silt-pot", "pale silt", sepia_wash=2, blue_black_wash=2, matt_medium=4, water=4),
        pot("rim-pot", "rim black", soot_black=4, indigo_ink=1, water=1),
    )


def _feathers() -> tuple[Step, ...]:
    return (
        coat(
            "gloaming",
            "wash feathers and cloak",
            "gloaming-pot",
            Technique.WASH,
            "hide",
            "cloak",
            wet_um=170.0,
            relief=pools(0.99, 0.36),
            words=(
                "Violet-black in every hollow; crests as pale as they were.",
                "Pools at the hem: turn the figure on its head for a minute and wick them.",
                "Plates: bone shows every stain.",
            ),
        ),
        coat(
            "dusk",
            "dusk over the feathers",
            "dusk-pot",
            Technique.GLAZE,
            "hide",
            wet_um=25.0,
            words=(
                "Violet that the undercoat still shines through.",
                "Inky: wipe the brush before you touch the figure, and add medium.",
                "Plates.",
            ),
        ),
        coat(
            "night",
            "night blue to the tips",
            "night-pot",
            Technique.FEATHERED_GLAZE,
            "hide",
            wet_um=25.0,
            along=towards_tip(0.25, 0.7),
            words=(
                "Violet at the breast, night at the tips.",
                "Tips all black: one pass too many; dry brush a few feathers from the moon pot.",
                "Breast and crown.",
            ),
        ),
    )


def _plates() -> tuple[Step, ...]:
    return (
        coat(
            "old-bone",
            "age the plates",
            "old-bone-pot",
            Technique.GLAZE,
            "plates",
            wet_um=15.0,
            words=(
                "Old bone, not yellow paint.",
                "Streaks: brush along the plate, never back into it.",
                "Feathers.",
            ),
        ),
        coat(
            "joints",
            "wash the plate joints",
            "crack-pot",
            Technique.WASH,
            "plates",
            wet_um=48.0,
            relief=pools(0.97, 0.28),
            words=(
                "Brown in the joints, faces of the plates clean.",
                "A ring on a plate: wet it again at once and lift it, or glaze bone over it dry.",
                "The middle of each plate.",
            ),
        ),
        coat(
            "rust-runs",
            "rust below the rivets",
            "rust-pot",
            Technique.FEATHERED_GLAZE,
            "plates",
            wet_um=25.0,
            along=towards_tip(0.45, 0.5),
            words=(
                "A stain that hangs from the rivets and fades before the upper edge.",
                "Orange plates: too much; glaze old bone back over them.",
                "Upper edges.",
            ),
            by_name_only=True,
        ),
        coat(
            "moon-edges",
            "edge the plates",
            "moon-pot",
            Technique.EDGE_HIGHLIGHT,
            "plates",
            wet_um=1.5,
            relief=catches(1.0, 0.05),
            words=(
                "A thread of white where the moon would touch first.",
                "Too wide: take it back from the side with old bone.",
                "Lower edges.",
            ),
        ),
    )


def _cloak() -> tuple[Step, ...]:
    return (
        coat(
            "moon-reeds",
            "dry brush the reeds",
            "moon-pot",
            Technique.DRY_BRUSH,
            "cloak",
            wet_um=2.0,
            relief=catches(1.0, 0.25),
            words=(
                "White threads on the reeds: the wine that follows will turn them to rose.",
                "Dust in the folds: the brush was too full; wash the folds once more.",
                "Plates and feathers.",
            ),
        ),
        coat(
            "wine",
            "wine over the cloak",
            "wine-pot",
            Technique.GLAZE,
            "cloak",
            wet_um=15.0,
            words=(
                "Like wine held to a window: red where it is thin, near black in the folds.",
                "Pink crests: the first pass was too thin; one more, no thicker.",
                "Plates.",
            ),
        ),
        coat(
            "tide",
            "tide line at the hem",
            "tide-pot",
            Technique.FEATHERED_GLAZE,
            "cloak",
            wet_um=25.0,
            relief=pools(0.6, 0.5),
            along=towards_tip(0.45, 0.5),
            words=(
                "The hem sinks into blue dusk; the red begins above the knee.",
                "A step in the fade: bridge it with a half-strength pass.",
                "Collar and shoulders.",
            ),
        ),
    )


def _lantern() -> tuple[Step, ...]:
    return (
        coat(
            "marsh-light",
            "marsh light from below",
            "marsh-pot",
            Technique.FEATHERED_GLAZE,
            "lantern",
            wet_um=25.0,
            along=towards_root(0.85, 0.65),
            words=(
                "Yellow-green at the foot, gone before the cap.",
                "Yellow all the way up: lift it from the crown with a damp brush.",
                "The frame.",
            ),
        ),
        coat(
            "cold-fire",
            "cold fire to the crown",
            "cold-fire-pot",
            Technique.FEATHERED_GLAZE,
            "lantern",
            wet_um=25.0,
            along=towards_tip(0.25, 0.75),
            words=(
                "Yellow-green, green, blue: three colours from two pots.",
                "No green between: let the two meet further down.",
                "The foot of the panes.",
            ),
        ),
    )


def _ground() -> tuple[Step, ...]:
    return (
        parts.texture("Smooth silt with a few shells; it is the palest thing after the plates."),
        coat(
            "silt",
            "stain the silt",
            "silt-pot",
            Technique.STAIN,
            "base",
            wet_um=80.0,
            relief=pools(0.6, 0.4),
            words=(
                "Grey without a colour of its own, so that the violet looks violet.",
                "Brown: the pot has settled; stir it and glaze once more.",
                "Feet and hem.",
            ),
        ),
        parts.rim_coat("rim-pot"),
    )


def _shares() -> tuple[Share, ...]:
    own = ("prime", "light", "old-bone", "joints", "rust-runs", "moon-edges")
    return (
        Share(group_id="captains", zone_id="plates", kind=ShareKind.OWN, step_ids=own),
        Share(group_id="wardens", zone_id="cloak", kind=ShareKind.SHORT, step_ids=("tide",)),
        *parts.only_lantern_bearers(),
    )
