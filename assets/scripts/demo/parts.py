"""Short ways to write the demo's steps, and the steps that its three schemes share."""

from typing import Literal

from schemeforge.paint import WATER_ID
from schemeforge.scheme import (
    AlongProfile,
    Coat,
    Ingredient,
    Mix,
    Placement,
    Primer,
    ReliefKind,
    ReliefProfile,
    Share,
    ShareKind,
    Spray,
    Step,
    Technique,
    Work,
    WorkKind,
)

ALL = ("hide", "plates", "cloak", "lantern", "base", "rim")
FIGURE = ("hide", "plates", "cloak")
LIT = ("hide", "plates", "cloak", "lantern", "base")

EVEN = ReliefProfile()


def pools(depth: float, reach: float) -> ReliefProfile:
    """A film that gathers in recesses."""
    return ReliefProfile(kind=ReliefKind.POOLS, depth=depth, reach=reach)


def catches(depth: float, reach: float) -> ReliefProfile:
    """A film that stays on raised edges."""
    return ReliefProfile(kind=ReliefKind.CATCHES, depth=depth, reach=reach)


def towards_tip(start: float, feather: float) -> AlongProfile:
    """From a place along the part to its tip, fading in."""
    return AlongProfile(start=start, feather_start=feather)


def towards_root(end: float, feather: float) -> AlongProfile:
    """From the root to a place along the part, fading out."""
    return AlongProfile(end=end, feather_end=feather)


def pot(pot_id: str, name: str, note: str = "", **parts: float) -> Mix:
    """A mix; keywords are starter paints with ``_`` for ``-``, and water."""
    return Mix(
        id=pot_id,
        name=name,
        note=note,
        ingredients=tuple(
            Ingredient(
                paint_id=WATER_ID if key == "water" else key.replace("_", "-"), parts=float(value)
            )
            for key, value in parts.items()
        ),
    )


def coat(
    step_id: str,
    name: str,
    mix_id: str,
    technique: Technique,
    *zones: str,
    wet_um: float,
    passes: int = 1,
    relief: ReliefProfile = EVEN,
    along: AlongProfile | None = None,
    words: tuple[str, str, str] = ("", "", ""),
    by_name_only: bool = False,
) -> Step:
    """A coat; ``words`` are what to look for, its cure, and what to keep out of."""
    look_for, cure, keep_out = words
    return Step(
        id=step_id,
        name=name,
        zone_ids=zones,
        layer=Coat(
            mix_id=mix_id,
            technique=technique,
            wet_um=wet_um,
            passes=passes,
            placement=Placement(relief=relief, along=along or AlongProfile()),
        ),
        look_for=look_for,
        cure=cure,
        keep_out=keep_out,
        by_name_only=by_name_only,
    )


def cleaning() -> Step:
    """Mould lines off, figures on handles."""
    return Step(
        id="clean",
        name="clean and mount",
        layer=Work(kind=WorkKind.CLEANING),
        minutes_per_model=3.0,
        look_for="No mould line catches a fingernail; each figure sits firmly on its handle.",
        cure="A line that still shows: scrape it now, a wash will only draw it darker.",
    )


def priming() -> tuple[Mix, Step]:
    """The pot and the step of the black primer."""
    return pot("primer-pot", "black primer, neat", black_primer=1), Step(
        id="prime",
        name="prime black",
        layer=Primer(mix_id="primer-pot"),
        zone_ids=ALL,
        look_for="Dull, even black, also under the cloak and behind the lantern.",
        cure="Shiny and wet: too close or too much; stop, let it dry, mist the bare spots later.",
    )


def spraying(
    name: str, *, peak_um: float, droplet_um: float, white: float, water: float, words: str
) -> tuple[Mix, Step]:
    """The pot and the step of the off-white from above."""
    made = pot("light-pot", "off-white for spraying", off_white=white, water=water)
    return made, Step(
        id="light",
        name=name,
        layer=Spray(mix_id="light-pot", peak_um=peak_um, droplet_um=droplet_um),
        zone_ids=LIT,
        keep_out="The undersides: spray from above only and let the black be the shadow.",
        look_for=words,
        cure="Chalky or rough: it dried in the air; come closer, thin it a little more.",
    )


def texture(words: str) -> Step:
    """Paste on the base: no predicted colour of its own."""
    return Step(
        id="texture",
        name="mud texture",
        layer=Work(kind=WorkKind.TEXTURE),
        zone_ids=("base",),
        minutes_per_model=1.0,
        look_for=words,
        cure="Paste on a foot: push it off with a damp brush before it sets.",
        keep_out="Feet and rim.",
        note="A paste that dries near white, or the predicted mud will be too dark.",
    )


def rim_coat(mix_id: str) -> Step:
    """The dark rim that ends the picture."""
    return coat(
        "rim",
        "paint the rim",
        mix_id,
        Technique.BASE_COAT,
        "rim",
        wet_um=50.0,
        passes=2,
        words=(
            "One calm dark line round every base, the same on all 36.",
            "Mud on the rim: wipe it with a damp finger before it dries, or paint over.",
            "The mud on top.",
        ),
    )


def metal(words: str) -> Step:
    """Metal parts: colour not predicted."""
    return Step(
        id="metal",
        name="hooks, buckles, lantern frames",
        layer=Work(kind=WorkKind.METALLIC),
        minutes_per_model=1.5,
        look_for=words,
        note="Metallic colour is not predicted: trust the painted chip.",
    )


def bills() -> Step:
    """The small things that make a face."""
    return Step(
        id="bill",
        name="bill, eye and shanks",
        layer=Work(kind=WorkKind.DETAIL),
        minutes_per_model=2.0,
        look_for="One pale stroke down the bill and a dot for the eye: read across the table.",
        cure="An eye gone wrong: black it out and dot it again when dry.",
    )


def varnishing(kind: Literal["brushed", "sprayed"]) -> Step:
    """Matt varnish over everything but the horn glass."""
    return Step(
        id="varnish",
        name="matt varnish",
        layer=Work(kind=WorkKind.VARNISH, sprayed=kind == "sprayed"),
        keep_out="The lantern panes: leave them as they are, or touch them up glossy at the end.",
        look_for="One model first, overnight; the rest only when that one has dried clear.",
        cure="Frosty haze: it was too damp or too thick; stop and wait for a dry day.",
    )


def only_lantern_bearers() -> tuple[Share, ...]:
    """Nobody else carries a lantern."""
    return tuple(
        Share(group_id=group, zone_id="lantern", kind=ShareKind.NONE)
        for group in ("captains", "wardens")
    )
