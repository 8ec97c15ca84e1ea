"""The project: one document with the batch, the zones, the candidate schemes and the paints."""

from dataclasses import dataclass, field

from schemeforge import checks
from schemeforge.errors import InputError, PaintMissingError
from schemeforge.paint import WATER, WATER_ID, Paint
from schemeforge.scheme.candidate import Scheme
from schemeforge.scheme.evidence import Evidence
from schemeforge.scheme.lookup import find, require
from schemeforge.scheme.model import Group, ModelSize, Zone
from schemeforge.scheme.settings import (
    Habits,
    Pin,
    PotUse,
    Sitting,
    Timing,
    UserLight,
    Viewing,
)

MOST_SCHEMES = 24
MOST_ZONES = 64
MOST_GROUPS = 200
MOST_PAINTS = 1000
MOST_EVIDENCE = 500


@dataclass(frozen=True, slots=True, kw_only=True)
class Project:
    """The whole document; see the fields' own types.

    Args:
        chosen_scheme_id: The scheme that the batch is painted in, or "" while undecided.
        yardstick_id: The scheme that others are compared with, or "" for the first.
        paints: Every paint that the schemes use, so that the file opens anywhere.
        viewing: The light, observer and finish that colours are meant for.
        pins: Steps that are to be done in one sitting, each step at most once.
        pot_uses: What was used of the pots so far.
        evidence: What painted test models told of coats; changes no colour by itself.
    """

    id: str
    name: str
    note: str = ""
    size: ModelSize = field(default_factory=ModelSize)
    groups: tuple[Group, ...] = ()
    zones: tuple[Zone, ...] = ()
    schemes: tuple[Scheme, ...] = ()
    chosen_scheme_id: str = ""
    yardstick_id: str = ""
    paints: tuple[Paint, ...] = ()
    lights: tuple[UserLight, ...] = ()
    viewing: Viewing = field(default_factory=Viewing)
    habits: Habits = field(default_factory=Habits)
    sittings: tuple[Sitting, ...] = ()
    timings: tuple[Timing, ...] = ()
    pins: tuple[Pin, ...] = ()
    pot_uses: tuple[PotUse, ...] = ()
    evidence: tuple[Evidence, ...] = ()

    def __post_init__(self) -> None:
        checks.identifier(self.id, "Project")
        checks.name(self.name, "Project")
        checks.note(self.note, "Project note")
        for items, kind, most in (
            (self.groups, "group", MOST_GROUPS),
            (self.zones, "zone", MOST_ZONES),
            (self.schemes, "scheme", MOST_SCHEMES),
            (self.paints, "paint", MOST_PAINTS),
            (self.sittings, "sitting", 1000),
            (self.timings, "timing", 100000),
            (self.pot_uses, "pot use", 10000),
            (self.evidence, "test model", MOST_EVIDENCE),
        ):
            if len(items) > most:
                raise InputError(f"The project has {len(items)} {kind}s, more than {most}")
            checks.unique((item.id for item in items), kind.capitalize())
        checks.unique((light.name for light in self.lights), "Light")
        checks.unique((f"{pin.scheme_id} {pin.step_id}" for pin in self.pins), "Pinned step")
        _check_references(self)

    def zone(self, zone_id: str) -> Zone:
        """The zone of that id; raises UnknownNameError."""
        return find(self.zones, zone_id, "zone")

    def group(self, group_id: str) -> Group:
        """The group of that id; raises UnknownNameError."""
        return find(self.groups, group_id, "group")

    def scheme(self, scheme_id: str) -> Scheme:
        """The scheme of that id; raises UnknownNameError."""
        return find(self.schemes, scheme_id, "scheme")

    def paint(self, paint_id: str) -> Paint:
        """The paint of that id, water included; raises PaintMissingError."""
        if paint_id == WATER_ID:
            return WATER
        for paint in self.paints:
            if paint.id == paint_id:
                return paint
        raise PaintMissingError(
            f'The project does not carry the paint "{paint_id}"',
            remedy="add that paint or take it out of the mix",
        )

    def is_used(self, paint_id: str) -> bool:
        """True where some mix of some scheme holds the paint."""
        return any(
            ingredient.paint_id == paint_id
            for scheme in self.schemes
            for mix in scheme.mixes
            for ingredient in mix.ingredients
        )


def _check_references(project: Project) -> None:
    zone_ids = [zone.id for zone in project.zones]
    group_ids = [group.id for group in project.groups]
    for zone in project.zones:
        require(zone.touches, zone_ids, "zone", f'Zone "{zone.name}"')
    paint_ids = {paint.id for paint in project.paints} | {WATER_ID}
    for scheme in project.schemes:
        label = f'Scheme "{scheme.name}"'
        for mix in scheme.mixes:
            for ingredient in mix.ingredients:
                if ingredient.paint_id not in paint_ids:
                    raise PaintMissingError(
                        f'Mix "{mix.name}" needs the paint "{ingredient.paint_id}", '
                        "which the project does not carry",
                        where=label,
                        remedy="add that paint or take it out of the mix",
                    )
        for step in scheme.steps:
            require(step.zone_ids, zone_ids, "zone", f'{label}: step "{step.name}"')
        step_ids = [step.id for step in scheme.steps]
        for share in scheme.shares:
            where = f"{label}: who gets what"
            require((share.group_id,), group_ids, "group", where)
            require((share.zone_id,), zone_ids, "zone", where)
            require(share.step_ids, step_ids, "step", where)
    _check_pins(project)
    scheme_ids = [scheme.id for scheme in project.schemes]
    chosen = tuple(i for i in (project.chosen_scheme_id, project.yardstick_id) if i)
    require(chosen, scheme_ids, "scheme", "The chosen scheme")


def _check_pins(project: Project) -> None:
    sitting_ids = [sitting.id for sitting in project.sittings]
    for pin in project.pins:
        steps = [step.id for step in project.scheme(pin.scheme_id).steps]
        require((pin.step_id,), steps, "step", "Pinned steps")
        require((pin.sitting_id,), sitting_ids, "sitting", "Pinned steps")
