"""Photographs: upright, by their own profile, never a bomb, one sentence where they are bad."""

import io
import struct
import zlib
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageCms

from schemeforge import colorimetry
from schemeforge.errors import DamagedFileError, MissingFileError, SchemeForgeError
from schemeforge.measurement import photograph as reading
from schemeforge.measurement import read_photograph


def picture(width: int = 40, height: int = 20) -> Image.Image:
    """Left half dark red, right half light grey."""
    codes = np.zeros((height, width, 3), dtype=np.uint8)
    codes[:, : width // 2] = (120, 30, 20)
    codes[:, width // 2 :] = (200, 200, 200)
    return Image.fromarray(codes)


def saved(image: Image.Image, path: Path, **options: object) -> Path:
    image.save(path, **options)  # type: ignore[arg-type]
    return path


@pytest.mark.parametrize("suffix", [".png", ".tif", ".jpg"])
def test_every_format_is_read_into_linear_light(suffix: str, tmp_path: Path) -> None:
    options = {"quality": 95, "subsampling": 0} if suffix == ".jpg" else {}
    read = read_photograph(saved(picture(), tmp_path / f"p{suffix}", **options))
    assert read.size == read.original_size == (40, 20)
    # IEC 61966-2-1: 200/255 decodes to 0.5776.
    assert read.linear[10, 30] == pytest.approx([0.5776] * 3, abs=0.01)
    assert (read.profile, read.name) == ("", f"p{suffix}")
    assert not read.clipped.any()
    assert not read.linear.flags.writeable
    assert np.allclose(read.linear, colorimetry.decode(read.codes / 255), atol=1e-6)


@pytest.mark.parametrize("turn", range(1, 9))
def test_orientation_is_honoured(turn: int, tmp_path: Path) -> None:
    # What the camera turned by the tag must come out as it was.
    back = {
        2: Image.Transpose.FLIP_LEFT_RIGHT,
        3: Image.Transpose.ROTATE_180,
        4: Image.Transpose.FLIP_TOP_BOTTOM,
        5: Image.Transpose.TRANSPOSE,
        6: Image.Transpose.ROTATE_90,
        7: Image.Transpose.TRANSVERSE,
        8: Image.Transpose.ROTATE_270,
    }
    image = picture()
    stored = image.transpose(back[turn]) if turn in back else image
    exif = Image.Exif()
    exif[0x0112] = turn
    read = read_photograph(saved(stored, tmp_path / "p.png", exif=exif))
    assert read.original_size == (40, 20)
    assert (read.codes == np.asarray(image)).all()


def wide_profile() -> bytes:
    """A profile whose red and green primaries are exchanged: nobody could overlook it."""
    made = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    count = struct.unpack(">I", made[128:132])[0]
    places = {bytes(made[132 + 12 * i : 136 + 12 * i]): 132 + 12 * i for i in range(count)}
    red, green = places[b"rXYZ"], places[b"gXYZ"]
    made[red + 4 : red + 12], made[green + 4 : green + 12] = (
        made[green + 4 : green + 12],
        made[red + 4 : red + 12],
    )
    return bytes(made)


def test_the_embedded_profile_is_honoured(tmp_path: Path) -> None:
    path = saved(picture(), tmp_path / "p.png", icc_profile=wide_profile())
    read = read_photograph(path)
    assert read.profile
    left = read.codes[10, 5].astype(int)
    assert left[1] > left[0] + 40  # red became green
    same = read_photograph(
        saved(picture(), tmp_path / "s.png", icc_profile=colorimetry.srgb_icc_profile())
    )
    assert np.abs(same.codes.astype(int) - np.asarray(picture())).max() <= 1


def test_a_damaged_profile_is_told(tmp_path: Path) -> None:
    path = saved(picture(), tmp_path / "p.png", icc_profile=b"not a profile at all")
    with pytest.raises(DamagedFileError, match=r"colour profile .* is damaged"):
        read_photograph(path)


def test_another_space_without_profile_is_told(tmp_path: Path) -> None:
    exif = Image.Exif()
    exif.get_ifd(0x8769)[0xA001] = 65535
    with pytest.raises(DamagedFileError, match="not sRGB, but carries no profile"):
        read_photograph(saved(picture(), tmp_path / "p.jpg", exif=exif))
    exif.get_ifd(0x8769)[0xA001] = 1
    assert read_photograph(saved(picture(), tmp_path / "q.jpg", exif=exif)).profile == ""


@pytest.mark.parametrize("mode", ["L", "1", "P", "LA", "RGBA", "CMYK"])
def test_other_modes(mode: str, tmp_path: Path) -> None:
    suffix = ".tif" if mode == "CMYK" else ".png"
    read = read_photograph(saved(picture().convert(mode), tmp_path / f"p{suffix}"))
    assert read.linear.shape == (20, 40, 3)


def test_what_is_clear_lies_on_grey(tmp_path: Path) -> None:
    clear = Image.new("RGBA", (20, 20), (255, 0, 0, 0))
    read = read_photograph(saved(clear, tmp_path / "p.png"))
    assert (read.codes == 128).all()


def test_clipped_pixels_are_marked(tmp_path: Path) -> None:
    codes = np.asarray(picture()).copy()
    codes[3, 4] = (255, 100, 100)
    codes[5, 6] = (100, 0, 100)
    read = read_photograph(saved(Image.fromarray(codes), tmp_path / "p.png"))
    assert np.argwhere(read.clipped).tolist() == [[3, 4], [5, 6]]


def test_large_pictures_are_averaged_down(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(reading, "WORKED_ON", 200)
    read = read_photograph(saved(picture(), tmp_path / "p.png"))
    assert read.original_size == (40, 20)
    assert read.size == (20, 10)
    assert read.linear[5, 15] == pytest.approx([0.5776] * 3, abs=1e-3)


def bomb(width: int, height: int) -> bytes:
    """A small PNG whose header promises that many pixels."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        body = kind + data
        return struct.pack(">I", len(data)) + body + struct.pack(">I", zlib.crc32(body))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    body = zlib.compress(b"\0" * 10_000)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


def jpeg(cut: int) -> bytes:
    out = io.BytesIO()
    noise = np.random.default_rng(1).integers(0, 256, (64, 64, 3), dtype=np.uint8)
    Image.fromarray(noise).save(out, "JPEG")
    return out.getvalue()[:cut]


def gif() -> bytes:
    out = io.BytesIO()
    picture().save(out, "GIF")
    return out.getvalue()


def deep() -> bytes:
    out = io.BytesIO()
    Image.fromarray(np.zeros((20, 20), dtype=np.uint16)).save(out, "PNG")
    return out.getvalue()


BAD = {
    "a bomb": (bomb(100_000, 100_000), "pixels and is not decoded; save it with at most 80"),
    "a wide bomb": (bomb(12_000, 9_000), "12000 x 9000 pixels and is not decoded"),
    "a strip": (bomb(40_000, 10), "40000 x 10 pixels"),
    "tiny": (bomb(3, 3), "only 3 x 3 pixels"),
    "cut short": (jpeg(1500), "cannot be read"),
    "noise": (np.random.default_rng(2).bytes(3000), "not a JPEG, PNG or TIFF photograph"),
    "another format": (gif(), "not a JPEG, PNG or TIFF photograph"),
    "empty": (b"", "not a JPEG, PNG or TIFF photograph"),
    "sixteen bits": (deep(), 'a form ("I;16") that is not read'),
}


@pytest.mark.parametrize("kind", BAD)
def test_bad_photographs_are_one_sentence(kind: str, tmp_path: Path) -> None:
    data, words = BAD[kind]
    path = tmp_path / "p.png"
    path.write_bytes(data)
    with pytest.raises(SchemeForgeError) as told:
        read_photograph(path)
    assert str(told.value).startswith(f"{path}: ")
    assert words in str(told.value)


def test_places_that_are_no_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(MissingFileError, match="cannot be opened"):
        read_photograph(tmp_path / "none.png")
    with pytest.raises(MissingFileError, match="This is not a file"):
        read_photograph(tmp_path)
    monkeypatch.setattr(reading, "MOST_BYTES", 10)
    with pytest.raises(DamagedFileError, match="larger than 0 MB; save the photograph smaller"):
        read_photograph(saved(picture(), tmp_path / "p.png"))
