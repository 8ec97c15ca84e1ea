"""Measured paint: what the optics predicts of films that it was not fitted to.

The films are those of [Chen2019], read in the reference folder and never copied here. The whole
report, with pairs left out in turn, is tests/benchmarks/measured_paint.py; this is its quick part.
"""

import csv
import shutil
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from schemeforge import optics
from tests.benchmarks import measured_paint
from tests.benchmarks.film_fit import Settings, fit
from tests.benchmarks.film_model import BANDS, Films, Laying, Paints
from tests.reference_folder import reference_folder

QUICK = Settings(rounds=2)


@pytest.mark.reference
def test_other_loads_and_mixtures_beat_their_targets() -> None:
    folder = reference_folder("ntu_wpsm")
    # A process of its own, since one thread of linear algebra is fastest and is set at its start.
    command = [sys.executable, measured_paint.__file__, "--quick", "--data", str(folder)]
    told = subprocess.run(command, capture_output=True, text=True, check=True, timeout=600)  # noqa: S603
    lines = {line[:14].strip(): line.split() for line in told.stdout.splitlines()[2:]}
    assert list(lines) == ["other loads", "ladders alone", "random half"]
    for name, rows in zip(lines, (3 * 13 * 8, 390, 194), strict=True):
        count, mean, high = (float(word) for word in lines[name][2:5])
        assert count == rows
        assert mean <= measured_paint.TARGETS[name][0]
        assert high <= measured_paint.TARGETS[name][1]
        assert lines[name][-1] == "beaten"


@pytest.mark.reference
def test_rows_kept_apart_are_predicted_without_being_looked_at(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source = reference_folder("ntu_wpsm")
    for name in ("paper.csv", "single_pigment_ladders_143.csv"):
        shutil.copyfile(source / name, tmp_path / name)
    with (source / "mixtures.csv").open(encoding="utf-8", newline="") as file:
        table = list(csv.reader(file))
    for name, part in (("mixtures", table[:61]), ("mixtures_heldout", table[:1] + table[61:])):
        with (tmp_path / f"{name}.csv").open("w", encoding="utf-8", newline="") as file:
            csv.writer(file).writerows(part)
    data = measured_paint.Data.read(tmp_path)
    assert data.held_out is not None
    assert (len(data.mixtures), len(data.held_out)) == (60, 330)
    paints = fit(data.ladders + data.mixtures, data.paper, QUICK)
    told = paints.predict(data.held_out.loads)
    errors = measured_paint.held_out(data, data.held_out, QUICK)
    np.testing.assert_allclose(errors, measured_paint.differences(data.held_out, told))
    # Had the rows' own values been used, other values would have changed the prediction.
    swapped = replace(data.held_out, reflectance=told)
    assert measured_paint.held_out(data, swapped, QUICK).max() < 1e-6
    assert "held out" in measured_paint.report("held out", errors)
    assert measured_paint.main(["--data", str(tmp_path / "nowhere")]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 1


def invented(loads: np.ndarray[tuple[int, ...], np.dtype[np.float64]]) -> Films:
    """Films of three invented pigments, laid evenly, without noise."""
    nm = optics.bands.wavelengths_nm()
    K = np.array([60 * np.exp(-(((nm - centre) / 60) ** 2)) + 0.5 for centre in (450, 550, 640)])
    S = np.array([np.full(BANDS, level) for level in (4.0, 8.0, 2.0)])
    paints = Paints(
        log_K=np.log(K),
        log_S=np.log(S),
        laying=Laying.usual(3, 0),
        known=(),
        paper=np.full(BANDS, 0.85),
    )
    return Films(
        loads=loads, reflectance=paints.predict(loads), training=np.ones(len(loads), dtype=bool)
    )


def test_invented_pigments_are_found_again_and_predict_a_pair_never_met() -> None:
    ladder = np.concatenate([load * np.eye(3) for load in (0.02, 0.05, 0.1, 0.2)])
    mixed = np.array([[a, b, 0.0] for a in (0.02, 0.08) for b in (0.02, 0.08)])
    known = invented(np.concatenate([ladder, mixed, np.roll(mixed, 1, axis=1)]))
    unseen = invented(np.array([[0.03, 0.0, 0.06], [0.06, 0.0, 0.03]]))
    paints = fit(known, np.full(BANDS, 0.85))
    errors = measured_paint.differences(unseen, paints.predict(unseen.loads))
    # Priors pull a little; a wrong rule of mixing or of layering misses by several units.
    assert errors.max() < 0.5


def test_pairs_left_out_together_share_no_pigment() -> None:
    loads = np.zeros((6, 4))
    for row, pair in zip(loads, [(0, 1), (0, 2), (0, 3), (1, 2), (1, 3), (2, 3)], strict=True):
        row[list(pair)] = 0.02
    films = Films(
        loads=loads, reflectance=np.full((6, BANDS), 0.5), training=np.ones(6, dtype=bool)
    )
    groups = measured_paint.folds(films)
    np.testing.assert_array_equal(np.sum(groups, axis=0), 1)
    for group in groups:
        assert loads[group].astype(bool).sum(axis=0).max() == 1
