"""What the mixing bench is asked, as immutable values that any view can make.

A target from a zone keeps the project that it was seen in: putting a recipe into that very zone
must not move the target.
"""

from dataclasses import dataclass, replace
from typing import Protocol

from schemeforge.appearance import Look
from schemeforge.paint import Paint
from schemeforge.recipe import (
    LIGHTS,
    RAMP,
    Bed,
    Target,
    UnderLight,
    paint_target,
    resampled,
    zone_target,
)
from schemeforge.recipe.target import Lab
from schemeforge.scheme import Evidence, Project, Viewing

# The film at the right edge of a swatch card, um wet: what a painter knows a paint by.
CARD_FILM_UM = 60.0
# Where on the relief a single colour is laid unless it comes from a place of its own.
USUAL_PLACE = 0.75


class Wanted(Protocol):
    """Colours to be matched."""

    @property
    def name(self) -> str:
        """What they are, in the user's words."""

    @property
    def is_ramp(self) -> bool:
        """True for all tones of a ramp, False for one colour."""

    @property
    def places(self) -> tuple[float, ...]:
        """Where on the relief they lie, recess 0 to raised edge 1; one for each tone."""

    def target(self, project: Project, viewing: Viewing, bed: Bed, look: Look) -> Target:
        """The target under that light and finish, for recipes laid on that bed."""

    def placed(self, at: float | None) -> "Wanted":
        """The same at that place of the relief, or over the whole ramp where it has one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ColourWanted:
    """Colours that stay what they are under whatever light: typed, or read off a strip."""

    name: str
    lab: tuple[Lab, ...]
    at: float = USUAL_PLACE

    @property
    def is_ramp(self) -> bool:
        """True where there is more than one."""
        return len(self.lab) > 1

    @property
    def places(self) -> tuple[float, ...]:
        """Evenly from recess to raised edge, or the one place."""
        count = len(self.lab)
        return tuple(n / (count - 1) for n in range(count)) if count > 1 else (self.at,)

    def target(self, _project: Project, _viewing: Viewing, _bed: Bed, _look: Look) -> Target:
        """Just these colours."""
        return Target(lab=self.lab, name=self.name)

    def placed(self, at: float | None) -> "ColourWanted":
        """A single colour laid elsewhere; a ramp stays one."""
        return self if at is None or self.is_ramp else replace(self, at=at)


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneWanted:
    """A zone as it looked when it was pointed at.

    Args:
        project: The document then.
        scheme_id: One of its schemes.
        zone_id: One of its zones.
        name: In the user's words.
        after: Id of the step after which; the finished zone where None.
        at: Place on the relief; None for the whole ramp.
        along: Place along the part.
    """

    project: Project
    scheme_id: str
    zone_id: str
    name: str
    after: str | None = None
    at: float | None = None
    along: float = 0.5

    @property
    def is_ramp(self) -> bool:
        """True for the whole ramp."""
        return self.at is None

    @property
    def places(self) -> tuple[float, ...]:
        """The usual tones, or the one place."""
        return RAMP if self.at is None else (self.at,)

    def target(self, project: Project, viewing: Viewing, _bed: Bed, _look: Look) -> Target:
        """Its colours under that light, dry; the light may have come into the project since."""
        seen = replace(self.project, lights=project.lights)
        found = zone_target(
            seen,
            seen.scheme(self.scheme_id),
            self.zone_id,
            relief=self.places,
            after=self.after,
            along=self.along,
            viewing=viewing,
        )
        return replace(found, name=self.name)

    def placed(self, at: float | None) -> "ZoneWanted":
        """Another place of the zone, or all of it."""
        return replace(self, at=at)


@dataclass(frozen=True, slots=True, kw_only=True)
class PaintWanted:
    """A paint, neat and at full film over the ground: what a mix in its place has to look like."""

    paint: Paint
    at: float | None = USUAL_PLACE

    @property
    def name(self) -> str:
        """The paint's."""
        return self.paint.name

    @property
    def is_ramp(self) -> bool:
        """True over all tones of the ground."""
        return self.at is None

    @property
    def places(self) -> tuple[float, ...]:
        """The usual tones, or the one place."""
        return RAMP if self.at is None else (self.at,)

    def target(self, _project: Project, _viewing: Viewing, bed: Bed, look: Look) -> Target:
        """The paint on that bed, also under the lights that constancy is judged by."""
        found = paint_target(self.paint, CARD_FILM_UM, bed, look)
        others = tuple(
            UnderLight(
                light=light,
                lab=paint_target(self.paint, CARD_FILM_UM, bed, replace(look, light=light)).lab,
            )
            for light in LIGHTS
            if light != look.light
        )
        return replace(found, others=others)

    def placed(self, at: float | None) -> "PaintWanted":
        """At another place, or over all tones."""
        return replace(self, at=at)


def judged_model(evidence: Evidence) -> ColourWanted:
    """The ramp of a photographed test model."""
    lab = resampled(evidence.measured, len(RAMP)).lab
    return ColourWanted(name=evidence.name, lab=lab)


@dataclass(frozen=True, slots=True, kw_only=True)
class FindRecipe:
    """What to mix for a colour or a ramp; on the picked zone."""

    wanted: Wanted


@dataclass(frozen=True, slots=True)
class ReplacePaint:
    """A paint of a coat's mix is out: what takes its place there.

    Args:
        scheme_id: The scheme.
        zone_id: A zone that the step covers, on which it is judged.
        step_id: The step.
        paint_id: The paint; "" for the first of the mix that is not clear.
    """

    scheme_id: str
    zone_id: str
    step_id: str
    paint_id: str = ""


@dataclass(frozen=True, slots=True)
class WithoutAirbrush:
    """The off-white from above without an airbrush: which brush comes nearest."""

    scheme_id: str
    zone_id: str
    step_id: str


@dataclass(frozen=True, slots=True)
class MixAgain:
    """A pot ran dry before the batch was done: how to go on.

    Args:
        scheme_id: The scheme.
        zone_id: A zone that the step covers, on which it is judged.
        step_id: A step that is laid from the pot.
        needed_ml: What the rest of the batch takes; the whole pot where None.
    """

    scheme_id: str
    zone_id: str
    step_id: str
    needed_ml: float | None = None


Asked = FindRecipe | ReplacePaint | WithoutAirbrush | MixAgain
