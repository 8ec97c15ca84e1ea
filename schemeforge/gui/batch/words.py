"""Words of the batch in the user's language."""

from PySide6.QtCore import QCoreApplication

from schemeforge.plan import Stretch, cautions_for
from schemeforge.scheme import AreaBasis, Build, Facing, ShareKind, Step, Surfacing


def tr(text: str) -> str:
    """The text in the user's language."""
    return QCoreApplication.translate("Batch", text)


def build_words(build: Build) -> str:
    """How bulky a model is."""
    return {
        Build.SLIM: tr("slim"),
        Build.MEDIUM: tr("medium build"),
        Build.BULKY: tr("bulky"),
    }[build]


def basis_words(basis: AreaBasis) -> str:
    """Where a zone's area comes from."""
    return {
        AreaBasis.BY_HAND: tr("by hand, cm²"),
        AreaBasis.BODY_SHARE: tr("share of the body"),
        AreaBasis.BASE_TOP: tr("top of the base"),
        AreaBasis.RIM: tr("rim of the base"),
    }[basis]


def surfacing_words(surfacing: Surfacing) -> str:
    """What a zone's surface is like."""
    return {
        Surfacing.FLAT: tr("flat panel"),
        Surfacing.FOLDED: tr("folded"),
        Surfacing.TEXTURED: tr("textured"),
    }[surfacing]


def facing_words(facing: Facing) -> str:
    """Where a zone faces."""
    return {
        Facing.UP: tr("faces up"),
        Facing.SIDE: tr("faces sideways"),
        Facing.DOWN: tr("faces down"),
    }[facing]


def share_words(kind: ShareKind) -> str:
    """What a group gets on a zone."""
    return {
        ShareKind.FULL: tr("full"),
        ShareKind.SHORT: tr("short"),
        ShareKind.OWN: tr("own stack"),
        ShareKind.NONE: tr("none"),
    }[kind]


def minutes_words(minutes: float) -> str:
    """Minutes, or hours and minutes where there are many."""
    if minutes < 100.0:
        return (
            tr("{0:.1f} min").format(minutes)
            if minutes < 10.0
            else tr("{0:.0f} min").format(minutes)
        )
    whole = round(minutes)
    return tr("{0} h {1:02d} min").format(whole // 60, whole % 60)


def models_in(stretch: Stretch) -> str:
    """How many models of which groups a stretch is for."""
    counts: dict[str, float] = {}
    for part in stretch.models:
        counts[part.group.name] = counts.get(part.group.name, 0.0) + part.models
    return ", ".join(f"{models:.3g} {name}" for name, models in counts.items())


def care_words(step: Step) -> str:
    """What can hurt at a step, each advice in a line."""
    return "\n".join(caution.advice for caution in cautions_for(step))
