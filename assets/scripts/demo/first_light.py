"""First Light on the Flats: a cold, pale dawn, dark wet lacquer, one warm lantern."""

from assets.scripts.demo import parts
from assets.scripts.demo.parts import catches, coat, pools, pot, towards_root, towards_tip
from schemeforge.scheme import Mix, Scheme, Share, ShareKind, Step, Technique

NOTE = (
    "A cold morning at half tide. Pale feathers that turn slate at the tips, lacquer like deep "
    "water, straw cloaks that have stood in it, and the lantern still burning. The calmest of "
    "the three. It leans on the undercoat: spray lighter than feels right."
)


def scheme() -> Scheme:
    """The candidate."""
    primer_pot, primer = parts.priming()
    light_pot, light = parts.spraying(
        "off-white from above, fine",
        peak_um=80.0,
        droplet_um=6.0,
        white=1,
        water=1,
        words="Crown and shoulders almost white, undersides black, a smooth fade between.",
    )
    return Scheme(
        id="first-light",
        name="First Light on the Flats",
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
            parts.metal("Dull bronze; one bright touch on each lantern frame."),
            parts.bills(),
            parts.varnishing("sprayed"),
        ),
        shares=_shares(),
    )


def _mixes() -> tuple[Mix, ...]:
    return (
        pot(
            "shade-pot",
            "morning shade",
            "The general wash mix: three of wash, three of medium, four of water.",
            blue_black_wash=3,
            matt_medium=3,
            water=4,
        ),
        pot("dawn-pot", "dawn on the breast", amber=3, mallow_rose=1, glaze_medium=14, water=5),
        pot("slate-pot", "slate tips", indigo_ink=4, blue_black_wash=9, glaze_medium=14, water=4),
        pot("blush-pot", "breast blush", mallow_rose=1, glaze_medium=9, water=4),
        pot("lacquer-pot", "deep lacquer", dark_teal_ink=6, indigo_ink=6, glaze_medium=1),
        pot(
            "straw-pot",
            "wet straw",
            "Two washes that carry the yellow; so greyed it keeps its colour under hall tubes.",
            amber=3,
            kingcup_yellow=1,
            sepia_wash=7,
            blue_black_wash=7,
        ),
        pot("hem-pot", "wet hem", rust_orange=1, sepia_wash=6, glaze_medium=5, water=2),
        pot("glass-pot", "lit horn", kingcup_yellow=2, amber=2, glaze_medium=9, water=4),
        pot("ember-pot", "ember", rust_orange=1, poppy_red=3, glaze_medium=9, water=2),
        pot(
            "bone-pot",
            "bone highlight",
            "One pot for plate edges, feathers and mud ripples.",
            chalk_white=2,
            bone_white=2,
            water=1,
        ),
        pot("mud-pot", "grey mud", blue_black_wash=4, sepia_wash=1, matt_medium=4, water=6),
        pot("rim-pot", "rim black", soot_black=4, indigo_ink=1, water=1),
    )


def _feathers() -> tuple[Step, ...]:
    return (
        coat(
            "shade",
            "wash the whole figure",
            "shade-pot",
            Technique.WASH,
            *parts.FIGURE,
            wet_um=35.0,
            relief=pools(0.9, 0.3),
            words=(
                "Dark lines between feathers and reeds; every crest still pale.",
                "A pool on a plate: draw it off with a clean damp brush while it is wet.",
                "The lantern panes.",
            ),
        ),
        coat(
            "dawn",
            "dawn on the breast",
            "dawn-pot",
            Technique.FEATHERED_GLAZE,
            "hide",
            wet_um=15.0,
            along=towards_root(0.6, 0.5),
            words=(
                "The inside of a shell: you see it only beside the grey.",
                "Orange: thin it again; this is the weakest pot on the table.",
                "Tips and back.",
            ),
        ),
        coat(
            "slate",
            "pull slate to the feather tips",
            "slate-pot",
            Technique.FEATHERED_GLAZE,
            "hide",
            wet_um=20.0,
            along=towards_tip(0.45, 0.55),
            words=(
                "Pale breast, slate tips, and no place where you could say it starts.",
                "A hard edge: draw it out with a damp brush, or let it dry and glaze across it.",
                "Breast and crown.",
            ),
        ),
        coat(
            "blush",
            "blush on the breast",
            "blush-pot",
            Technique.FEATHERED_GLAZE,
            "hide",
            wet_um=12.0,
            along=towards_root(0.4, 0.35),
            words=(
                "A warmth beside the cold that nobody notices until it is missing.",
                "Pink: too strong; wipe it back at once, then a weaker pass.",
                "Everything but the breast.",
            ),
            by_name_only=True,
        ),
        coat(
            "feather-light",
            "dry brush the feathers",
            "bone-pot",
            Technique.DRY_BRUSH,
            "hide",
            wet_um=2.8,
            relief=catches(1.0, 0.22),
            words=(
                "Only feather edges catch; the slate stays slate.",
                "Chalky: the brush was too full; wipe more off on the cloth.",
                "Plates.",
            ),
        ),
    )


def _plates() -> tuple[Step, ...]:
    return (
        coat(
            "lacquer",
            "lacquer the plates",
            "lacquer-pot",
            Technique.GLAZE,
            "plates",
            wet_um=40.0,
            passes=2,
            relief=pools(0.9, 0.45),
            words=(
                "Deep and even like a wet shell, lighter where the light was sprayed.",
                "A tide mark: let it dry, then go over the whole plate once more, thinner.",
                "Feathers beside the plates.",
            ),
        ),
        coat(
            "plate-edges",
            "edge the plates",
            "bone-pot",
            Technique.EDGE_HIGHLIGHT,
            "plates",
            wet_um=1.2,
            relief=catches(1.0, 0.05),
            words=(
                "A hair of bone along upper edges only.",
                "Too wide: take it back from the side with lacquer.",
                "Lower edges.",
            ),
        ),
    )


def _cloak() -> tuple[Step, ...]:
    return (
        coat(
            "straw",
            "straw over the cloak",
            "straw-pot",
            Technique.GLAZE,
            "cloak",
            wet_um=40.0,
            relief=pools(0.94, 0.4),
            words=(
                "Straw on every reed, darker only where the wash ran.",
                "Patchy: it dried as you went; take two or three reeds at a time.",
                "Plates.",
            ),
        ),
        coat(
            "hem",
            "soak the hem",
            "hem-pot",
            Technique.FEATHERED_GLAZE,
            "cloak",
            wet_um=30.0,
            along=towards_tip(0.45, 0.5),
            words=(
                "As if it had stood in the water: rust and brown from the knee down.",
                "A line across the cloak: stipple it apart with the tip of the brush.",
                "Collar and shoulders.",
            ),
        ),
    )


def _lantern() -> tuple[Step, ...]:
    return (
        coat(
            "glass",
            "light the horn",
            "glass-pot",
            Technique.GLAZE,
            "lantern",
            wet_um=25.0,
            words=(
                "Clear yellow, brightest where the undercoat is whitest.",
                "Yellow in the corners only: too much paint on the brush; wick it up.",
                "The frame.",
            ),
        ),
        coat(
            "ember",
            "embers to the crown",
            "ember-pot",
            Technique.FEATHERED_GLAZE,
            "lantern",
            wet_um=22.0,
            passes=2,
            along=towards_tip(0.15, 0.85),
            words=(
                "Yellow at the foot, orange half way, red under the cap.",
                "Muddy: the yellow was still wet; let it dry and begin again with yellow.",
                "The foot of the panes.",
            ),
        ),
    )


def _ground() -> tuple[Step, ...]:
    return (
        parts.texture("Ripples as the tide leaves them, not gravel."),
        coat(
            "mud",
            "stain the mud",
            "mud-pot",
            Technique.STAIN,
            "base",
            wet_um=46.0,
            relief=pools(0.6, 0.4),
            words=(
                "Cold grey, with a little of the sky in it; ripples still to be seen.",
                "Pale islands where it would not take: a second touch on those alone.",
                "Feet and hem.",
            ),
        ),
        coat(
            "ripples",
            "dry brush the ripples",
            "bone-pot",
            Technique.DRY_BRUSH,
            "base",
            wet_um=1.2,
            relief=catches(1.0, 0.15),
            words=(
                "The ripples catch, the hollows do not.",
                "Dusty: glaze it down with what is left of the mud.",
                "The rim.",
            ),
        ),
        parts.rim_coat("rim-pot"),
    )


def _shares() -> tuple[Share, ...]:
    own = ("prime", "light", "shade", "dawn", "slate", "blush", "feather-light")
    return (
        Share(group_id="captains", zone_id="hide", kind=ShareKind.OWN, step_ids=own),
        Share(group_id="wardens", zone_id="cloak", kind=ShareKind.SHORT, step_ids=("hem",)),
        *parts.only_lantern_bearers(),
    )
