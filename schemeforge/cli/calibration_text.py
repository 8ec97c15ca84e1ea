"""What ``calibrate`` prints: the fit, how sure it is, and what the paint looks like."""

import json

import numpy as np

from schemeforge import colorimetry, optics
from schemeforge.calibration import BLACK, GREY, WHITE, Outcome
from schemeforge.optics import bands
from schemeforge.paint import Paint

_DRAWS = 200
_SEED = 20250
_COVERAGE = 90
_CARDS = (("black", BLACK), ("grey", GREY), ("white", WHITE))
_COATS = (0.5, 1.0, 2.0, 4.0)


def as_text(paint: Paint, outcome: Outcome, *, film_um: float, is_kind_told: bool) -> str:
    """A table of patches with their misses, and one of predictions with their tolerances."""
    how = "" if is_kind_told else ", inferred from how one coat covers; --kind tells another"
    lines = [f"{paint.name}: {paint.basis.words}", f"  kind: {paint.kind.value}{how}"]
    lines += ["", "  fitted                     misses, dE"]
    lines += [
        f"  {patch.name[:26]:26} {miss:8.2f}"
        for patch, miss in zip(outcome.patches, outcome.fit.residual, strict=True)
    ]
    lines += ["", "  coats  over      L*     a*     b*  sRGB     tolerance, dE"]
    nominal, tolerance = _predicted(paint, film_um)
    codes = colorimetry.hex_codes(colorimetry.xyz_from_lab(nominal))
    for i, coats in enumerate(_COATS):
        for j, (name, _) in enumerate(_CARDS):
            L, a, b = nominal[i, j]
            code = codes[i * len(_CARDS) + j]
            lines.append(
                f"  {coats:5g}  {name:6} {L:6.1f} {a:6.1f} {b:6.1f}  {code}  {tolerance[i, j]:8.2f}"
            )
    if paint.flagged_bands_nm:
        bands_nm = ", ".join(str(nm) for nm in paint.flagged_bands_nm)
        lines += ["", f"  Not settled by the data, so the likeliest was taken: {bands_nm} nm."]
    return "\n".join(lines)


def as_json(paint: Paint, outcome: Outcome, *, is_kind_told: bool) -> str:
    """The fit for machines."""
    tree = {
        "name": paint.name,
        "kind": paint.kind.value,
        "kind_inferred": not is_kind_told,
        "basis": paint.basis.value,
        "absorption": list(paint.absorption),
        "scattering": list(paint.scattering),
        "log_errors": [round(float(v), 4) for v in outcome.fit.errors],
        "patches": [
            {"name": patch.name, "misses": round(float(miss), 3)}
            for patch, miss in zip(outcome.patches, outcome.fit.residual, strict=True)
        ],
        "film_factors": {name: round(v, 4) for name, v in outcome.fit.film_factors.items()},
        "flagged_bands_nm": list(paint.flagged_bands_nm),
        "findings": list(outcome.findings),
    }
    return json.dumps(tree, indent=2)


def _predicted(
    paint: Paint, film_um: float
) -> tuple[np.ndarray[tuple[int, ...], np.dtype[np.float64]], ...]:
    """CIELAB over the card's grounds, and the 90 % interval of its CIEDE2000."""
    rng = np.random.default_rng(_SEED)
    factor = paint.uncertainty.factor()
    logs = rng.standard_normal((_DRAWS, len(factor))) @ factor
    logs = np.vstack([np.zeros((1, logs.shape[1])), logs])[:, None, None, :]
    films = film_um * np.array(_COATS)[:, None, None]
    KX = films * np.array(paint.absorption) * np.exp(logs[..., : bands.COUNT])
    SX = films * np.array(paint.scattering) * np.exp(logs[..., bands.COUNT :])
    # Predictions are of a matt card, whatever the finish of what was fitted.
    grounds = optics.internal(np.array([ground for _, ground in _CARDS]), optics.MATT)
    shape = np.broadcast_shapes(KX.shape, grounds.shape)
    KX, SX = (np.broadcast_to(v, shape) for v in (KX, SX))
    R = optics.reflectance_over(grounds, KX, SX)
    lab = colorimetry.lab(optics.seen(R, optics.MATT))
    difference = colorimetry.ciede2000(lab[1:], lab[0])
    return np.asarray(lab[0]), np.asarray(np.percentile(difference, _COVERAGE, axis=0))
