"""Projects that are hard to lay out: long names, many zones, other scripts, markup-like names."""

from dataclasses import replace

from schemeforge.scheme import Group, Project, Scheme, Zone
from schemeforge.scheme.model import AreaBasis, Facing
from schemeforge.scheme.settings import Sitting
from schemeforge.scheme.steps import MOST_INGREDIENTS, Ingredient, Step, Technique, Work
from tests.builders import TIPS, coat_step, small_project, small_zones

GERMAN = "Grundierungsnachbehandlungsvorbereitungsmaßnahme für Küstenwächterumhänge"
LONGEST = "W" * 120
SCRIPTS = {
    "Latin beyond ReportLab's fonts": "Lőrinc őrszeme",
    "Cyrillic": "болотная стража",
    "Greek": "φύλακες του έλους",
    "Chinese": "盐沼守卫",
    "Arabic": "حراس المستنقع",
    "Hebrew": "שומרי הביצה",
}


def renamed(name: str) -> Project:
    """The small project with that name wherever a name can stand."""
    project = small_project()
    scheme = project.schemes[0]
    scheme = replace(
        scheme,
        name=name,
        mixes=tuple(replace(mix, name=name) for mix in scheme.mixes),
        steps=tuple(replace(step, name=name) for step in scheme.steps),
    )
    return replace(
        project,
        name=name,
        groups=tuple(replace(group, name=name) for group in project.groups),
        zones=tuple(replace(z, name=name, along_words=(name, name)) for z in project.zones),
        paints=tuple(replace(paint, name=name) for paint in project.paints),
        schemes=(scheme,),
    )


def with_notes(text: str) -> Project:
    """The small project with that text in every note of every step and mix."""
    project = small_project()
    scheme = project.schemes[0]
    scheme = replace(
        scheme,
        mixes=tuple(replace(mix, note=text) for mix in scheme.mixes),
        steps=tuple(
            replace(step, keep_out=text, look_for=text, cure=text, note=text)
            for step in scheme.steps
        ),
    )
    return replace(project, schemes=(scheme,))


def many_zones(count: int, groups: int = 3) -> Project:
    """That many zones, all primed, sprayed and washed, each with a feathered glaze of its own."""
    project = small_project()
    facings = tuple(Facing)
    zones = tuple(
        Zone(
            id=f"zone-{n}",
            name=f"zone number {n}",
            area_cm2=1.0 + n,
            facing=facings[n % 3],
            tone_range=(0.0, 0.3 + 0.7 * n / count),
        )
        for n in range(count)
    )
    ids = tuple(zone.id for zone in zones)
    old = project.schemes[0]
    steps = (
        *(replace(old.steps[n], zone_ids=ids) for n in range(3)),
        *(
            coat_step(
                f"glaze-{zone.id}",
                "red-pot",
                zone.id,
                technique=Technique.FEATHERED_GLAZE,
                placement=TIPS,
            )
            for zone in zones
        ),
        Step(id="rest", name="the rest", layer=Work()),
    )
    return replace(
        project,
        zones=zones,
        groups=tuple(Group(id=f"group-{n}", name=f"group {n}", count=7) for n in range(groups)),
        schemes=(Scheme(id="first", name="first", mixes=old.mixes, steps=steps),),
        sittings=(Sitting(id="one", minutes=180.0), Sitting(id="two", minutes=180.0)),
    )


def nothing_but_a_base() -> Project:
    """One group, one zone, two steps, no sitting: it fits one side."""
    project = small_project()
    scheme = project.schemes[0]
    base = replace(small_zones()[2], touches=(), area_basis=AreaBasis.BASE_TOP)
    steps = (replace(scheme.steps[0], zone_ids=("base",)), scheme.steps[5])
    return replace(
        project,
        zones=(base,),
        groups=project.groups[:1],
        schemes=(Scheme(id="first", name="bare", mixes=scheme.mixes, steps=steps),),
        sittings=(),
    )


def longest_of_everything() -> Project:
    """12 zones, 8 ingredients in the pots, and the longest name everywhere."""
    project = many_zones(12)
    paints = tuple(
        replace(project.paints[3], id=f"paint-{n}", name=LONGEST) for n in range(MOST_INGREDIENTS)
    )
    ingredients = tuple(Ingredient(paint_id=p.id, parts=1.0 + n) for n, p in enumerate(paints))
    scheme = project.schemes[0]
    scheme = replace(
        scheme,
        mixes=tuple(replace(mix, name=LONGEST, ingredients=ingredients) for mix in scheme.mixes),
        steps=tuple(
            replace(step, name=LONGEST, zone_ids=step.zone_ids[:11]) for step in scheme.steps
        ),
    )
    return replace(
        project,
        groups=tuple(replace(group, name=LONGEST) for group in project.groups),
        zones=tuple(replace(z, name=LONGEST, along_words=(LONGEST,) * 2) for z in project.zones),
        paints=(*project.paints, *paints),
        schemes=(scheme,),
    )
