"""Rust and Reed: late autumn, bittern feathers, verdigris plates, a lantern like sunset."""

from assets.scripts.demo import parts
from assets.scripts.demo.parts import catches, coat, pools, pot, towards_root, towards_tip
from schemeforge.scheme import Mix, Scheme, Share, ShareKind, Step, Technique

NOTE = (
    "The last warm afternoon of the year. Ochre feathers that burn down to chestnut, plates gone "
    "green like old copper, cloaks of sedge with bracken at the hem, a lantern from honey to "
    "heather. The warmest and most varied of the three: told apart by hue more than by light, so "
    "look at it in the light that it will stand in. Wants the brightest spray."
)


def scheme() -> Scheme:
    """The candidate."""
    primer_pot, primer = parts.priming()
    light_pot, light = parts.spraying(
        "off-white from above, bright",
        peak_um=80.0,
        droplet_um=6.0,
        white=1,
        water=1,
        words="Three light passes; from the front barely any black but under the cloak.",
    )
    return Scheme(
        id="rust-and-reed",
        name="Rust and Reed",
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
            parts.metal("Warm brass, polished where hands would touch it."),
            parts.bills(),
            parts.varnishing("brushed"),
        ),
        shares=_shares(),
    )


def _mixes() -> tuple[Mix, ...]:
    return (
        pot(
            "peat-pot",
            "peat shade",
            "The general wash mix; one pot for the figures and for the ground.",
            sepia_wash=3,
            matt_medium=3,
            water=4,
        ),
        pot("bittern-pot", "bittern ochre", amber=2, yolk_yellow=1, glaze_medium=8, water=3),
        pot(
            "chestnut-pot",
            "chestnut",
            rust_orange=4,
            poppy_red=1,
            sepia_wash=4,
            glaze_medium=18,
            water=2,
        ),
        pot(
            "verdigris-pot",
            "verdigris",
            dark_teal_ink=4,
            green_black_wash=10,
            glaze_medium=20,
            water=6,
        ),
        pot("copper-pot", "bare copper", rust_orange=2, lantern_orange=1, glaze_medium=9, water=2),
        pot("sedge-pot", "sedge", sedge_green=2, green_gold=2, green_black_wash=20, sepia_wash=16),
        pot("bracken-pot", "bracken", rust_orange=2, rust_wash=6, glaze_medium=10, water=1),
        pot("honey-pot", "honey horn", kingcup_yellow=1, yolk_yellow=1, glaze_medium=8, water=2),
        pot("heather-pot", "heather", heather_magenta=2, mallow_rose=1, glaze_medium=9, water=2),
        pot("straw-light-pot", "straw highlight", bone_white=4, reed_ochre=1, water=1),
        pot("rim-pot", "rim black", soot_black=4, peat_brown=1, water=1),
    )


def _feathers() -> tuple[Step, ...]:
    return (
        coat(
            "peat",
            "wash feathers and cloak",
            "peat-pot",
            Technique.WASH,
            "hide",
            "cloak",
            wet_um=125.0,
            relief=pools(0.98, 0.36),
            words=(
                "Peat brown in the hollows; crests almost as white as before.",
                "Pools at the hem: turn the figure on its head for a minute and wick them.",
                "Plates: peat turns copper green to mud.",
            ),
        ),
        coat(
            "bittern",
            "ochre over the feathers",
            "bittern-pot",
            Technique.GLAZE,
            "hide",
            wet_um=15.0,
            words=(
                "Warm straw-gold all over, no white left, no brown yet.",
                "Lemon: more amber, less yellow.",
                "Plates.",
            ),
        ),
        coat(
            "chestnut",
            "chestnut to the feather tips",
            "chestnut-pot",
            Technique.FEATHERED_GLAZE,
            "hide",
            wet_um=25.0,
            relief=pools(0.5, 0.5),
            along=towards_tip(0.3, 0.6),
            words=(
                "Gold breast, chestnut tips, like a leaf that turns from the edge.",
                "Stripes: the brush was too wet; wipe it and pull along the feather.",
                "Breast and crown.",
            ),
        ),
    )


def _plates() -> tuple[Step, ...]:
    return (
        coat(
            "verdigris",
            "verdigris on the plates",
            "verdigris-pot",
            Technique.STAIN,
            "plates",
            wet_um=56.0,
            relief=pools(0.95, 0.42),
            words=(
                "Green like an old roof, deepest in the joints.",
                "Toy green: the undercoat was too thin there; a very thin coat of sepia calms it.",
                "Feathers.",
            ),
        ),
        coat(
            "copper",
            "bare copper at the lower edge",
            "copper-pot",
            Technique.FEATHERED_GLAZE,
            "plates",
            wet_um=20.0,
            along=towards_tip(0.7, 0.3),
            words=(
                "The green wears through to brown where a plate rubs on the next.",
                "Mud: the green was still wet; wait, then once more.",
                "Upper edges.",
            ),
            by_name_only=True,
        ),
        coat(
            "straw-edges",
            "edge the plates",
            "straw-light-pot",
            Technique.EDGE_HIGHLIGHT,
            "plates",
            wet_um=1.2,
            relief=catches(1.0, 0.05),
            words=(
                "A fine pale line along upper edges.",
                "Too wide: take it back from the side with verdigris.",
                "Lower edges.",
            ),
        ),
    )


def _cloak() -> tuple[Step, ...]:
    return (
        coat(
            "sedge",
            "sedge over the cloak",
            "sedge-pot",
            Technique.STAIN,
            "cloak",
            wet_um=75.0,
            relief=pools(0.8, 0.5),
            words=(
                "Dark olive, lighter along each reed.",
                "Bright as grass: it wants more sepia.",
                "Plates.",
            ),
        ),
        coat(
            "bracken",
            "bracken at the hem",
            "bracken-pot",
            Technique.FEATHERED_GLAZE,
            "cloak",
            wet_um=30.0,
            along=towards_tip(0.45, 0.55),
            words=(
                "Green shoulders, rust hem, brown where they meet.",
                "A line across the cloak: stipple it apart with the tip of the brush.",
                "Collar and shoulders.",
            ),
        ),
    )


def _lantern() -> tuple[Step, ...]:
    return (
        coat(
            "honey",
            "honey in the horn",
            "honey-pot",
            Technique.FEATHERED_GLAZE,
            "lantern",
            wet_um=25.0,
            along=towards_root(0.65, 0.55),
            words=(
                "Honey at the foot that thins out towards the cap.",
                "Yellow all the way up: lift it from the crown with a damp brush.",
                "The frame.",
            ),
        ),
        coat(
            "heather",
            "heather to the crown",
            "heather-pot",
            Technique.FEATHERED_GLAZE,
            "lantern",
            wet_um=25.0,
            along=towards_tip(0.1, 0.65),
            words=(
                "Honey, coral, heather: the sun going down in a hand's breadth.",
                "Red everywhere: the honey went too high; next time stop it lower.",
                "The foot of the panes.",
            ),
        ),
    )


def _ground() -> tuple[Step, ...]:
    return (
        parts.texture("Dry, cracked mud with a few cut stalks."),
        coat(
            "dried",
            "stain the dry mud",
            "peat-pot",
            Technique.STAIN,
            "base",
            wet_um=65.0,
            relief=pools(0.6, 0.4),
            words=(
                "Pale clay with dark cracks: what is left of the wash will do.",
                "Too dark: dry brush it with straw.",
                "Feet and hem.",
            ),
        ),
        parts.rim_coat("rim-pot"),
    )


def _shares() -> tuple[Share, ...]:
    own = ("prime", "light", "verdigris", "copper", "straw-edges")
    short = ("bracken",)
    return (
        Share(group_id="captains", zone_id="plates", kind=ShareKind.OWN, step_ids=own),
        Share(group_id="wardens", zone_id="cloak", kind=ShareKind.SHORT, step_ids=short),
        *parts.only_lantern_bearers(),
    )
