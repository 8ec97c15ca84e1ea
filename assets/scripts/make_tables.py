"""Makes ``assets/tables/colorimetry.npz``, the 1 nm tables of colorimetry, from colour-science.

Run ``python assets/scripts/make_tables.py``; the file that results is the same every time.
"""

import warnings
import zipfile
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from schemeforge.colorimetry.tables import FIRST_NM, LAST_NM, TABLE_FILE, light_names

FOLDER = Path(__file__).resolve().parent.parent / "tables"
KINDS = ("Protanomaly", "Deuteranomaly", "Tritanomaly")


def arrays() -> dict[str, NDArray[np.generic]]:
    """The arrays of the file, freshly made: names, powers, observers, deficiency matrices."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # it warns at import of optional libraries not installed
        import colour
    shape = colour.SpectralShape(FIRST_NM, LAST_NM, 1)
    names = light_names()
    powers = []
    for name in names:
        # 5 nm tables are read along straight lines, and held level outside them [CIE15].
        spectrum = colour.SDS_ILLUMINANTS[name]
        powers.append(np.interp(shape.wavelengths, spectrum.wavelengths, spectrum.values))
    observers = {
        f"observer_{degree}": colour.MSDS_CMFS[title].copy().align(shape).values
        for degree, title in (
            (2, "CIE 1931 2 Degree Standard Observer"),
            (10, "CIE 1964 10 Degree Standard Observer"),
        )
    }
    matrices = [
        [colour.CVD_MATRICES_MACHADO2010[kind][step / 10] for step in range(11)] for kind in KINDS
    ]
    return {
        "names": np.array(names),
        "powers": np.array(powers),
        **observers,
        "cvd": np.array(matrices),
    }


def write(path: Path) -> None:
    """Writes the arrays as a compressed npz whose bytes depend on nothing but the data."""
    with zipfile.ZipFile(path, "w") as archive:
        for key, array in arrays().items():
            entry = zipfile.ZipInfo(f"{key}.npy", date_time=(2000, 1, 1, 0, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            with archive.open(entry, "w") as stream:
                np.lib.format.write_array(stream, np.asanyarray(array), allow_pickle=False)


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    write(FOLDER / TABLE_FILE)
    print(f"{TABLE_FILE}: {(FOLDER / TABLE_FILE).stat().st_size} bytes")
