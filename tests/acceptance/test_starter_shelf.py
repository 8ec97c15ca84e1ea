"""The starter shelf: what its file holds, magnitudes, and likeness to published pigments."""

import importlib.util
import json
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest

from schemeforge import colorimetry, optics, resources
from schemeforge.errors import DamagedFileError
from schemeforge.paint import Basis, Paint, PaintKind
from schemeforge.shelf import starter, starter_paint, starter_paints
from tests.benchmarks import plausibility
from tests.reference_folder import reference_folder

SCRIPT = Path(__file__).resolve().parents[2] / "assets" / "scripts" / "make_starter_shelf.py"


def load_script() -> ModuleType:
    spec = importlib.util.spec_from_file_location("make_starter_shelf", SCRIPT)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


MAKER = load_script()
PAINTS = starter_paints()
PIGMENTED = tuple(paint for paint in PAINTS if not paint.kind.is_clear)


def spectra(paint: Paint) -> tuple[plausibility.Floats, plausibility.Floats]:
    return plausibility.spectra(paint)


def test_the_file_is_what_the_script_makes() -> None:
    path = resources.asset(starter.FILE)
    assert path.read_text(encoding="utf-8") == MAKER.text()


def test_the_shelf_covers_what_a_first_scheme_needs() -> None:
    kinds = [paint.kind for paint in PAINTS]
    assert len(PAINTS) >= 60
    for kind, least in ((PaintKind.WASH, 8), (PaintKind.INK, 8), (PaintKind.TRANSLUCENT, 12)):
        assert kinds.count(kind) >= least
    assert kinds.count(PaintKind.OPAQUE) >= 20
    assert kinds.count(PaintKind.PRIMER) >= 3
    assert kinds.count(PaintKind.MEDIUM) == 2
    assert {"soot-black", "chalk-white", "off-white"} <= {paint.id for paint in PAINTS}
    assert len({paint.id for paint in PAINTS}) == len({p.name for p in PAINTS}) == len(PAINTS)


def test_every_paint_says_typical_not_measured() -> None:
    assert {paint.basis for paint in PAINTS} == {Basis.TYPICAL}
    assert {paint.basis.words for paint in PAINTS} == {"typical, not measured"}
    for paint in PAINTS:
        assert paint.uncertainty.level_k >= 0.2
        assert paint.uncertainty.level_s >= 0.15


def test_nothing_scatters_or_absorbs_exactly_nothing() -> None:
    for paint in PAINTS:
        K, S = spectra(paint)
        assert K.min() > 0.0, paint.name
        assert S.min() > 0.0, paint.name


def test_volume_solids_are_the_trades() -> None:
    # Published sheets and memory: ordinary paint 25 to 40 %, wash and ink 5 to 15, medium 25 to 35.
    low_high = {PaintKind.WASH: (0.05, 0.15), PaintKind.INK: (0.05, 0.15)}
    for paint in PAINTS:
        low, high = low_high.get(paint.kind, (0.25, 0.4))
        assert low <= paint.volume_solids <= high, paint.name


def test_white_scatters_as_hobby_white_does() -> None:
    K, S = spectra(starter_paint("chalk-white"))
    assert 0.15 <= S.min() <= S.max() <= 0.25
    assert optics.r_infinity(K, S)[10:].min() > 0.9


@pytest.mark.parametrize("paint", PAINTS, ids=lambda paint: paint.id)
def test_hiding(paint: Paint) -> None:
    # A base coat hides in 60 to 90 um wet (common practice), darks sooner; what is not called
    # opaque does not.
    hides = plausibility.hiding_um(paint)
    if paint.id == "poppy-red":
        # A clean organic red is known to cover badly: two to three coats (common practice).
        assert 90.0 < hides < 250.0
    elif paint.kind in {PaintKind.OPAQUE, PaintKind.PRIMER}:
        assert hides <= 90.0
    else:
        assert hides > 80.0


@pytest.mark.parametrize(
    "paint", [p for p in PAINTS if p.kind is PaintKind.WASH], ids=lambda paint: paint.id
)
def test_a_general_wash_darkens_recesses_and_spares_crests(paint: Paint) -> None:
    # 30:30:40 at 140 um wet (common practice): a pool holds 2.5 times the mean, a crest 0.15.
    medium = starter_paint("matt-medium")
    water = np.zeros(optics.bands.COUNT)
    (K_wash, S_wash), (K_medium, S_medium) = spectra(paint), spectra(medium)
    K, S = np.array([K_wash, K_medium, water]), np.array([S_wash, S_medium, water])
    lightness = []
    for share in (2.5, 0.15, 0.0):
        depths = optics.mix([30.0, 30.0, 40.0], 140.0 * share, K, S)
        seen = optics.seen(optics.reflectance_over(0.85, *depths), optics.MATT)
        lightness.append(float(colorimetry.lab(seen)[0]))
    pool, crest, bare = lightness
    assert bare - pool > 25.0
    assert bare - crest < 8.0


@pytest.mark.reference
def test_hue_and_chroma_are_plausible() -> None:
    # Two published tables of artist acrylics; they differ from each other by 2.6 CIEDE2000 on the
    # same maker's pigments, so hue within 15 degrees and chroma within 12 is like enough for a
    # paint that stands for no product. Masstones under L* 28 are left out: there a trace of
    # surface or white turns hue and chroma about, and the two tables disagree as much.
    folder = reference_folder("ks_tables")
    rows = [
        row
        for paint_id in plausibility.PARTNERS
        for row in plausibility.spectral_rows(folder, paint_id)
    ]
    assert len(rows) > 90
    compared = [r for r in rows if r.at != "masstone" or r.theirs.lightness > 28.0]
    for row in compared:
        label = f"{row.paint_id} {row.at} against {row.pigment} ({row.table})"
        assert abs(row.ours.chroma - row.theirs.chroma) <= 12.0, label
        if row.is_chromatic:
            assert abs(row.ours.hue_from(row.theirs)) <= 15.0, label
        assert abs(row.ours.lightness - row.theirs.lightness) <= 8.0, label


def test_a_damaged_shelf_is_told_in_a_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    broken = tmp_path / "starter_shelf.json"
    broken.write_text(json.dumps({"paints": [{"id": "x"}]}), encoding="utf-8")
    monkeypatch.setattr(resources, "asset", lambda *_: broken)
    starter.starter_paints.cache_clear()
    try:
        with pytest.raises(DamagedFileError, match="starter shelf"):
            starter.starter_paints()
    finally:
        starter.starter_paints.cache_clear()
