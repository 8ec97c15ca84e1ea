"""What the window shows, as one immutable value."""

from dataclasses import dataclass, field, replace
from enum import StrEnum
from pathlib import Path
from typing import TypeVar

from schemeforge.colorimetry import Sight
from schemeforge.comparison.thresholds import DEFAULTS, Thresholds
from schemeforge.desk.looking import AS_FOUND, Looking
from schemeforge.desk.targets import Targets
from schemeforge.paint import Paint
from schemeforge.scheme import Project, Scheme, Step, Zone, coloured_steps
from schemeforge.scheme.lookup import HasId

T = TypeVar("T", bound=HasId)


class Page(StrEnum):
    """The five pages, in the order of the job."""

    PAINTS = "paints"
    COATS = "coats"
    SCHEMES = "schemes"
    BATCH = "batch"
    SHEET = "sheet"


class Direction(StrEnum):
    """Which way the cutaway is cut."""

    RELIEF = "recess to raised edge"
    ALONG = "root to tip"


class Surround(StrEnum):
    """Brightness of the neutral grey around every colour."""

    GREY = "grey"
    DARK = "dark"
    LIGHT = "light"


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """What undo covers: the project and the shelf alike."""

    project: Project
    shelf: tuple[Paint, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Selection:
    """What is picked; ids that no longer exist are mended by ``mended``.

    Args:
        page: The page shown.
        scheme_id: The scheme being worked on.
        zone_id: The zone.
        step_id: The step, "" for none.
        paint_id: The paint picked on the Paints page, "" for none.
        direction: Which way the cutaway is cut.
        across: Where the other coordinate stands, 0 to 1: along the part for a cut over relief,
            relief for a cut along the part.
        true_scale: True where films are drawn to scale.
        sight: How pictures of models are looked at.
    """

    page: Page = Page.COATS
    scheme_id: str = ""
    zone_id: str = ""
    step_id: str = ""
    paint_id: str = ""
    direction: Direction = Direction.RELIEF
    across: float = 0.5
    true_scale: bool = False
    sight: Sight = field(default_factory=Sight)


@dataclass(frozen=True, slots=True, kw_only=True)
class Preferences:
    """How the painter likes the window, and what counts as enough; kept between runs.

    Args:
        surround: Brightness of the neutral grey around colours.
        numbers: Whether micrometres, L* and tolerances are shown.
        pointer_dismissed: Whether the first pointer was put away.
        thresholds: The painter's rules of thumb.
        figure: The stand-in model beside the cutaway, or "" for the plain outline.
        looking: How models are lit, sprayed and sized.
        unfolded: Sections of the Batch page that are open, by their names in code.
        targets: What schemes are meant to come near, by the project's id.
    """

    surround: Surround = Surround.GREY
    numbers: bool = False
    pointer_dismissed: bool = False
    thresholds: Thresholds = DEFAULTS
    figure: str = "warden"
    looking: Looking = AS_FOUND
    unfolded: tuple[str, ...] = ("pots",)
    targets: Targets = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class DeskState:
    """Everything that the window shows.

    Args:
        document: Project and shelf.
        selection: What is picked.
        preferences: How the window looks.
        path: The file of the project, None where it was never saved.
        is_saved: True where the file holds this project.
        undo_label: What undo would take back, "" for nothing.
        redo_label: What redo would bring back, "" for nothing.
        recent: Files opened lately, newest first.
    """

    document: Document
    selection: Selection = field(default_factory=Selection)
    preferences: Preferences = field(default_factory=Preferences)
    path: Path | None = None
    is_saved: bool = True
    undo_label: str = ""
    redo_label: str = ""
    recent: tuple[Path, ...] = ()

    @property
    def project(self) -> Project:
        """The open project."""
        return self.document.project

    @property
    def scheme(self) -> Scheme | None:
        """The scheme picked, None where the project has none."""
        return _by_id(self.project.schemes, self.selection.scheme_id)

    @property
    def zone(self) -> Zone | None:
        """The zone picked, None where the project has none."""
        return _by_id(self.project.zones, self.selection.zone_id)

    @property
    def step(self) -> Step | None:
        """The step picked, None for none."""
        scheme = self.scheme
        return None if scheme is None else _by_id(scheme.steps, self.selection.step_id)


def mended(selection: Selection, project: Project) -> Selection:
    """The selection with ids that the project no longer has replaced by the nearest sense."""
    scheme = _by_id(project.schemes, selection.scheme_id)
    if scheme is None:
        wanted = project.chosen_scheme_id or project.yardstick_id
        scheme = _by_id(project.schemes, wanted) or next(iter(project.schemes), None)
    zone = _by_id(project.zones, selection.zone_id) or next(iter(project.zones), None)
    step_id = ""
    if scheme is not None and zone is not None:
        stack = coloured_steps(scheme, zone.id)
        known = _by_id(scheme.steps, selection.step_id)
        if known is not None and (zone.id in known.zone_ids or not known.zone_ids):
            step_id = known.id
        elif stack:
            step_id = stack[-1].id
    new = replace(
        selection,
        scheme_id=scheme.id if scheme else "",
        zone_id=zone.id if zone else "",
        step_id=step_id,
    )
    return selection if new == selection else new


def _by_id(items: tuple[T, ...], wanted: str) -> T | None:
    return next((item for item in items if item.id == wanted), None)
