"""A calibrated paint made ready to be reviewed and shelved. No Qt."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry
from schemeforge.appearance import Look
from schemeforge.appearance.drawdown import drawdown_films, drawdown_tolerance, drawdowns
from schemeforge.calibration import Outcome
from schemeforge.paint import Paint, PaintKind, Stock
from schemeforge.scheme import edits

FILMS_UM = drawdown_films(24)
NEW = ""  # stands for a paint that the shelf does not have yet
_DRAFT_ID = "draft"


@dataclass(frozen=True, slots=True, kw_only=True)
class Miss:
    """One patch: as measured, as fitted, and how far apart.

    Args:
        name: The patch.
        measured: XYZ, ``(3,)``.
        fitted: XYZ, ``(3,)``.
        delta_e: CIEDE2000.
    """

    name: str
    measured: NDArray[Any]
    fitted: NDArray[Any]
    delta_e: float


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Result:
    """What a fit gave, with everything that a painter looks at before taking it.

    Args:
        key: Tells results of one picture apart.
        name: Suggested name.
        kind: Of the paint.
        outcome: The fit.
        paint: The paint under the suggested name, not yet on any shelf.
        xyz: Its films over black, grey and off-white, ``(3, films, 3)``.
        tolerance: 90 % interval of each, CIEDE2000, ``(3, films)``.
        misses: Patch by patch, the worst first.
        remarks: Sentences beside the outcome's own findings.
        is_kind_told: False where the kind is only the likeliest.
    """

    key: str
    name: str
    kind: PaintKind
    outcome: Outcome
    paint: Paint
    xyz: NDArray[Any]
    tolerance: NDArray[Any]
    misses: tuple[Miss, ...]
    remarks: tuple[str, ...] = ()
    is_kind_told: bool = True


def result_of(
    outcome: Outcome,
    look: Look,
    *,
    key: str,
    name: str,
    kind: PaintKind,
    remarks: Sequence[str] = (),
    is_kind_told: bool = True,
) -> Result:
    """The outcome with its films under a light, and how sure they are."""
    paint = outcome.paint(id=_DRAFT_ID, name=name, kind=kind)
    return Result(
        key=key,
        name=name,
        kind=kind,
        outcome=outcome,
        paint=paint,
        xyz=drawdowns((paint,), FILMS_UM, look)[0],
        tolerance=drawdown_tolerance(paint, FILMS_UM, look),
        misses=tuple(sorted(_misses(outcome), key=lambda miss: -miss.delta_e)),
        remarks=tuple(remarks),
        is_kind_told=is_kind_told,
    )


def seen_under(results: Sequence[Result], look: Look) -> list[Result]:
    """The same fits under another light or finish."""
    return [
        result_of(
            r.outcome,
            look,
            key=r.key,
            name=r.name,
            kind=r.kind,
            remarks=r.remarks,
            is_kind_told=r.is_kind_told,
        )
        for r in results
    ]


def _misses(outcome: Outcome) -> Iterable[Miss]:
    fit = outcome.fit
    for patch, fitted, delta_e in zip(outcome.patches, fit.predicted, fit.residual, strict=True):
        pair = [np.array(patch.colour or patch.reflectance), fitted]
        if patch.colour:
            xyz = [np.asarray(colorimetry.xyz_from_linear_rgb(values)) for values in pair]
        else:
            xyz = [np.asarray(colorimetry.xyz(values)) for values in pair]
        yield Miss(name=patch.name, measured=xyz[0], fitted=xyz[1], delta_e=float(delta_e))


@dataclass(frozen=True, slots=True, kw_only=True)
class Taking:
    """Under which name and in whose place a result goes onto the shelf.

    Args:
        name: Of the paint.
        kind: Of the paint.
        pigment: Colour Index generic name, or "".
        stock: What is there of it.
        in_place_of: Id of the shelf's paint whose data it replaces, or `NEW`.
        taken: False where it is left out.
        is_named: True once the painter gave the name, False while it is the suggested one.
    """

    name: str
    kind: PaintKind
    pigment: str = ""
    stock: Stock = field(default_factory=Stock)
    in_place_of: str = NEW
    taken: bool = True
    is_named: bool = False


def shelved(
    shelf: tuple[Paint, ...],
    taken: Sequence[tuple[Result, Taking]],
    other_ids: Iterable[str] = (),
) -> tuple[tuple[Paint, ...], tuple[Paint, ...]]:
    """The shelf with the results on it, and the paints that they became.

    Args:
        shelf: As it is.
        taken: Results with what the painter calls them.
        other_ids: Ids that a new paint must not have either, as those of the open project.

    Raises:
        InputError: For a name or a number that no paint can have; nothing is changed then.
    """
    used = [*(paint.id for paint in shelf), *other_ids]
    made: list[Paint] = []
    for result, taking in taken:
        old = next((paint for paint in shelf if paint.id == taking.in_place_of), None)
        if old is None:
            paint = _new(result, taking, edits.fresh_id(taking.name, used))
            used.append(paint.id)
            shelf = (*shelf, paint)
        else:
            paint = _renewed(result, taking, old)
            shelf = tuple(paint if held.id == old.id else held for held in shelf)
        made.append(paint)
    return shelf, tuple(made)


def kind_of(result: Result, taking: Taking, old: Paint | None) -> PaintKind:
    """The kind on the shelf: as the painter told, else as of the paint that is replaced."""
    return taking.kind if old is None or result.is_kind_told else old.kind


def _new(result: Result, taking: Taking, paint_id: str) -> Paint:
    return result.outcome.paint(
        id=paint_id,
        name=taking.name.strip(),
        kind=taking.kind,
        colour_index=taking.pigment.strip(),
        stock=taking.stock,
    )


def _renewed(result: Result, taking: Taking, old: Paint) -> Paint:
    """The shelf's paint with other data; what the painter wrote of it stays, untold its kind."""
    fresh = _new(result, taking, old.id)
    return replace(
        fresh,
        kind=kind_of(result, taking, old),
        volume_solids=old.volume_solids,
        density_g_per_ml=old.density_g_per_ml,
        note=old.note,
    )
