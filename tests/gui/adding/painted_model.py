"""A photograph of a painted test model: one part from recess to raised edge, with references."""

from dataclasses import replace
from pathlib import Path

import numpy as np
from PIL import Image

from schemeforge import colorimetry
from schemeforge.appearance import Points, ramp_tones, zone_stages
from schemeforge.calibration import BLACK, GREY, WHITE, Area
from schemeforge.scheme import Coat, Project, Spray, edits
from tests.calibration.swatches import linear
from tests.gui.adding.painted_card import box

SIZE = (480, 320)
GAIN = np.array([1.04, 0.96, 1.04])
PART = (96, 384, 100, 200)  # left, right, top, bottom in pixels
LINE = ((96.5 / 479, 150 / 319), (382.5 / 479, 150 / 319))
REFERENCES = (
    (WHITE, box(0.05, 0.8, 0.2, 0.95)),
    (GREY, box(0.42, 0.8, 0.58, 0.95)),
    (BLACK, box(0.8, 0.8, 0.95, 0.95)),
)


def heavier(project: Project, scheme_id: str, factors: dict[str, float]) -> Project:
    """The project as somebody with another hand paints it."""
    for step_id, factor in factors.items():
        layer = project.scheme(scheme_id).step(step_id).layer
        if isinstance(layer, Coat):
            changed: Coat | Spray = replace(layer, wet_um=layer.wet_um * factor)
        else:
            assert isinstance(layer, Spray)
            changed = replace(layer, peak_um=layer.peak_um * factor)
        project = edits.set_layer(project, scheme_id, step_id, changed)
    return project


def photograph(
    path: Path, project: Project, scheme_id: str, zone_id: str, factors: dict[str, float]
) -> Path:
    """The zone painted by that hand, as a PNG file."""
    left, right, top, bottom = PART
    count = right - left
    painted = heavier(project, scheme_id, factors)
    points = Points(ramp_tones(project.zone(zone_id), count), np.linspace(0, 1, count), 0.5)
    xyz = zone_stages(painted, painted.scheme(scheme_id), zone_id, points)[-1].xyz
    wide, high = SIZE
    canvas = np.empty((high, wide, 3))
    canvas[:] = linear(np.array(GREY))
    canvas[top:bottom, left:right] = np.asarray(colorimetry.linear_rgb_from_xyz(xyz))
    for ground, area in REFERENCES:
        _fill(canvas, area, linear(np.array(ground)))
    noise = 1.5 / 255 * np.random.default_rng(3).standard_normal(canvas.shape)
    encoded = np.asarray(colorimetry.encode(np.clip(0.85 * canvas * GAIN, 0.0, None))) + noise
    codes = np.round(np.clip(encoded, 0, 1) * 255).astype(np.uint8)
    Image.fromarray(codes).save(path)
    return path


def _fill(
    canvas: np.ndarray[tuple[int, ...], np.dtype[np.float64]],
    area: Area,
    values: tuple[float, float, float],
) -> None:
    high, wide = canvas.shape[:2]
    rows = slice(round(area.top * high), round(area.bottom * high))
    canvas[rows, round(area.left * wide) : round(area.right * wide)] = values
