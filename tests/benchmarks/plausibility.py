"""How like real pigments the invented starter paints are: hue, chroma and lightness.

Run ``python -m tests.benchmarks.plausibility [--data FOLDER]``, FOLDER being the ``ks_tables`` of
the reference folder. Two tables of artist acrylics (K and S at 10 nm, white scattering 1) and the
RGB table of [Curtis1997] are read in place. Strength differs by maker and is left out of the
comparison: the table's 1:1 and 1:4 in white are held against the tint of the starter paint, in the
table's own white, that comes nearest; ``parts`` says how much paint that takes to one of white.
"""

import argparse
import csv
import os
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry, optics
from schemeforge.optics import bands
from schemeforge.paint import Paint
from schemeforge.shelf import starter_paint, starter_paints

Floats = NDArray[np.float64]
_BESIDE = Path(__file__).resolve().parents[3] / "shared" / "reference"
FOLDER = Path(os.environ.get("SCHEMEFORGE_REFERENCE", str(_BESIDE))) / "ks_tables"

# Surface of the 2016 table, specular excluded; used for all, so that only pigment differs.
SURFACE = optics.Surface(w=0.0, k1=0.03, k2=0.65)

TABLES = {
    "2005": ("acrylic_27_ks_2005.csv", "pigment", "titanium white"),
    "2016": ("acrylic_19_ks_2016.csv", "colour_index", "PW6"),
}
RGB_TABLE = "curtis1997_table.csv"

# Starter paint to the same Colour Index name or the nearest kind in each table.
PARTNERS = {
    "soot-black": {"2005": "carbon black", "2016": "PBk9"},
    "bone-white": {"2005": "unbleached titanium (off-white)"},
    "kingcup-yellow": {"2005": "hansa yellow PY74", "2016": "PY74", "1997": "hansa yellow"},
    "yolk-yellow": {"2005": "diarylide yellow", "2016": "PY83"},
    "green-gold": {"2005": "green gold (azo complex)"},
    "lantern-orange": {"2016": "PO73", "1997": "brilliant orange"},
    "poppy-red": {"2005": "pyrrole red", "2016": "PR254"},
    "mallow-rose": {"2016": "PV19", "1997": "quinacridone rose"},
    "heather-magenta": {"2005": "quinacridone magenta", "2016": "PR122"},
    "dark-wine": {"2005": "quinacridone crimson"},
    "dusk-violet": {"2005": "dioxazine purple", "2016": "PV23"},
    "night-blue": {"2005": "ultramarine blue", "2016": "PB29", "1997": "french ultramarine"},
    "indigo-ink": {"2005": "anthraquinone blue"},
    "deep-water-blue": {"2005": "phthalo blue green shade", "2016": "PB15:4"},
    "clear-sky-blue": {"2005": "cerulean blue", "2016": "PB36:1", "1997": "cerulean blue"},
    "kingfisher-blue": {"2005": "cobalt blue", "2016": "PB28"},
    "dark-teal-ink": {"2005": "phthalo green blue shade", "2016": "PG7", "1997": "phthalo green"},
    "sedge-green": {"2016": "PG36"},
    "reed-green": {"2005": "chromium oxide green"},
    "reed-ochre": {"2005": "yellow ochre"},
    "amber": {"2005": "raw sienna"},
    "rust-orange": {"2005": "burnt sienna"},
    "brick-red": {"2005": "red iron oxide", "1997": "indian red"},
    "chestnut": {"2005": "burnt umber", "1997": "burnt umber"},
    "peat-brown": {"2005": "raw umber"},
    "buttercup-yellow": {"2016": "PY184"},
    "hawkweed-orange": {"2016": "PO20"},
    "rosehip-red": {"2016": "PR108", "1997": "cadmium red"},
    "rowan-red": {"2005": "naphthol red"},
    "harebell-blue": {"2016": "PB15:1"},
    "damson-violet": {"2005": "dioxazine purple", "2016": "PV23"},
}

# The tables' white scatters 1, the starter shelf's this much per micrometre.
WHITE_PER_UM = 0.2

PARTS_TO_ONE_OF_WHITE = (0.001, 1000.0)


@dataclass(frozen=True, slots=True)
class Colour:
    """Lightness, chroma and hue angle in degrees under D65."""

    lightness: float
    chroma: float
    hue: float

    @property
    def lab(self) -> Floats:
        """The same as CIELAB."""
        return np.asarray(colorimetry.lab_from_lch([self.lightness, self.chroma, self.hue]))

    def hue_from(self, other: "Colour") -> float:
        """Signed hue angle from the other to this, -180 to 180 degrees."""
        return (self.hue - other.hue + 180.0) % 360.0 - 180.0


@dataclass(frozen=True, slots=True)
class Row:
    """One comparison: the starter paint's colour beside the published one's."""

    paint_id: str
    table: str
    pigment: str
    at: str
    ours: Colour
    theirs: Colour
    parts: float

    @property
    def is_chromatic(self) -> bool:
        """True where the published colour has enough chroma for its hue angle to mean much."""
        return self.theirs.chroma >= 12.0


@cache
def table(folder: Path, name: str) -> dict[str, tuple[Floats, Floats]]:
    """K and S on the program's bands by pigment."""
    file, key, _ = TABLES[name]
    rows: dict[str, dict[str, Floats]] = {}
    with (folder / file).open(encoding="utf-8", newline="") as stream:
        for row in csv.DictReader(stream):
            values = np.array([float(row[f"{nm:.0f}"]) for nm in bands.wavelengths_nm()])
            rows.setdefault(row[key], {})[row["quantity"]] = values
    return {pigment: (row["K"], row["S"]) for pigment, row in rows.items()}


def spectra(paint: Paint) -> tuple[Floats, Floats]:
    """K and S of a starter paint as arrays."""
    return np.array(paint.absorption), np.array(paint.scattering)


def colour_of(reflectance: Floats) -> Colour:
    """The colour of a reflectance of 36 bands."""
    return _polar(np.asarray(colorimetry.lab(reflectance)))


def _polar(lab: Floats) -> Colour:
    lightness, a, b = (float(value) for value in lab)
    return Colour(lightness, float(np.hypot(a, b)), float(np.degrees(np.arctan2(b, a))) % 360.0)


def tint(paint: tuple[Floats, Floats], white: tuple[Floats, Floats], parts: float) -> Colour:
    """The masstone of that many parts of paint to one of white; all paint where infinite."""
    if not np.isfinite(parts):
        K, S = paint
    else:
        K, S = (parts * p + w for p, w in zip(paint, white, strict=True))
    return colour_of(optics.seen(optics.r_infinity(K, S), SURFACE))


def nearest_parts(
    paint: tuple[Floats, Floats], white: tuple[Floats, Floats], wanted: Colour
) -> float:
    """Parts of paint to one of white whose tint comes nearest to that colour (CIE 1976)."""
    parts = np.geomspace(*PARTS_TO_ONE_OF_WHITE, 1201)
    K, S = (parts[:, np.newaxis] * p + w for p, w in zip(paint, white, strict=True))
    lab = colorimetry.lab(optics.seen(optics.r_infinity(K, S), SURFACE))
    return float(parts[np.argmin(colorimetry.cie76(lab, wanted.lab))])


def spectral_rows(folder: Path, paint_id: str) -> list[Row]:
    """Masstone, and the tints nearest to the table's 1:1 and 1:4, against both tables."""
    K, S = spectra(starter_paint(paint_id))
    ours = K / WHITE_PER_UM, S / WHITE_PER_UM
    rows = []
    for name, pigment in PARTNERS[paint_id].items():
        if name not in TABLES:
            continue
        published = table(folder, name)
        theirs, their_white = published[pigment], published[TABLES[name][2]]
        for at, share in (("masstone", np.inf), ("1:1", 1.0), ("1:4", 0.25)):
            wanted = tint(theirs, their_white, share)
            parts = np.inf
            if np.isfinite(share):
                parts = nearest_parts(ours, their_white, wanted)
            mixed = tint(ours, their_white, parts)
            rows.append(Row(paint_id, name, pigment, at, mixed, wanted, float(parts)))
    return rows


def rgb_rows(folder: Path, paint_id: str) -> list[Row]:
    """A film over white against the three-band table, at equal lightness; ``parts`` in um."""
    pigment = PARTNERS[paint_id].get("1997")
    if pigment is None:
        return []
    with (folder / RGB_TABLE).open(encoding="utf-8", newline="") as stream:
        row = next(r for r in csv.DictReader(stream) if r["pigment"] == pigment)
    rgb = np.array([float(row[f"R_over_white_{band}"]) for band in "rgb"])
    theirs = _polar(np.asarray(colorimetry.lab_from_xyz(colorimetry.xyz_from_linear_rgb(rgb))))
    K, S = spectra(starter_paint(paint_id))
    low, high = 0.01, 1000.0
    for _ in range(60):
        film = (low * high) ** 0.5
        ours = colour_of(optics.reflectance_over(1.0, film * K, film * S))
        low, high = (film, high) if ours.lightness > theirs.lightness else (low, film)
    return [Row(paint_id, "1997", pigment, "over white", ours, theirs, film)]


def comparison(folder: Path) -> list[Row]:
    """Every row of the comparison."""
    return [
        row
        for paint_id in PARTNERS
        for row in (*spectral_rows(folder, paint_id), *rgb_rows(folder, paint_id))
    ]


def hiding_um(paint: Paint) -> float:
    """Wet film at which Y over black is 0.98 of Y over white (0.05 and 0.80 inside); inf if none.

    A contrast ratio of 0.98 as complete hiding is common practice in paint testing.
    """
    K, S = spectra(paint)
    for film in np.geomspace(5.0, 5000.0, 400):
        over = optics.reflectance_over(
            np.array([[0.05], [0.80]]), film * K[np.newaxis], film * S[np.newaxis]
        )
        Y = colorimetry.xyz(over)[:, 1]
        if Y[0] / Y[1] >= 0.98:
            return float(film)
    return float("inf")


def main() -> None:
    """Prints the table of differences and what each paint hides at."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--data", type=Path, default=FOLDER)
    rows = comparison(parser.parse_args().data)
    print(f"{'paint':16} {'table':5} {'pigment':32} {'at':10} "
          "   L*    C     h |  L*    C     h |   dL    dC    dh  parts")  # fmt: skip
    for row in rows:
        o, t = row.ours, row.theirs
        print(
            f"{row.paint_id:16} {row.table:5} {row.pigment:32} {row.at:10} "
            f"{o.lightness:5.1f} {o.chroma:5.1f} {o.hue:5.0f} |"
            f"{t.lightness:5.1f} {t.chroma:5.1f} {t.hue:5.0f} |"
            f"{o.lightness - t.lightness:5.1f} {o.chroma - t.chroma:5.1f} "
            f"{o.hue_from(t):5.0f}{' ' if row.is_chromatic else '~'} {row.parts:6.2f}"
        )
    print("\nhides at (wet um)")
    for paint in starter_paints():
        print(f"{paint.id:18} {paint.kind.value:12} {hiding_um(paint):7.0f}")


if __name__ == "__main__":
    main()
