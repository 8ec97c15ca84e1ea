"""Plain words for coats, mixes and places."""

from PySide6.QtCore import QCoreApplication

from schemeforge.desk import Preferences
from schemeforge.desk.cutaway import Band
from schemeforge.gui.reading import tr
from schemeforge.scheme import (
    AlongProfile,
    Coat,
    Mix,
    Placement,
    Primer,
    Project,
    ReliefKind,
    Scheme,
    Spray,
)
from schemeforge.scheme.techniques import heaviness_words


def mix_words(project: Project, mix: Mix) -> str:
    """A mix in parts, such as "3 violet wash : 3 matt medium : 4 water", as one line."""
    return " : ".join(
        f"{ingredient.parts:g} {project.paint(ingredient.paint_id).name}"
        for ingredient in mix.ingredients
    )


def placement_words(placement: Placement) -> str:
    """Where a coat goes, such as "pools in recesses, from 0 % to 50 % of the way", as one line."""
    relief = tr(placement.relief.kind.value)
    along = _along_words(placement.along)
    if placement.relief.kind is ReliefKind.EVEN:
        return along or tr("even all over")
    return f"{relief}, {along}" if along else relief


def _along_words(along: AlongProfile) -> str:
    if along.is_even:
        return ""
    text = tr("from {0} % to {1} % of the way to the tip").format(
        round(along.start * 100), round(along.end * 100)
    )
    if along.feather_start or along.feather_end:
        text += ", " + tr("feathered")
    return text


def band_words(
    project: Project, scheme: Scheme | None, band: Band, preferences: Preferences
) -> str:
    """What a band is, in one line, for tooltips and screen readers."""
    layer = band.step.layer
    parts = [f"{band.number} {band.step.name}"]
    if isinstance(layer, Primer):
        parts.append(tr("primer, opaque"))
    elif isinstance(layer, Spray):
        parts.append(tr("sprayed from above"))
        if preferences.numbers:
            parts.append(
                QCoreApplication.translate("SchemeForge", "{0} µm at its peak").format(
                    f"{layer.peak_um:g}"
                )
            )
    elif isinstance(layer, Coat):
        parts += coat_words(layer, numbers=preferences.numbers)
    if scheme is not None and band.step.mix_id is not None:
        parts.append(mix_words(project, scheme.mix(band.step.mix_id)))
    return ", ".join(parts)


def coat_words(coat: Coat, *, numbers: bool) -> list[str]:
    """Technique, weight, passes and place of a coat."""
    weight = tr(heaviness_words(coat))
    if numbers:
        weight += f" ({coat.wet_um:g} µm)"
    passes = tr("{0} passes").format(coat.passes) if coat.passes > 1 else tr("1 pass")
    return [tr(coat.technique.value), weight, passes, placement_words(coat.placement)]
