"""First Light on the Flats: a cold, pale dawn, dark wet lacquer, one warm lantern."""

from assets.scripts.demo import parts
from assets.scripts.demo.parts import catches, coat, pools, pot, towards_root, towards_tip
from schemeforge.scheme import Mix, Scheme, Share, ShareKind, Step, Technique, Work, WorkKind

NOTE = (
    "A cold morning, half tide. Pale feathers that go slate at the tips, lacquer like deep water, "
    "straw cloaks, and the lantern still burning. The calmest of the three; leans on the "
    "undercoat, so spray it lighter than feels right."
)


def scheme() -> Scheme:
    """The candidate."""
    primer_pot, primer = parts.priming()
    light_pot, light = parts.spraying(
        "off-white from above, fine",
        peak_um=45.0,
        droplet_um=6.0,
        white=1,
        water=1,
        words="Shoulders and crown almost white, undersides black, a smooth fade between.",
    )
    return Scheme(
        id="first-light",
        name="First Light on the Flats",
        note=NOTE,
        mixes=(primer_pot, light_pot, *_mixes()),
        steps=(parts.cleaning(), primer, light, *_figure(), *_lantern(), *_ground(), *_ends()),
        shares=_shares(),
    )


def _mixes() -> tuple[Mix, ...]:
    return (
        pot(
            "shade-pot",
            "morning shade",
            "The general wash mix: three wash, three medium, four water.",
            blue_black_wash=3,
            matt_medium=3,
            water=4,
        ),
        pot("feather-pot", "feather grey", clear_sky_blue=1, glaze_medium=12, water=5),
        pot("slate-pot", "slate tips", indigo_ink=1, blue_black_wash=10, glaze_medium=6),
        pot("blush-pot", "breast blush", mallow_rose=1, glaze_medium=8, water=3),
        pot("lacquer-pot", "deep lacquer", dark_teal_ink=3, indigo_ink=2, glaze_medium=6, water=1),
        pot("straw-pot", "cut straw", amber=2, glaze_medium=5, water=1),
        pot("hem-pot", "wet hem", rust_orange=1, sepia_wash=6, glaze_medium=6),
        pot("glass-pot", "lit horn", yolk_yellow=1, glaze_medium=4, water=1),
        pot("ember-pot", "ember", lantern_orange=2, poppy_red=1, glaze_medium=8, water=1),
        pot("bone-pot", "bone highlight", bone_white=4, water=1),
        pot("mud-pot", "grey mud", indigo_ink=1, blue_black_wash=24, matt_medium=10, water=10),
        pot("rim-pot", "rim black-brown", soot_black=4, indigo_ink=1, water=1),
    )


def _figure() -> tuple[Step, ...]:
    return (
        coat(
            "shade",
            "wash the whole figure",
            "shade-pot",
            Technique.WASH,
            *parts.FIGURE,
            wet_um=100.0,
            relief=pools(0.92, 0.3),
            words=(
                "Dark lines between feathers and reeds, crests still pale.",
                "A pool on a plate: wick it off with a clean damp brush while it is wet.",
                "The lantern panes.",
            ),
        ),
        coat(
            "feathers",
            "grey the feathers",
            "feather-pot",
            Technique.GLAZE,
            "hide",
            wet_um=25.0,
            words=(
                "A breath of grey-blue, the off-white still shines through.",
                "Chalky: too thick; add medium, one thin pass more is better than one thick one.",
                "Plates.",
            ),
        ),
        coat(
            "slate",
            "pull slate to the feather tips",
            "slate-pot",
            Technique.FEATHERED_GLAZE,
            "hide",
            wet_um=25.0,
            passes=1,
            along=towards_tip(0.25, 0.6),
            words=(
                "Breast pale, tips slate, no line where one becomes the other.",
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
            wet_um=25.0,
            along=towards_root(0.5, 0.4),
            words=("Warm only beside the cold: you notice it when it is missing.", "", ""),
            by_name_only=True,
        ),
        coat(
            "lacquer",
            "lacquer the plates",
            "lacquer-pot",
            Technique.GLAZE,
            "plates",
            wet_um=25.0,
            passes=1,
            words=(
                "Deep and even like a wet shell, lighter where the light was sprayed.",
                "A tide mark: wait until it is dry, then glaze the whole plate again, thinner.",
                "Feathers beside the plates.",
            ),
        ),
        coat(
            "plate-edges",
            "edge the plates",
            "bone-pot",
            Technique.EDGE_HIGHLIGHT,
            "plates",
            wet_um=2.0,
            relief=catches(1.0, 0.05),
            words=(
                "A hair of bone on upper edges only.",
                "Too wide: glaze the side of it back with lacquer.",
                "Lower edges.",
            ),
        ),
        coat(
            "straw",
            "straw over the cloak",
            "straw-pot",
            Technique.GLAZE,
            "cloak",
            wet_um=30.0,
            words=(
                "Straw on every reed, darker only by what the wash left.",
                "Patchy: it dried as you went; work reed by reed, two or three at a time.",
                "",
            ),
        ),
        coat(
            "hem",
            "soak the hem",
            "hem-pot",
            Technique.FEATHERED_GLAZE,
            "cloak",
            wet_um=40.0,
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
            words=("Clear yellow, brightest where the undercoat is whitest.", "", "The frame."),
        ),
        coat(
            "ember",
            "embers to the crown",
            "ember-pot",
            Technique.FEATHERED_GLAZE,
            "lantern",
            wet_um=25.0,
            passes=2,
            along=towards_tip(0.2, 0.75),
            words=(
                "Yellow at the foot, orange in the middle, red under the cap.",
                "Muddy: the yellow was still wet; let it dry and start again with the yellow.",
                "The foot of the pane.",
            ),
        ),
    )


def _ground() -> tuple[Step, ...]:
    return (
        Step(
            id="texture",
            name="mud texture",
            layer=Work(kind=WorkKind.TEXTURE),
            zone_ids=("base",),
            minutes_per_model=1.5,
            look_for="Ripples left by the tide, not gravel.",
            note="Use a paste that dries pale, or spray the base again after it.",
        ),
        coat(
            "mud",
            "stain the mud",
            "mud-pot",
            Technique.STAIN,
            "base",
            wet_um=90.0,
            relief=pools(0.6, 0.4),
            words=("Wet grey-brown, ripples still to be seen.", "", "Feet and hem."),
        ),
        coat(
            "mud-light",
            "dry brush the ripples",
            "bone-pot",
            Technique.DRY_BRUSH,
            "base",
            wet_um=2.5,
            relief=catches(1.0, 0.15),
            words=("Only the ripples catch.", "Dusty: glaze it back with what is left of the mud.", "Rim."),
        ),
        parts.rim_coat("rim-pot"),
    )


def _ends() -> tuple[Step, ...]:
    return (
        parts.metal("Dull bronze; one bright touch on each lantern frame."),
        parts.bills(),
        parts.varnishing("sprayed"),
    )


def _shares() -> tuple[Share, ...]:
    full_hide = ("prime", "light", "shade", "feathers", "slate", "blush")
    return (
        Share(group_id="captains", zone_id="hide", kind=ShareKind.OWN, step_ids=full_hide),
        Share(group_id="wardens", zone_id="cloak", kind=ShareKind.SHORT, step_ids=("hem",)),
        Share(group_id="wardens", zone_id="plates", kind=ShareKind.SHORT, step_ids=("plate-edges",)),
        Share(group_id="captains", zone_id="lantern", kind=ShareKind.NONE),
        Share(group_id="wardens", zone_id="lantern", kind=ShareKind.NONE),
    )
