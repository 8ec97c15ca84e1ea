"""The Drowned Bell: dusk under a violet sky, bone plates, a lantern that burns the wrong colour."""

from assets.scripts.demo import parts
from assets.scripts.demo.parts import catches, coat, pools, pot, towards_root, towards_tip
from schemeforge.scheme import Mix, Scheme, Share, ShareKind, Step, Technique, Work, WorkKind

NOTE = (
    "Dusk, and a bell somewhere under the water. Violet feathers that end in night blue, plates "
    "bleached like bone, wine-dark cloaks, and a lantern of marsh light, green below and cold "
    "blue above. Sprayed from a can, so the shade is grainy: that suits it."
)


def scheme() -> Scheme:
    """The candidate."""
    primer_pot, primer = parts.priming()
    light_pot, light = parts.spraying(
        "off-white from above, coarse can",
        peak_um=60.0,
        droplet_um=16.0,
        white=2,
        water=1,
        words="A grainy fade, like frost; two short passes from straight above, no more.",
    )
    return Scheme(
        id="drowned-bell",
        name="The Drowned Bell",
        note=NOTE,
        mixes=(primer_pot, light_pot, *_mixes()),
        steps=(parts.cleaning(), primer, light, *_figure(), *_lantern(), *_ground(), *_ends()),
        shares=_shares(),
    )


def _mixes() -> tuple[Mix, ...]:
    return (
        pot("gloaming-pot", "gloaming", violet_wash=3, blue_black_wash=2, matt_medium=3, water=4),
        pot("dusk-pot", "dusk feathers", dusk_violet=1, glaze_medium=9, water=3),
        pot("night-pot", "night tips", indigo_ink=2, deep_water_blue=1, glaze_medium=14, water=3),
        pot("old-bone-pot", "old bone", amber=1, sepia_wash=2, glaze_medium=12, water=4),
        pot(
            "crack-pot",
            "crack wash",
            "The general wash mix: three wash, three medium, four water.",
            sepia_wash=3,
            matt_medium=3,
            water=4,
        ),
        pot("wine-pot", "drowned wine", dark_wine=1, glaze_medium=7, water=2),
        pot("tide-pot", "tide line", violet_wash=5, blue_black_wash=4, glaze_medium=2),
        pot("marsh-light-pot", "marsh light", green_gold=1, kingcup_yellow=1, glaze_medium=6, water=1),
        pot("cold-fire-pot", "cold fire", dark_teal_ink=1, deep_water_blue=1, glaze_medium=5),
        pot("bone-pot", "bone highlight", bone_white=4, water=1),
        pot("silt-pot", "blue silt", sepia_wash=2, blue_black_wash=2, matt_medium=3, water=4),
        pot("rim-pot", "rim black", soot_black=4, indigo_ink=1, water=1),
    )


def _figure() -> tuple[Step, ...]:
    return (
        coat(
            "gloaming",
            "wash feathers and cloak",
            "gloaming-pot",
            Technique.WASH,
            "hide",
            "cloak",
            wet_um=120.0,
            relief=pools(0.95, 0.35),
            words=("", "", ""),
        ),
        coat(
            "dusk",
            "dusk over the feathers",
            "dusk-pot",
            Technique.GLAZE,
            "hide",
            wet_um=25.0,
            words=("Violet that the light still shines through.", "", "Plates."),
        ),
        coat(
            "night",
            "night blue to the tips",
            "night-pot",
            Technique.FEATHERED_GLAZE,
            "hide",
            wet_um=25.0,
            passes=1,
            along=towards_tip(0.2, 0.7),
            words=("Violet breast, blue tips.", "", "Breast and crown."),
        ),
        coat(
            "old-bone",
            "tint the plates",
            "old-bone-pot",
            Technique.GLAZE,
            "plates",
            wet_um=25.0,
            words=("Old bone, not yellow paint.", "", "Feathers."),
        ),
        coat(
            "cracks",
            "wash into plate joints",
            "crack-pot",
            Technique.WASH,
            "plates",
            wet_um=70.0,
            relief=pools(0.96, 0.3),
            words=("Brown in the joints, the faces of the plates clean.", "", ""),
        ),
        coat(
            "wine",
            "wine over the cloak",
            "wine-pot",
            Technique.GLAZE,
            "cloak",
            wet_um=30.0,
            words=("", "", ""),
        ),
        coat(
            "tide",
            "tide line at the hem",
            "tide-pot",
            Technique.FEATHERED_GLAZE,
            "cloak",
            wet_um=40.0,
            along=towards_tip(0.4, 0.5),
            words=("", "", ""),
        ),
    )


def _lantern() -> tuple[Step, ...]:
    return (
        coat(
            "marsh-light",
            "marsh light in the horn",
            "marsh-light-pot",
            Technique.GLAZE,
            "lantern",
            wet_um=25.0,
            words=("", "", "The frame."),
        ),
        coat(
            "cold-fire",
            "cold fire to the crown",
            "cold-fire-pot",
            Technique.FEATHERED_GLAZE,
            "lantern",
            wet_um=20.0,
            along=towards_tip(0.25, 0.7),
            words=("", "", "The foot of the pane."),
        ),
    )


def _ground() -> tuple[Step, ...]:
    return (
        coat(
            "silt",
            "stain the mud",
            "silt-pot",
            Technique.STAIN,
            "base",
            wet_um=90.0,
            relief=pools(0.6, 0.4),
            words=("", "", ""),
        ),
        parts.rim_coat("rim-pot"),
    )


def _ends() -> tuple[Step, ...]:
    return (parts.metal("Cold pewter."), parts.bills(), parts.varnishing("sprayed"))


def _shares() -> tuple[Share, ...]:
    return (
        Share(group_id="captains", zone_id="lantern", kind=ShareKind.NONE),
        Share(group_id="wardens", zone_id="lantern", kind=ShareKind.NONE),
    )
