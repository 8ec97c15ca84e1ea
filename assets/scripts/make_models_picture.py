"""Writes the demo's three schemes on three wardens to assets/pictures/models.png.

Run from the root of a checkout: ``python assets/scripts/make_models_picture.py [--keep FOLDER]``,
where the folder keeps views of the model, which take a while to trace.
"""

import argparse
import sys
import tempfile
from pathlib import Path

import numpy as np
from PIL import Image

from schemeforge.export.png import png_of
from schemeforge.resources import asset
from schemeforge.scheme import project_file
from schemeforge.stand_in import WARDEN, SprayCone, StandIns, Turn, picture_of, worn

PICTURE = Path(__file__).resolve().parents[1] / "pictures" / "models.png"
SIZE = 640
# Left and right turn a little towards the middle one.
TURNS = (35.0, 20.0, 5.0)
GREY = (150, 150, 150)  # the window's own surround
_SIDES, _TOP, _FOOT = 0.1, 0.07, 0.985


def make(folder: Path) -> None:
    """Paints them and writes the picture."""
    project = project_file.load(Path(asset("demo", "saltmarsh_wardens.schemeforge")))
    views, wearing = StandIns(folder), worn(project, WARDEN)
    wide = round((1 - 2 * _SIDES) * SIZE)
    high = round(_FOOT * SIZE) - round(_TOP * SIZE)
    whole = Image.new("RGB", (3 * wide, high), GREY)
    for n, (scheme, azimuth) in enumerate(zip(project.schemes, TURNS, strict=True)):
        view = views.view(WARDEN, SIZE, Turn(azimuth), SprayCone())
        rgba = picture_of(project, scheme, view, wearing).rgba
        left, top = round(_SIDES * SIZE), round(_TOP * SIZE)
        model = Image.fromarray(np.ascontiguousarray(rgba[top : top + high, left : left + wide]))
        whole.paste(model, (n * wide, 0), model)
    PICTURE.parent.mkdir(exist_ok=True)
    PICTURE.write_bytes(png_of(whole, 96.0))
    print(f"wrote {PICTURE}")


def main() -> int:
    """Reads the command line."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--keep", type=Path, help="folder of views (a temporary one)")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        make(asked.keep or Path(folder))
    return 0


if __name__ == "__main__":
    sys.exit(main())
