"""From the words of ``calibrate`` to a calibrated paint: readings, photograph or colours."""

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from schemeforge import codec, json_text
from schemeforge.appearance.look import SURFACES
from schemeforge.calibration import (
    BLACK,
    GREY,
    WHITE,
    Ground,
    Opacity,
    Outcome,
    Read,
    Reference,
    Swatch,
    colour_of_code,
    from_drawdown,
    from_one_colour,
    from_photograph,
    from_two_colours,
)
from schemeforge.cli.calibration_checks import option
from schemeforge.cli.calibration_words import GEOMETRIES, SCALES
from schemeforge.errors import (
    DamagedFileError,
    InputError,
    SchemeForgeError,
    UnknownNameError,
    shown,
)
from schemeforge.measurement import (
    Geometry,
    Scale,
    SpectraFile,
    Spectrum,
    on_bands,
    read_photograph,
    read_spectra,
)
from schemeforge.measurement.plain_text import as_text, read_bytes
from schemeforge.paint import PaintKind
from schemeforge.scheme import Finish

_CARDS = {"black": BLACK, "grey": GREY, "white": WHITE}
_SAMPLES = ("over_dark", "over_light", "dark", "light")
_PICTURES = (b"\x89PNG", b"\xff\xd8\xff", b"II*\0", b"MM\0*")  # how PNG, JPEG and TIFF begin
_LONGEST_START = 4
_MARKS = {"references": Reference, "grounds": Ground, "swatches": Swatch}


def outcome_of(arguments: argparse.Namespace) -> Outcome:
    """The calibration that the words ask for; errors name the option or the file."""
    surface = SURFACES[Finish(arguments.finish)] if arguments.finish else None
    kind = PaintKind(arguments.kind) if arguments.kind else None
    if arguments.two is not None:
        dark, light = (_colour(code, "--two") for code in arguments.two)
        return from_two_colours(dark, light, film_um=arguments.film, kind=kind, surface=surface)
    if arguments.one is not None:
        assert kind is not None  # noqa: S101 - refused before
        return from_one_colour(
            _colour(arguments.one, "--one"),
            kind,
            Opacity[arguments.opacity.upper()] if arguments.opacity else None,
            ground=_CARDS[arguments.ground] if arguments.ground else None,
            film_um=arguments.film,
            surface=surface,
        )
    if arguments.marks is not None:
        return _photographed(arguments, kind)
    return _measured(arguments)


def _colour(code: str, where: str) -> Any:
    try:
        return colour_of_code(code)
    except InputError as error:
        raise error.at(where) from None


def _measured(arguments: argparse.Namespace) -> Outcome:
    names = (arguments.file, *arguments.also)
    for name in names:
        _refuse_picture(name)
    files = [read_spectra(Path(name)) for name in names]
    try:
        geometry = _geometry(files, arguments.geometry)
        by_name: dict[str, tuple[Spectrum, Scale]] = {}
        for file in files:
            scale = _scale(file, arguments.scale)
            for spectrum in file.spectra:
                if spectrum.name in by_name:
                    raise InputError(
                        f'Two samples have the name "{shown(spectrum.name)}"',
                        remedy="give each a name of its own",
                    )
                by_name[spectrum.name] = spectrum, scale
        reads = []
        for role in _SAMPLES:
            where = option(role)
            wanted = getattr(arguments, role)
            if wanted is None:
                raise InputError(
                    "It is not told which sample this is",
                    where=where,
                    remedy=f"give one of {', '.join(list(by_name)[:12])}",
                )
            if wanted not in by_name:
                raise UnknownNameError("sample", wanted, by_name, where=where)
            read = on_bands(*by_name[wanted])
            reads.append(Read(reflectance=read.values, unsure_nm=read.unsure_nm))
        return _drawn_down(reads, arguments.film, geometry)
    except SchemeForgeError as error:
        raise error.at(arguments.file) from None


def _refuse_picture(name: str) -> None:
    """Refuses a photograph among readings, for which other words are needed."""
    try:
        with Path(name).open("rb") as file:
            start = file.read(_LONGEST_START)
    except (OSError, ValueError):
        return  # told when it is read
    if start.startswith(_PICTURES):
        raise InputError(
            "This is a picture, not an instrument's readings",
            where=name,
            remedy=(
                "give --marks for a photographed swatch card, or --model for a painted test model"
            ),
        )


def _drawn_down(reads: Sequence[Read], film_um: float, geometry: Geometry) -> Outcome:
    """As ``from_drawdown``, whose errors name arguments; here they name options."""
    try:
        return from_drawdown(*reads, film_um=film_um, surface=geometry.surface)
    except InputError as error:
        role, comma, band = error.where.partition(",")
        where = f"{option(role)}{comma}{band}" if role in _SAMPLES else error.where
        raise InputError(error.what, where=where, remedy=error.remedy) from None


def _scale(file: SpectraFile, wanted: str | None) -> Scale:
    if wanted is not None:
        return Scale[SCALES[wanted]]
    if not file.is_scale_sure:
        raise InputError(
            "It is in doubt whether the numbers are fractions or per cent",
            where="--scale",
            remedy="give fraction or percent",
        )
    return file.scale


def _geometry(files: Sequence[SpectraFile], wanted: str | None) -> Geometry:
    if wanted is not None:
        return Geometry[GEOMETRIES[wanted]]
    told = {file.geometry for file in files}
    if len(told) > 1 or None in told:
        raise InputError(
            "The file does not tell whether the instrument included the specular reflection",
            where="--geometry",
            remedy=f"give one of {', '.join(GEOMETRIES)}",
        )
    return next(geometry for geometry in told if geometry is not None)


def _photographed(arguments: argparse.Namespace, kind: PaintKind | None) -> Outcome:
    marks = marks_in(Path(arguments.marks))
    photograph = read_photograph(Path(arguments.file))
    try:
        return from_photograph(
            photograph.linear,
            photograph.clipped,
            references=marks["references"],
            grounds=marks["grounds"],
            swatches=marks["swatches"],
            film_um=arguments.film,
            kind=kind,
            surface=SURFACES[Finish(arguments.finish or Finish.MATT)],
        )
    except SchemeForgeError as error:
        raise error.at(arguments.file) from None


def marks_in(path: Path) -> dict[str, list[Any]]:
    """The marks of a JSON file: lists "references", "grounds" and "swatches"."""
    try:
        tree = _marks_tree(path)
        if not isinstance(tree, dict) or not set(tree) <= set(_MARKS):
            raise DamagedFileError(
                "This is no file of marks", remedy=f"give lists of {', '.join(_MARKS)}"
            )
        found: dict[str, list[Any]] = {}
        for name, mark in _MARKS.items():
            listed = tree.get(name, [])
            if not isinstance(listed, list):
                raise DamagedFileError(f'"{name}" is no list', remedy="give a list")
            found[name] = [_mark(mark, plain, f"{name}[{at}]") for at, plain in enumerate(listed)]
    except SchemeForgeError as error:
        raise error.at(str(path)) from None
    return found


def _marks_tree(path: Path) -> Any:
    """What the file spells; what it should be is told with every reason for which it cannot."""
    remedy = "give --marks the JSON file of marks"
    try:
        data = read_bytes(path)
    except SchemeForgeError as error:
        raise DamagedFileError(error.what, remedy=remedy) from None
    try:
        text = as_text(data)
    except SchemeForgeError:
        raise DamagedFileError("This is no file of marks", remedy=remedy) from None
    try:
        return json_text.parse(text)
    except SchemeForgeError as error:
        raise DamagedFileError(error.what, where=error.where, remedy=remedy) from None


def _mark(mark: Any, plain: object, where: str) -> Any:
    """A mark; its area is written ``[left, top, right, bottom]``."""
    if isinstance(plain, dict):
        area = plain.get("area")
        if isinstance(area, list) and len(area) == 4:
            names = ("left", "top", "right", "bottom")
            plain = plain | {"area": dict(zip(names, area, strict=True))}
    try:
        return codec.decode(mark, plain)
    except SchemeForgeError as error:
        raise error.at(where) from None
