"""Finds the reference folder: measured data and check values that are read in place."""

import os
from pathlib import Path

import pytest

_BESIDE = Path(__file__).resolve().parents[2] / "shared" / "reference"


def reference_folder(*parts: str) -> Path:
    """Path inside the reference folder; skips the test, saying so, where it is absent."""
    root = Path(os.environ.get("SCHEMEFORGE_REFERENCE", str(_BESIDE)))
    path = root.joinpath(*parts)
    if not path.exists():
        pytest.skip(f"the reference folder is not here ({root.name}/{'/'.join(parts)} missing)")
    return path
