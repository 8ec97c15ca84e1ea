"""What a recipe can be asked for where a zone, a stage or a paint is shown."""

from dataclasses import replace

from schemeforge.desk import DeskState, Direction
from schemeforge.gui.reading import Reading, tr
from schemeforge.gui.recipes.asked import (
    ColourWanted,
    FindRecipe,
    PaintWanted,
    ReplacePaint,
    ZoneWanted,
)
from schemeforge.gui.recipes.choice import Choice, ZonePlace
from schemeforge.paint import Paint
from schemeforge.scheme import Scheme, Step


def zone_choices(state: DeskState, place: ZonePlace) -> list[Choice]:
    """A zone's ramp, or the colour at a place of it; nothing where the zone has gone."""
    project = state.project
    scheme = next((s for s in project.schemes if s.id == place.scheme_id), None)
    if scheme is None or place.zone_id not in {zone.id for zone in project.zones}:
        return []
    is_over_relief = place.direction is Direction.RELIEF
    whole = ZoneWanted(
        project=project,
        scheme_id=place.scheme_id,
        zone_id=place.zone_id,
        name=zone_name(state, scheme, place.zone_id, place.after),
        after=place.after,
        along=place.across if is_over_relief else 0.5,
    )
    ramp = Choice(tr("Find a recipe for the whole ramp"), FindRecipe(wanted=whole))
    if place.at is None:
        return [ramp]
    relief, along = (place.at, place.across) if is_over_relief else (place.across, place.at)
    one = replace(whole, at=relief, along=along)
    return [Choice(tr("Find a recipe for this colour"), FindRecipe(wanted=one)), ramp]


def zone_name(state: DeskState, scheme: Scheme, zone_id: str, after: str | None) -> str:
    """A zone in words; with the scheme where that is not the one being worked on."""
    name = state.project.zone(zone_id).name
    if after is not None:
        name = tr("{0} after {1}").format(name, scheme.step(after).name)
    if scheme.id != state.selection.scheme_id:
        name = tr("{0} in {1}").format(name, scheme.name)
    return name


def reading_choices(reading: Reading) -> list[Choice]:
    """A colour as it is read, whatever it is the colour of."""
    wanted = ColourWanted(name=reading.words, lab=(reading.lab,))
    return [Choice(tr("Find a recipe for this colour"), FindRecipe(wanted=wanted))]


def paint_choices(state: DeskState, paint: Paint) -> list[Choice]:
    """A paint's colour; and what takes its place in the mixes that hold it."""
    found = [Choice(tr("Find a mix for its colour"), FindRecipe(wanted=PaintWanted(paint=paint)))]
    scheme = state.scheme
    if scheme is None:
        return found
    for step in _steps_with(scheme, paint.id, state.step):
        label = tr("What takes its place in “{0}”").format(step.name)
        zone_id = state.selection.zone_id
        asked = ReplacePaint(
            scheme_id=scheme.id,
            zone_id=zone_id if zone_id in step.zone_ids else step.zone_ids[0],
            step_id=step.id,
            paint_id=paint.id,
        )
        found.append(Choice(label, asked))
    return found


def _steps_with(scheme: Scheme, paint_id: str, picked: Step | None) -> list[Step]:
    """Steps laid from a mix with the paint, one a pot, the picked one first."""
    pots = {mix.id for mix in scheme.mixes if mix.parts_of(paint_id)}
    steps = [step for step in scheme.steps if step.mix_id in pots and step.zone_ids]
    steps.sort(key=lambda step: step is not picked)
    first = {step.mix_id: step for step in reversed(steps)}
    return [step for step in steps if first[step.mix_id] is step]
