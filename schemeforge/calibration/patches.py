"""What a fit is given: patches of painted card as colours or spectra over known grounds."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from schemeforge import checks
from schemeforge.errors import InputError
from schemeforge.optics import bands

# Standard error of a colour in encoded sRGB from 0 to 1: of a photographed patch one and a half
# steps of 255, of a code typed in only what rounding does (1/sqrt(12) of a step).
PHOTO_NOISE: Final = 1.5 / 255
CODE_NOISE: Final = 0.3 / 255
HAND: Final = 0.15  # log-normal spread of a coat's film, as in predictions
MOST_PATCHES: Final = 400
THICK_UM: Final = 20_000.0  # as good as endless for any paint that hides at all


@dataclass(frozen=True, slots=True, kw_only=True)
class Patch:
    """One painted patch, seen as a colour or read as a spectrum.

    Args:
        name: How a sentence calls it, for example "over black, 2 coats".
        ground: Reflectance of the bare ground as seen, 36 bands, 0 to 1.
        film_um: Nominal wet film of neat paint in um, above 0; ``THICK_UM`` for a hiding layer.
        colour: Linear sRGB as seen, adapted to D65, white 1; may lie outside 0 to 1. Empty for
            a spectrum.
        reflectance: Reflectance as seen, 36 bands. Empty for a colour.
        stroke: Patches of one stroke have one film: the same name for each of them.
        hand: Log-normal spread of the stroke's film about its nominal; 0 where the patch itself
            defines what the nominal film is.
        noise: Standard error in encoded sRGB, or in reflectance; above 0.
        noise_ratio: Further standard error of a reflectance, as a share of it.
        unsure_nm: Bands of a reflectance that were not read but carried on from the last one.
        clipped: Per channel: -1 where the colour may be darker than recorded, 1 lighter, 0 as is.
    """

    name: str
    ground: tuple[float, ...]
    film_um: float
    colour: tuple[float, ...] = ()
    reflectance: tuple[float, ...] = ()
    stroke: str = ""
    hand: float = HAND
    noise: float = PHOTO_NOISE
    noise_ratio: float = 0.0
    unsure_nm: tuple[int, ...] = ()
    clipped: tuple[int, int, int] = (0, 0, 0)

    def __post_init__(self) -> None:
        checks.name(self.name, "Patch")
        where = f'Patch "{self.name}"'
        if (len(self.colour), len(self.reflectance)) not in {(3, 0), (0, bands.COUNT)}:
            raise InputError(
                f"{where} has {len(self.colour)} channels and {len(self.reflectance)} bands",
                remedy=f"give it either a colour of 3 or a spectrum of {bands.COUNT}",
            )
        for value in self.colour:
            checks.number(value, f"{where}: linear sRGB", low=-2.0, high=4.0)
        for value in self.reflectance:
            checks.number(value, f"{where}: reflectance", low=-0.05, high=1.2)
        if len(self.ground) != bands.COUNT:
            raise InputError(
                f"{where} has a ground of {len(self.ground)} bands", remedy=f"give {bands.COUNT}"
            )
        for value in self.ground:
            checks.number(value, f"{where}: reflectance of the ground", low=0.0, high=1.0)
        checks.number(self.film_um, f"{where}: film", low=0.01, high=1e5, unit="um")
        checks.number(self.hand, f"{where}: spread of the film", low=0.0, high=2.0)
        checks.number(self.noise, f"{where}: noise", low=1e-5, high=0.5)
        checks.number(self.noise_ratio, f"{where}: noise ratio", low=0.0, high=0.5)


@dataclass(frozen=True, slots=True, kw_only=True)
class Hiding:
    """What a painter says of opacity: the wet film that hides a black-and-white pattern.

    Args:
        film_um: Middle of what is thought possible, in um, above 0.
        spread: Standard deviation of its natural log, above 0.
    """

    film_um: float
    spread: float

    def __post_init__(self) -> None:
        checks.number(self.film_um, "The film that hides", low=0.01, high=1e5, unit="um")
        checks.number(self.spread, "The spread of the film that hides", low=0.01, high=5.0)


def stroke_of(place: int, patch: Patch) -> str:
    """Name of the patch's stroke; one of its own where it shares none."""
    return patch.stroke or f"patch {place + 1}"


def check_patches(patches: Sequence[Patch]) -> None:
    """Raises InputError for none, too many, or colours and spectra in one fit."""
    if not 1 <= len(patches) <= MOST_PATCHES:
        raise InputError(
            f"There are {len(patches)} patches", remedy=f"mark 1 to {MOST_PATCHES} of them"
        )
    if len({bool(patch.colour) for patch in patches}) > 1:
        raise InputError(
            "Some patches are colours and some are spectra", remedy="fit them one after the other"
        )
