"""Small valid documents for tests: synthetic paints, one scheme, one project.

Spectra are invented: smooth bumps whose strength is of the order of hobby paints (an opaque
coat hides at about 80 um wet, a glaze tints at 25 um). They stand for no product.
"""

import numpy as np

from schemeforge.optics import bands
from schemeforge.paint import WATER_ID, Basis, Paint, PaintKind, Stock, Uncertainty
from schemeforge.scheme.candidate import Scheme, Share, ShareKind
from schemeforge.scheme.evidence import CoatStrength, Evidence
from schemeforge.scheme.model import AreaBasis, Facing, Group, ModelSize, Surfacing, Zone
from schemeforge.scheme.placement import AlongProfile, Placement, ReliefKind, ReliefProfile
from schemeforge.scheme.project import Project
from schemeforge.scheme.settings import Sitting
from schemeforge.scheme.steps import (
    Coat,
    Ingredient,
    Mix,
    Primer,
    Spray,
    Step,
    Technique,
    Work,
    WorkKind,
)

TYPICAL = Uncertainty(level_k=0.2, level_s=0.2, shape_k=0.1, shape_s=0.1)


def bump(centre_nm: float, width_nm: float, height: float, floor: float = 0.0) -> tuple[float, ...]:
    """A Gaussian over the 36 bands on top of a floor."""
    distance = (bands.wavelengths_nm() - centre_nm) / width_nm
    values = floor + height * np.exp(-0.5 * distance**2)
    return tuple(float(value) for value in values)


def flat(value: float) -> tuple[float, ...]:
    """The same value in all 36 bands."""
    return (value,) * bands.COUNT


def synthetic_paint(
    paint_id: str,
    kind: PaintKind = PaintKind.TRANSLUCENT,
    *,
    absorption: tuple[float, ...] | None = None,
    scattering: tuple[float, ...] | None = None,
    volume_solids: float = 0.3,
    uncertainty: Uncertainty = TYPICAL,
) -> Paint:
    """A paint whose name is its id in words; a red of middling strength where not told."""
    return Paint(
        id=paint_id,
        name=paint_id.replace("-", " "),
        kind=kind,
        absorption=bump(530.0, 45.0, 0.06, 0.0005) if absorption is None else absorption,
        scattering=flat(0.004) if scattering is None else scattering,
        volume_solids=volume_solids,
        basis=Basis.TYPICAL,
        uncertainty=uncertainty,
        stock=Stock(bottle_ml=17.0, left_ml=12.0),
    )


def black_primer() -> Paint:
    """Opaque black."""
    return synthetic_paint(
        "black-primer", PaintKind.PRIMER, absorption=flat(0.6), scattering=flat(0.01)
    )


def off_white() -> Paint:
    """Opaque, slightly warm white."""
    return synthetic_paint(
        "off-white",
        PaintKind.OPAQUE,
        absorption=bump(380.0, 40.0, 0.004, 0.0002),
        scattering=flat(0.2),
        volume_solids=0.35,
    )


def brown_wash() -> Paint:
    """A brown that absorbs most in the blue."""
    return synthetic_paint(
        "brown-wash",
        PaintKind.WASH,
        absorption=bump(400.0, 110.0, 0.03, 0.002),
        scattering=flat(0.002),
        volume_solids=0.1,
    )


def red_glaze() -> Paint:
    """A red that absorbs in the green."""
    return synthetic_paint("red-glaze", PaintKind.TRANSLUCENT)


def clear_medium() -> Paint:
    """Nearly clear binder."""
    return synthetic_paint(
        "clear-medium",
        PaintKind.MEDIUM,
        absorption=flat(0.0),
        scattering=flat(0.0003),
        uncertainty=Uncertainty(),
    )


def small_paints() -> tuple[Paint, ...]:
    """The paints of ``small_project``."""
    return (black_primer(), off_white(), brown_wash(), red_glaze(), clear_medium())


def mix(mix_id: str, **parts: float) -> Mix:
    """A mix named by its id; keywords are paint ids with ``_`` for ``-``, and ``water``."""
    return Mix(
        id=mix_id,
        name=mix_id.replace("-", " "),
        ingredients=tuple(
            Ingredient(
                paint_id=WATER_ID if name == "water" else name.replace("_", "-"), parts=value
            )
            for name, value in parts.items()
        ),
    )


def coat_step(
    step_id: str,
    mix_id: str,
    *zone_ids: str,
    technique: Technique = Technique.GLAZE,
    wet_um: float = 25.0,
    passes: int = 1,
    placement: Placement | None = None,
    by_name_only: bool = False,
) -> Step:
    """A step that lays a coat, named by its id."""
    return Step(
        id=step_id,
        name=step_id.replace("-", " "),
        layer=Coat(
            mix_id=mix_id,
            technique=technique,
            wet_um=wet_um,
            passes=passes,
            placement=Placement() if placement is None else placement,
        ),
        zone_ids=zone_ids,
        by_name_only=by_name_only,
    )


POOLED = Placement(relief=ReliefProfile(kind=ReliefKind.POOLS, depth=0.6, reach=0.35))
TIPS = Placement(along=AlongProfile(start=0.4, end=1.0, feather_start=0.4))


def small_mixes() -> tuple[Mix, ...]:
    """Primer, off-white, a general wash 30:30:40 and a red glaze 1:2:2."""
    return (
        mix("primer-pot", black_primer=1.0),
        mix("white-pot", off_white=2.0, water=1.0),
        mix("wash-pot", brown_wash=30.0, clear_medium=30.0, water=40.0),
        mix("red-pot", red_glaze=1.0, clear_medium=2.0, water=2.0),
    )


def small_steps() -> tuple[Step, ...]:
    """Prime, spray, wash all, feather a red glaze on the cloak, mud on the base."""
    everywhere = ("hide", "cloak", "base")
    return (
        Step(id="prime", name="prime", layer=Primer(mix_id="primer-pot"), zone_ids=everywhere),
        Step(
            id="spray",
            name="off-white from above",
            layer=Spray(mix_id="white-pot"),
            zone_ids=("hide", "cloak"),
        ),
        coat_step(
            "wash",
            "wash-pot",
            "hide",
            "cloak",
            technique=Technique.WASH,
            wet_um=140.0,
            placement=POOLED,
        ),
        coat_step(
            "red",
            "red-pot",
            "cloak",
            technique=Technique.FEATHERED_GLAZE,
            passes=2,
            placement=TIPS,
        ),
        coat_step("warm", "red-pot", "hide", by_name_only=True),
        Step(
            id="mud",
            name="mud on the base",
            layer=Work(kind=WorkKind.TEXTURE),
            zone_ids=("base",),
            minutes_per_model=1.5,
        ),
    )


def small_scheme(scheme_id: str = "first") -> Scheme:
    """One scheme: rank and file go without the red, captains also get the warm glaze."""
    return Scheme(
        id=scheme_id,
        name=f"{scheme_id} scheme",
        mixes=small_mixes(),
        steps=small_steps(),
        shares=(
            Share(group_id="rank", zone_id="cloak", kind=ShareKind.SHORT, step_ids=("red",)),
            Share(
                group_id="captains",
                zone_id="hide",
                kind=ShareKind.OWN,
                step_ids=("prime", "spray", "wash", "warm"),
            ),
        ),
    )


def small_zones() -> tuple[Zone, ...]:
    """Hide, cloak and base."""
    return (
        Zone(
            id="hide",
            name="hide",
            area_basis=AreaBasis.BODY_SHARE,
            body_share=0.5,
            surfacing=Surfacing.TEXTURED,
            touches=("cloak",),
        ),
        Zone(
            id="cloak",
            name="cloak",
            area_cm2=6.0,
            surfacing=Surfacing.FLAT,
            facing=Facing.SIDE,
            touches=("hide", "base"),
            along_words=("collar", "hem"),
        ),
        Zone(id="base", name="base", area_basis=AreaBasis.BASE_TOP, touches=("cloak",)),
    )


def small_project() -> Project:
    """Twelve models in two groups, three zones, one scheme, chosen."""
    return Project(
        id="small",
        name="small project",
        size=ModelSize(base_mm=32.0),
        groups=(
            Group(id="rank", name="rank and file", count=10, priority=2),
            Group(id="captains", name="captains", count=2, needed_by="2031-05-01"),
        ),
        zones=small_zones(),
        schemes=(small_scheme(),),
        chosen_scheme_id="first",
        paints=small_paints(),
        sittings=(Sitting(id="evening", minutes=120.0),),
    )


def judged_model(**strengths: float) -> Evidence:
    """A test model's cloak in ``small_project``; keywords are steps and their factors."""
    films = {"spray": Spray(mix_id="white-pot").peak_um, "wash": 140.0, "red": 25.0}
    ramp = ((20.0, 5.0, 3.0), (45.0, 20.0, 12.5))
    return Evidence(
        id="trial",
        name="first test model",
        scheme_id="first",
        zone_id="cloak",
        group_id="rank",
        at="2031-03-01T19:30:00",
        measured=ramp,
        predicted=((24.0, 4.0, 3.0), (50.0, 18.0, 11.0)),
        followed=ramp,
        strengths=tuple(
            CoatStrength(
                step_id=step_id, name=step_id, planned_um=films[step_id], factor=factor, error=0.1
            )
            for step_id, factor in (strengths or {"wash": 1.5}).items()
        ),
        note="judged dry, by the window",
    )
