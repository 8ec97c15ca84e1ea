"""What a desk sheet is asked to show, and on which paper."""

from dataclasses import dataclass, field
from datetime import date, datetime
from enum import StrEnum

from schemeforge import checks
from schemeforge.errors import UnknownNameError
from schemeforge.scheme import Viewing

PAPERS_MM = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}


class Section(StrEnum):
    """A part of the sheet that can be left out; cautions and stop rules always stay."""

    PICTURE = "picture of the model"
    FINISHED = "finished zones"
    WHO = "who gets what"
    SITTINGS = "sittings"
    STOCK = "stock to fetch"
    SWATCHES = "swatches"
    TOLERANCES = "tolerances"
    MIXES = "mixes"
    ADVICE = "what to look for"
    TIMES = "minutes and waits"


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetOptions:
    """How a sheet is made.

    Args:
        paper: "A4" or "Letter".
        landscape: True to lay the long edge across.
        include: The sections to show.
        viewing: Light, observer and finish of the swatches; the project's own where None.
        group_id: The group that the sheet is for; None for the whole batch.
        today: The date to print; none where None, so that the same project gives the same file.
        dpi: Dots per inch of pictures.
        roomy: True for large type and as many sides as it takes.
        now: Local time from which the sittings are planned; from the first of them on where None.
            Sheets that differ in it alone count as the same.

    Raises:
        UnknownNameError: For another paper.
    """

    paper: str = "A4"
    landscape: bool = False
    include: frozenset[Section] = frozenset(Section)
    viewing: Viewing | None = None
    group_id: str | None = None
    today: date | None = None
    dpi: int = 150
    roomy: bool = False
    now: datetime | None = field(default=None, compare=False)

    def __post_init__(self) -> None:
        if self.paper not in PAPERS_MM:
            raise UnknownNameError("paper", self.paper, PAPERS_MM)
        checks.whole(self.dpi, "Dots per inch", low=36, high=1200)

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height of the page."""
        width, height = PAPERS_MM[self.paper]
        return (height, width) if self.landscape else (width, height)

    def shows(self, section: Section) -> bool:
        """True where the section is asked for."""
        return section in self.include
