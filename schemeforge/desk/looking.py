"""How stand-in models are lit, sprayed and sized in the window: kept between runs."""

from dataclasses import asdict, dataclass, fields
from typing import Any, Final

from schemeforge import checks
from schemeforge.errors import SchemeForgeError

# Lowest and highest, with what it is; the defaults are those of the stand-ins themselves.
LIMITS = {
    "lamp_side": ("Direction of the lamp", -180.0, 180.0),
    "lamp_height": ("Height of the lamp", -10.0, 90.0),
    "spray_half_angle": ("Half-angle of the spray", 5.0, 80.0),
    "low_pass": ("Share of the low pass", 0.0, 1.0),
    "low_angle": ("Angle of the low pass", 0.0, 80.0),
    "model_mm": ("Height of the model", 0.0, 1000.0),
    "screen_fit": ("Size of the screen's pixels", 0.25, 4.0),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Looking:
    """How models are shown; pictures only, no number depends on it.

    Args:
        lamp_side: Degrees to the right of the viewer, -180 to 180.
        lamp_height: Degrees above the table, -10 to 90.
        spray_half_angle: Degrees from straight above within which the undercoat came, 5 to 80.
        low_pass: Share of a second, low pass from all sides, 0 (none) to 1.
        low_angle: Degrees above the table from which that came, 0 to 80.
        model_mm: Height of the painter's model in mm, 0 to follow the base.
        screen_fit: True size of the screen's pixels against what the screen says.
    """

    lamp_side: float = -38.0
    lamp_height: float = 48.0
    spray_half_angle: float = 48.0
    low_pass: float = 0.34
    low_angle: float = 35.0
    model_mm: float = 0.0
    screen_fit: float = 1.0

    def __post_init__(self) -> None:
        for name, (what, low, high) in LIMITS.items():
            checks.number(getattr(self, name), what, low=low, high=high)


AS_FOUND: Final = Looking()


def looking_as_json(looking: Looking) -> dict[str, float]:
    """As plain values for the file of preferences."""
    return asdict(looking)


def looking_from_json(raw: Any) -> Looking:
    """Back from plain values; the defaults where they are missing or make no sense."""
    if not isinstance(raw, dict):
        return AS_FOUND
    known = {field.name for field in fields(Looking)}
    try:
        return Looking(**{name: float(value) for name, value in raw.items() if name in known})
    except (SchemeForgeError, TypeError, ValueError, OverflowError):
        return AS_FOUND
