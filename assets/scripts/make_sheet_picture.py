"""Writes the first sitting's side of the demo's desk sheet to assets/pictures/sheet.png.

Run from the root of a checkout: ``python assets/scripts/make_sheet_picture.py``.
"""

import shutil
import sys
import tempfile
from pathlib import Path

from schemeforge.cli.main import run
from schemeforge.resources import asset

PICTURE = Path(__file__).resolve().parents[1] / "pictures" / "sheet.png"


def make() -> int:
    """Runs the sheet command and keeps its second page; gives the command's exit code."""
    with tempfile.TemporaryDirectory() as folder:
        page = Path(folder, "sheet.png")
        demo = str(asset("demo", "saltmarsh_wardens.schemeforge"))
        code = run(["sheet", demo, "-o", str(page), "--dpi", "110", "--no-date"])
        if code == 0:
            PICTURE.parent.mkdir(exist_ok=True)
            shutil.copyfile(page.with_name("sheet-2.png"), PICTURE)
            print(f"kept the first sitting as {PICTURE}")
    return code


if __name__ == "__main__":
    sys.exit(make())
