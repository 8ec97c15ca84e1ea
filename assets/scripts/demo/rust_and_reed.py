"""Rust and Reed: late autumn, bittern brown, verdigris plates, a crimson lantern."""

from assets.scripts.demo import parts
from assets.scripts.demo.parts import catches, coat, pools, pot, towards_root, towards_tip
from schemeforge.scheme import Mix, Scheme, Share, ShareKind, Step, Technique, Work, WorkKind

NOTE = "Late autumn: bittern feathers, verdigris plates, sedge cloaks and a crimson-crowned lantern."


def scheme() -> Scheme:
    """The candidate."""
    primer_pot, primer = parts.priming()
    light_pot, light = parts.spraying(
        "off-white from above, bright",
        peak_um=70.0,
        droplet_um=6.0,
        white=1,
        water=1,
        words="",
    )
    return Scheme(
        id="rust-and-reed",
        name="Rust and Reed",
        note=NOTE,
        mixes=(primer_pot, light_pot, *_mixes()),
        steps=(parts.cleaning(), primer, light, *_figure(), *_lantern(), *_ground(), *_ends()),
        shares=_shares(),
    )


def _mixes() -> tuple[Mix, ...]:
    return (
        pot("warm-shade-pot", "peat shade", sepia_wash=3, matt_medium=3, water=4),
        pot("bittern-pot", "bittern ochre", amber=2, yolk_yellow=1, glaze_medium=16, water=3),
        pot("chestnut-pot", "chestnut tips", rust_orange=3, poppy_red=1, glaze_medium=8, water=1),
        pot("verdigris-pot", "verdigris", dark_teal_ink=1, clear_sky_blue=1, glaze_medium=14, water=2),
        pot("sedge-pot", "sedge cloak", sedge_green=1, green_black_wash=12, green_gold=2, sepia_wash=4, glaze_medium=6),
        pot("bracken-pot", "bracken hem", rust_orange=1, glaze_medium=3),
        pot("honey-pot", "honey horn", kingcup_yellow=1, yolk_yellow=1, glaze_medium=6, water=1),
        pot("crimson-pot", "crimson crown", mallow_rose=2, poppy_red=1, glaze_medium=4),
        pot("straw-light-pot", "straw highlight", bone_white=4, reed_ochre=1, water=1),
        pot("rim-pot", "rim brown-black", soot_black=2, peat_brown=1, water=1),
    )


def _figure() -> tuple[Step, ...]:
    return (
        coat("peat", "wash the whole figure", "warm-shade-pot", Technique.WASH, *parts.FIGURE, wet_um=90.0, relief=pools(0.95, 0.3)),
        coat("bittern", "ochre over the feathers", "bittern-pot", Technique.GLAZE, "hide", wet_um=25.0),
        coat("chestnut", "chestnut to the feather tips", "chestnut-pot", Technique.FEATHERED_GLAZE, "hide", wet_um=25.0, passes=1, along=towards_tip(0.25, 0.6)),
        coat("verdigris", "verdigris on the plates", "verdigris-pot", Technique.GLAZE, "plates", wet_um=25.0),
        coat("sedge", "sedge over the cloak", "sedge-pot", Technique.GLAZE, "cloak", wet_um=40.0),
        coat("bracken", "bracken at the hem", "bracken-pot", Technique.FEATHERED_GLAZE, "cloak", wet_um=25.0, along=towards_tip(0.5, 0.5)),
    )


def _lantern() -> tuple[Step, ...]:
    return (
        coat("honey", "honey in the horn", "honey-pot", Technique.GLAZE, "lantern", wet_um=25.0),
        coat("crimson", "crimson to the crown", "crimson-pot", Technique.FEATHERED_GLAZE, "lantern", wet_um=25.0, passes=2, along=towards_tip(0.45, 0.55)),
    )


def _ground() -> tuple[Step, ...]:
    return (
        coat("dried", "stain the mud", "warm-shade-pot", Technique.STAIN, "base", wet_um=50.0, relief=pools(0.6, 0.4)),
        parts.rim_coat("rim-pot"),
    )


def _ends() -> tuple[Step, ...]:
    return (parts.metal("Green-gold brass."), parts.bills(), parts.varnishing("brushed"))


def _shares() -> tuple[Share, ...]:
    return (
        Share(group_id="captains", zone_id="lantern", kind=ShareKind.NONE),
        Share(group_id="wardens", zone_id="lantern", kind=ShareKind.NONE),
    )
