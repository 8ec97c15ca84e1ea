"""Random valid paints for property tests."""

from hypothesis import strategies as st

from schemeforge.optics import bands
from schemeforge.paint import Basis, Paint, PaintKind, Stock, Uncertainty

SPECTRA = st.lists(st.floats(0.0, 1e4), min_size=bands.COUNT, max_size=bands.COUNT).map(tuple)
# What a painter may type, formulas and quotes included; no control characters.
TYPED = st.text(st.characters(exclude_categories=["C", "Zl", "Zp"]), max_size=40)
NAMES = TYPED.filter(str.strip)
NOTES = st.text(
    st.characters(exclude_categories=["C", "Zl", "Zp"], include_characters="\n\t"), max_size=60
)
IDS = st.from_regex(r"[A-Za-z0-9][A-Za-z0-9_.-]{0,12}", fullmatch=True)
LEVELS = st.floats(0.0, 5.0)
FACTORS = st.lists(
    st.lists(st.floats(-50.0, 50.0), min_size=2 * bands.COUNT, max_size=2 * bands.COUNT).map(tuple),
    max_size=2,
).map(tuple)
PAINTS = st.builds(
    Paint,
    id=IDS.filter(lambda i: i != "water"),
    name=NAMES,
    kind=st.sampled_from(PaintKind),
    absorption=SPECTRA,
    scattering=SPECTRA,
    volume_solids=st.floats(0.0, 1.0),
    density_g_per_ml=st.floats(0.3, 5.0),
    basis=st.sampled_from(Basis),
    uncertainty=st.builds(
        Uncertainty,
        level_k=LEVELS,
        level_s=LEVELS,
        shape_k=LEVELS,
        shape_s=LEVELS,
        length_nm=st.floats(5.0, 1000.0),
        factors=FACTORS,
    ),
    colour_index=NOTES,
    stock=st.builds(
        Stock,
        bottle_ml=st.floats(0.1, 10000.0),
        left_ml=st.none() | st.floats(0.0, 100000.0),
        price=st.none() | st.floats(0.0, 1e6),
    ),
    note=NOTES,
    flagged_bands_nm=st.lists(st.integers(380, 730), max_size=4).map(tuple),
)
SHELVES = st.lists(PAINTS, max_size=3, unique_by=lambda paint: paint.id).map(tuple)
