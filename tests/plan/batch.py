"""A plausible whole batch for sanity checks, and helpers that vary the small project."""

from dataclasses import replace

from schemeforge.scheme import (
    AreaBasis,
    Group,
    Habits,
    ModelSize,
    Primer,
    Project,
    Scheme,
    Share,
    ShareKind,
    Spray,
    Step,
    Technique,
    Work,
    WorkKind,
    Zone,
)
from tests.builders import coat_step, mix, small_mixes, small_paints, small_project

BODY = ("hide", "plates", "cloak", "blade")


def scheme_of(project: Project) -> Scheme:
    """The project's first scheme."""
    return project.schemes[0]


def with_steps(
    *steps: Step, shares: tuple[Share, ...] = (), habits: Habits | None = None
) -> Project:
    """The small project with other steps and shares, on the same mixes."""
    project = small_project()
    scheme = replace(scheme_of(project), steps=steps, shares=shares)
    return replace(project, schemes=(scheme,), habits=project.habits if habits is None else habits)


def work(step_id: str, kind: WorkKind, *zone_ids: str, sprayed: bool = False) -> Step:
    """A step of work, named by its kind."""
    return Step(
        id=step_id, name=kind.value, layer=Work(kind=kind, sprayed=sprayed), zone_ids=zone_ids
    )


def large_project() -> Project:
    """Thirty-six models in three groups painted to tabletop standard in eighteen steps."""
    zones = (
        Zone(id="hide", name="hide", area_basis=AreaBasis.BODY_SHARE, body_share=0.35),
        Zone(id="plates", name="plates", area_basis=AreaBasis.BODY_SHARE, body_share=0.25),
        Zone(id="cloak", name="cloak", area_basis=AreaBasis.BODY_SHARE, body_share=0.3),
        Zone(id="blade", name="blade", area_basis=AreaBasis.BODY_SHARE, body_share=0.1),
        Zone(id="base", name="base", area_basis=AreaBasis.BASE_TOP),
        Zone(id="rim", name="rim", area_basis=AreaBasis.RIM),
    )
    everywhere = tuple(zone.id for zone in zones)
    steps = (
        work("clean", WorkKind.CLEANING),
        Step(id="prime", name="prime", layer=Primer(mix_id="primer-pot"), zone_ids=everywhere),
        Step(id="spray", name="spray", layer=Spray(mix_id="white-pot"), zone_ids=BODY),
        *(coat_step(f"glaze-{zone}", f"pot-{zone}", zone) for zone in BODY),
        coat_step("wash", "wash-pot", *BODY, technique=Technique.WASH, wet_um=140.0),
        *(
            coat_step(f"second-{zone}", f"pot-{zone}", zone, technique=Technique.FEATHERED_GLAZE)
            for zone in BODY
        ),
        coat_step("edges", "white-pot", "plates", technique=Technique.DRY_BRUSH, wet_um=8.0),
        work("details", WorkKind.DETAIL),
        coat_step("mud", "wash-pot", "base", technique=Technique.STAIN, wet_um=80.0),
        coat_step("rim", "primer-pot", "rim", technique=Technique.BASE_COAT, wet_um=50.0),
        work("basing", WorkKind.TEXTURE, "base"),
        work("varnish", WorkKind.VARNISH, sprayed=True),
    )
    own = tuple(mix(f"pot-{zone}", red_glaze=1.0, clear_medium=2.0, water=2.0) for zone in BODY)
    left_out = tuple(
        Share(group_id="rank", zone_id=zone, kind=ShareKind.SHORT, step_ids=(f"second-{zone}",))
        for zone in ("plates", "blade")
    )
    return Project(
        id="large",
        name="large project",
        size=ModelSize(base_mm=32.0),
        groups=(
            Group(id="rank", name="rank and file", count=30),
            Group(id="bearers", name="bearers", count=4),
            Group(id="captains", name="captains", count=2),
        ),
        zones=zones,
        schemes=(
            Scheme(
                id="first", name="first", mixes=small_mixes() + own, steps=steps, shares=left_out
            ),
        ),
        paints=small_paints(),
    )
