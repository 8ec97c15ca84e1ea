"""Which tool a step is done with, and pressure and distance for what is sprayed.

Pressures, distances and humidity are ranges given in published tutorials; needle sizes, the
distance of a plain airbrush coat and brush sizes are from memory. All are common practice: the
maker's sheet comes first.
"""

from dataclasses import dataclass

from schemeforge.scheme import Coat, Primer, Spray, Step, Technique, WorkKind
from schemeforge.scheme.techniques import is_sprayed

_BAR_PER_PSI = 0.0689476
STOP_ABOVE_HUMIDITY_PERCENT = 55.0

_BRUSHES = {
    Technique.BASE_COAT: "flat or round brush, size 2 to 4",
    Technique.LAYER: "round brush, size 1 to 2",
    Technique.GLAZE: "round brush, size 1 to 2, wiped",
    Technique.FEATHERED_GLAZE: "round brush, size 1 to 2, and a clean damp one",
    Technique.WASH: "soft round brush, size 3 to 5",
    Technique.FILTER: "soft flat brush",
    Technique.STAIN: "soft round brush, size 2 to 4",
    Technique.DRY_BRUSH: "flat or domed dry brush",
    Technique.EDGE_HIGHLIGHT: "fine round brush, side of the tip",
    Technique.AIRBRUSH: "airbrush",
}
_WORK = {
    WorkKind.CLEANING: "knife, file, sanding sponge",
    WorkKind.ASSEMBLY: "glue, clamp",
    WorkKind.TEXTURE: "old brush, spatula",
    WorkKind.METALLIC: "round brush kept for metallics",
    WorkKind.DETAIL: "fine round brush",
    WorkKind.DECAL: "tweezers, soft brush",
    WorkKind.VARNISH: "wide soft brush",
    WorkKind.OTHER: "",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class SprayHint:
    """How to hold and set a spray; each pair is lowest and highest.

    Args:
        needle_mm: Airbrush needle.
        pressure_psi: Pressure at the airbrush.
        airbrush_cm: Distance of the airbrush.
        can_cm: Distance of an aerosol can.
        stop_above_humidity_percent: Relative humidity above which to stop.
    """

    needle_mm: tuple[float, float]
    pressure_psi: tuple[float, float]
    airbrush_cm: tuple[float, float]
    can_cm: tuple[float, float] = (20.0, 35.0)
    stop_above_humidity_percent: float = STOP_ABOVE_HUMIDITY_PERCENT

    @property
    def pressure_bar(self) -> tuple[float, float]:
        """The pressure in bar."""
        low, high = self.pressure_psi
        return low * _BAR_PER_PSI, high * _BAR_PER_PSI

    @property
    def words(self) -> str:
        """One line for the sheet, with units."""
        psi, bar = _span(self.pressure_psi), "{:.1f}-{:.1f}".format(*self.pressure_bar)
        return (
            f"airbrush: needle {_span(self.needle_mm)} mm, {psi} psi ({bar} bar), "
            f"{_span(self.airbrush_cm)} cm away; can: {_span(self.can_cm)} cm away; "
            f"stop above {self.stop_above_humidity_percent:g} % humidity (common practice)"
        )


def _span(pair: tuple[float, float]) -> str:
    return f"{pair[0]:g}-{pair[1]:g}"


_FROM_ABOVE = SprayHint(needle_mm=(0.3, 0.5), pressure_psi=(20.0, 25.0), airbrush_cm=(15.0, 20.0))
_ALL_OVER = SprayHint(needle_mm=(0.4, 0.5), pressure_psi=(20.0, 30.0), airbrush_cm=(15.0, 20.0))
_COLOUR = SprayHint(needle_mm=(0.2, 0.3), pressure_psi=(15.0, 25.0), airbrush_cm=(5.0, 15.0))


def spray_hint(step: Step) -> SprayHint | None:
    """Needle, pressure and distance for a sprayed step, None for any other."""
    if not is_sprayed(step):
        return None
    if isinstance(step.layer, Spray):
        return _FROM_ABOVE
    return _COLOUR if isinstance(step.layer, Coat) else _ALL_OVER


def tool_words(step: Step) -> str:
    """The tool that the trade would take for that step, "" where it cannot be said."""
    layer = step.layer
    if isinstance(layer, Coat):
        return _BRUSHES[layer.technique]
    if isinstance(layer, Primer | Spray) or layer.sprayed:
        return "airbrush or can"
    return _WORK[layer.kind]
