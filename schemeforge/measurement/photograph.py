"""A photograph read into linear light: upright, by its own colour profile, and never a bomb.

The picture's size is looked at before a pixel is decoded. Large ones are averaged down, which
loses nothing where patches of even paint are wanted.
"""

import io
import math
import stat
import struct
import warnings
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray
from PIL import ExifTags, Image, ImageCms, ImageOps, UnidentifiedImageError

from schemeforge import colorimetry
from schemeforge.errors import DamagedFileError, MissingFileError, SchemeForgeError
from schemeforge.whole_file import reason

FORMATS: Final = ("JPEG", "PNG", "TIFF")
MOST_BYTES: Final = 128 * 1024**2
MOST_PIXELS: Final = 80_000_000
LONGEST_SIDE: Final = 30_000
WORKED_ON: Final = 6_000_000  # pixels; larger pictures are averaged down to fewer
_LOW, _HIGH = 2, 253  # codes beyond which a channel may be clipped
_SRGB_COLOUR_SPACE: Final = 1
_MODES: Final = frozenset({"1", "L", "LA", "P", "PA", "RGB", "RGBA", "CMYK", "YCbCr", "LAB"})


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Photograph:
    """A picture in linear sRGB.

    Args:
        linear: Linear sRGB, white 1, float32 ``(height, width, 3)``, read-only.
        clipped: Where a channel of the file stands at an end of its scale, ``(height, width)``.
        codes: 8-bit sRGB to show, ``(height, width, 3)``, read-only.
        profile: Name of the embedded profile, or "" where sRGB was taken.
        original_size: Width and height in the file, upright.
        name: The file's name, for sentences.
    """

    linear: NDArray[np.float32]
    clipped: NDArray[np.bool_]
    codes: NDArray[np.uint8]
    profile: str = ""
    original_size: tuple[int, int] = (0, 0)
    name: str = ""

    @property
    def size(self) -> tuple[int, int]:
        """Width and height as worked on."""
        return self.linear.shape[1], self.linear.shape[0]


def read_photograph(path: Path) -> Photograph:
    """The photograph of a JPEG, PNG or TIFF file.

    Raises:
        MissingFileError: Where the file cannot be opened.
        DamagedFileError: For another kind of file, one too large, or one that is cut short.
    """
    try:
        return _decoded(_bytes(path), path.name)
    except SchemeForgeError as error:
        raise error.at(str(path)) from None


def _bytes(path: Path) -> bytes:
    try:
        kind = path.stat()
        if not stat.S_ISREG(kind.st_mode):
            raise MissingFileError("This is not a file", remedy="choose a photograph")
        if kind.st_size > MOST_BYTES:
            raise DamagedFileError(
                f"The file is larger than {MOST_BYTES // 1024**2} MB",
                remedy="save the photograph smaller",
            )
        with path.open("rb") as file:
            return file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        raise MissingFileError(
            f"The file cannot be opened ({reason(error)})", remedy="check its name and folder"
        ) from None


def _decoded(data: bytes, name: str) -> Photograph:
    with warnings.catch_warnings():
        # Sizes are judged below; the library's own warning would come first.
        warnings.simplefilter("ignore", Image.DecompressionBombWarning)
        try:
            with Image.open(io.BytesIO(data), formats=FORMATS) as image:
                _refuse_bombs(*image.size)
                _refuse_mode(image.mode)
                return _photograph(image, name)
        except Image.DecompressionBombError:
            raise _too_large("far too many") from None
        except UnidentifiedImageError:
            raise DamagedFileError(
                "This is not a JPEG, PNG or TIFF photograph of 8 bits",
                remedy="save it as a JPEG or PNG",
            ) from None
        except (OSError, SyntaxError, ValueError, EOFError, struct.error, MemoryError) as error:
            raise DamagedFileError(
                f"The photograph cannot be read ({reason(error)})",
                remedy="copy it from the camera again, or save it anew",
            ) from None


def _refuse_bombs(width: int, height: int) -> None:
    if width * height > MOST_PIXELS or max(width, height) > LONGEST_SIDE:
        raise _too_large(f"{width} x {height}")
    if min(width, height) < 8:
        raise DamagedFileError(
            f"The picture is only {width} x {height} pixels", remedy="choose a larger photograph"
        )


def _too_large(size: str) -> DamagedFileError:
    return DamagedFileError(
        f"The picture has {size} pixels and is not decoded",
        remedy=f"save it with at most {MOST_PIXELS // 10**6} million",
    )


def _refuse_mode(mode: str) -> None:
    if mode not in _MODES:
        raise DamagedFileError(
            f'The picture keeps its colours in a form ("{mode}") that is not read',
            remedy="save it as a JPEG or PNG of 8 bits",
        )


def _photograph(image: Image.Image, name: str) -> Photograph:
    profile = image.info.get("icc_profile")
    turned = ImageOps.exif_transpose(image)
    width, height = turned.size
    if turned.mode in {"1", "L", "LA", "P", "PA", "YCbCr", "RGBA"}:
        turned = _flat(turned)
    times = math.ceil(math.sqrt(width * height / WORKED_ON))
    small = turned.reduce(times) if times > 1 else turned
    raw = np.asarray(small)
    # Ink (CMYK) and Lab have no end of scale that a camera could have met.
    is_light = small.mode == "RGB"
    ends = (raw <= _LOW) | (raw >= _HIGH) if is_light else np.zeros(raw.shape, dtype=bool)
    shown, label = _in_srgb(small, profile, _exif_colour_space(image))
    codes = np.ascontiguousarray(np.asarray(shown, dtype=np.uint8))
    table = colorimetry.decode(np.arange(256) / 255).astype(np.float32)
    linear = table[codes]
    for array in (codes, linear):
        array.setflags(write=False)
    return Photograph(
        linear=linear,
        clipped=np.asarray(ends.any(axis=-1)),
        codes=codes,
        profile=label,
        original_size=(width, height),
        name=name,
    )


def _flat(image: Image.Image) -> Image.Image:
    """Plain RGB; what is transparent lies on mid grey."""
    if image.mode in {"LA", "PA", "RGBA"} or "transparency" in image.info:
        over = image.convert("RGBA")
        ground = Image.new("RGBA", over.size, (128, 128, 128, 255))
        return Image.alpha_composite(ground, over).convert("RGB")
    return image.convert("RGB")


def _in_srgb(
    image: Image.Image, profile: object, colour_space: int | None
) -> tuple[Image.Image, str]:
    """The picture in sRGB and the name of the profile that it was in, "" for none."""
    if isinstance(profile, bytes) and profile:
        try:
            source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            label = ImageCms.getProfileDescription(source).strip()
            target = ImageCms.createProfile("sRGB")
            made = ImageCms.profileToProfile(
                image,
                source,
                target,
                renderingIntent=ImageCms.Intent.RELATIVE_COLORIMETRIC,
                outputMode="RGB",
            )
        except (ImageCms.PyCMSError, OSError, ValueError, TypeError):
            raise DamagedFileError(
                "The colour profile in the photograph is damaged or of another kind of picture",
                remedy="save it with an sRGB profile",
            ) from None
        assert made is not None  # noqa: S101 - None only where it works in place
        return made, label or "embedded profile"
    if colour_space not in {None, _SRGB_COLOUR_SPACE} and image.mode == "RGB":
        raise DamagedFileError(
            "The photograph says that its colours are not sRGB, but carries no profile",
            remedy="save it with its profile, or as sRGB",
        )
    return image.convert("RGB"), ""


def _exif_colour_space(image: Image.Image) -> int | None:
    """What the camera wrote: 1 for sRGB, 65535 for another space, None for nothing."""
    value = image.getexif().get_ifd(ExifTags.IFD.Exif).get(ExifTags.Base.ColorSpace)
    return value if isinstance(value, int) else None
