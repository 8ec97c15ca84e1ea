"""How much of each mix the batch takes: millilitres, grams and drops per pot."""

from collections.abc import Sequence
from dataclasses import dataclass

from schemeforge import checks
from schemeforge.plan.drops import (
    FEWEST_DROPS,
    LARGEST_CHANGE,
    DropWarning,
    smallest_drop_share,
    whole_drops,
)
from schemeforge.plan.letters import pot_letters
from schemeforge.plan.who import Grid, Laid, grid
from schemeforge.scheme import Coat, Mix, Primer, Project, Scheme, Spray, Step, Zone
from schemeforge.scheme.techniques import PRIMER, is_sprayed

# 1 cm2 under 1 um is 1e-4 cm3, and 1 cm3 is 1 ml.
UM_CM2_PER_ML = 10_000.0
# What a loaded brush of a usual size gives: half a drop (rule of thumb, no source). For the eye
# only: nothing is measured by it.
BRUSH_LOAD_ML = 0.025


@dataclass(frozen=True, slots=True, kw_only=True)
class Amount:
    """One ingredient of a pot.

    Args:
        paint_id: The paint, medium or water.
        name: Its name.
        parts: Parts by volume, as in the mix.
        share: Share of the mix by volume, above 0 to 1.
        ml: Volume.
        grams: Mass, by the paint's density.
        drops: Exact number of drops, by the painter's drop.
        whole_drops: Drops to count, close to the ratio; for the whole pot.
    """

    paint_id: str
    name: str
    parts: float
    share: float
    ml: float
    grams: float
    drops: float
    whole_drops: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Pot:
    """A mix for the whole batch.

    Args:
        letter: A, B, ... by first use.
        mix: What is in it.
        step_ids: The steps that it serves, in order.
        step_numbers: Their numbers in painting order, from 1.
        on_models_ml: What ends as film on the models.
        used_ml: The same with what misses the models when sprayed.
        ml: What to mix: used, times waste, plus what stays in the pot; 0 where nobody gets it.
        amounts: The ingredients in the mix's order.
        drop_ml: The drop that was counted with.
        densities: Of the ingredients, g/ml, in the mix's order.
        warning: Set where one drop more or less would be seen, else None.
    """

    letter: str
    mix: Mix
    step_ids: tuple[str, ...]
    step_numbers: tuple[int, ...]
    on_models_ml: float
    used_ml: float
    ml: float
    amounts: tuple[Amount, ...]
    drop_ml: float
    densities: tuple[float, ...]
    warning: DropWarning | None

    @property
    def grams(self) -> float:
        """Mass of the whole pot."""
        return sum(amount.grams for amount in self.amounts)

    @property
    def drops(self) -> float:
        """Drops of the whole pot."""
        return self.ml / self.drop_ml

    @property
    def brush_loads(self) -> float:
        """How many times a brush is loaded from it, for the eye."""
        return self.ml / BRUSH_LOAD_ML

    @property
    def is_neat(self) -> bool:
        """True where there is one ingredient and so nothing to mix."""
        return len(self.mix.ingredients) == 1


def film_um(step: Step, zone: Zone) -> float:
    """Mean wet film that the step leaves on the zone, all passes, micrometres; 0 for work.

    A coat leaves wet_um x passes x mean of its profile along (its relief profile has mean 1).
    The spray from above leaves its peak times the zone's mean tone: tone runs linearly from
    recess to raised edge, so its mean over relief is the mean of the two ends. Primer is laid at
    the trade's normal film.
    """
    layer = step.layer
    if isinstance(layer, Coat):
        return layer.wet_um * layer.passes * layer.placement.along.mean
    if isinstance(layer, Spray):
        return layer.peak_um * 0.5 * (zone.tones[0] + zone.tones[1])
    return PRIMER.normal_um if isinstance(layer, Primer) else 0.0


def film_ml(project: Project, step: Step, cells: Sequence[Laid]) -> float:
    """Mix that ends on the models in that step, ml, over the cells of who gets what given."""
    return (
        sum(
            cell.group.count * cell.zone.area_on(project.size) * film_um(step, cell.zone)
            for cell in cells
        )
        / UM_CM2_PER_ML
    )


def pots(project: Project, scheme: Scheme, *, cells: Grid | None = None) -> tuple[Pot, ...]:
    """Every pot of the scheme in the order of its letters; mixes that no step uses have none.

    ml = (film on the models / (1 - overspray) where sprayed) x waste + what stays in the pot.

    Args:
        project: The document.
        scheme: One of its schemes.
        cells: ``who.grid`` of the two where it is at hand.

    Raises:
        PaintMissingError: A mix names a paint that the project does not carry.
    """
    cells = grid(project, scheme) if cells is None else cells
    numbered = tuple(enumerate(scheme.steps, start=1))
    return tuple(
        _pot(
            project,
            letter,
            scheme.mix(mix_id),
            [(number, step) for number, step in numbered if step.mix_id == mix_id],
            cells,
        )
        for mix_id, letter in pot_letters(scheme).items()
    )


def topping_up(pot: Pot, more_ml: float) -> tuple[Amount, ...]:
    """The ingredients of a further ``more_ml`` (0 to 100 000 ml) of the same mix.

    Raises:
        InputError: ``more_ml`` is out of range.
    """
    more_ml = checks.number(more_ml, "Further mix", low=0.0, high=100000.0, unit="ml")
    names = tuple(amount.name for amount in pot.amounts)
    return _amounts(pot.mix, more_ml, names, pot.densities, pot.drop_ml)


def drop_warnings(filled: Sequence[Pot]) -> tuple[DropWarning, ...]:
    """The pots' findings, in their order."""
    return tuple(pot.warning for pot in filled if pot.warning is not None)


def _pot(
    project: Project, letter: str, mix: Mix, steps: Sequence[tuple[int, Step]], cells: Grid
) -> Pot:
    habits = project.habits
    on_models = used = 0.0
    for _, step in steps:
        film = film_ml(project, step, cells[step.id])
        on_models += film
        used += film / (1.0 - habits.overspray) if is_sprayed(step) else film
    ml = used * habits.waste + habits.stays_in_pot_ml if used else 0.0
    paints = tuple(project.paint(ingredient.paint_id) for ingredient in mix.ingredients)
    densities = tuple(paint.density_g_per_ml for paint in paints)
    amounts = _amounts(mix, ml, tuple(paint.name for paint in paints), densities, habits.drop_ml)
    coloured = {paint.id for paint in paints if not paint.kind.is_clear}
    return Pot(
        letter=letter,
        mix=mix,
        step_ids=tuple(step.id for _, step in steps),
        step_numbers=tuple(number for number, _ in steps),
        on_models_ml=on_models,
        used_ml=used,
        ml=ml,
        amounts=amounts,
        drop_ml=habits.drop_ml,
        densities=densities,
        warning=_warning(letter, mix, ml / habits.drop_ml, coloured, amounts),
    )


def _amounts(
    mix: Mix, ml: float, names: Sequence[str], densities: Sequence[float], drop_ml: float
) -> tuple[Amount, ...]:
    total = mix.total_parts
    counted = whole_drops(mix, ml / drop_ml)
    return tuple(
        Amount(
            paint_id=ingredient.paint_id,
            name=name,
            parts=ingredient.parts,
            share=ingredient.parts / total,
            ml=ml * ingredient.parts / total,
            grams=ml * ingredient.parts / total * density,
            drops=ml * ingredient.parts / total / drop_ml,
            whole_drops=count,
        )
        for ingredient, name, density, count in zip(
            mix.ingredients, names, densities, counted, strict=True
        )
    )


def _warning(
    letter: str, mix: Mix, drops: float, coloured: set[str], amounts: Sequence[Amount]
) -> DropWarning | None:
    """A finding where the mix is small or an ingredient scarce; none for neat or empty pots."""
    if len(mix.ingredients) == 1 or not drops:
        return None
    smallest = smallest_drop_share(mix, drops, coloured)
    if drops >= FEWEST_DROPS and smallest.change <= LARGEST_CHANGE:
        return None
    return DropWarning(
        pot=letter,
        ingredient=next(a.name for a in amounts if a.paint_id == smallest.paint_id),
        total_drops=drops,
        change=smallest.change,
    )
