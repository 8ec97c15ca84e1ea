"""The colours that a scheme is meant to come near: typed, or gathered from a picture."""

import warnings
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from schemeforge import checks, colorimetry
from schemeforge.errors import InputError

MOST_COLOURS: Final = 12
# Of a picture (rules of thumb): how many colours are sought; what share is too little to count;
# how near two of them are one, CIEDE2000; pixels looked at.
_SOUGHT: Final = 8
_LEAST_SHARE: Final = 0.02
_ONE: Final = 6.0
_PIXELS: Final = 40_000
# A backdrop: so much of the outermost pixels lies within so much of their median, CIELAB.
_EVEN: Final = 0.6
_NEAR: Final = 14.0
_SEED: Final = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class TargetColour:
    """One colour of a target.

    Args:
        lab: CIELAB adapted to D65.
        share: Of the whole, 0 to 1.
    """

    lab: tuple[float, float, float]
    share: float

    def __post_init__(self) -> None:
        checks.number(self.lab[0], "L* of the target", low=0.0, high=200.0)
        for value in self.lab[1:]:
            checks.number(value, "a* and b* of the target", low=-200.0, high=200.0)
        checks.number(self.share, "Share of a colour of the target", low=0.0, high=1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class TargetPalette:
    """What a scheme is meant to come near.

    Args:
        name: What it is, in words.
        colours: 1 to 12 of them, most first where shares are known.
        has_shares: True where shares are known, as from a picture; else they are all alike.
    """

    name: str
    colours: tuple[TargetColour, ...]
    has_shares: bool = False

    def __post_init__(self) -> None:
        if not 1 <= len(self.colours) <= MOST_COLOURS:
            raise InputError(
                f"The target has {len(self.colours)} colours",
                remedy=f"give 1 to {MOST_COLOURS}",
            )
        if abs(sum(colour.share for colour in self.colours) - 1.0) > 1e-6:
            raise InputError("The shares of the target's colours do not sum to 1")


def palette_of(labs: ArrayLike, name: str) -> TargetPalette:
    """A target of colours alone, CIELAB ``(n, 3)``, which say nothing of their shares."""
    rows: list[Any] = np.asarray(labs, np.float64).reshape(-1, 3).tolist()
    colours = (TargetColour(lab=(L, a, b), share=1.0 / len(rows)) for L, a, b in rows)
    return TargetPalette(name=name, colours=tuple(colours))


def palette_of_picture(
    linear: NDArray[Any], name: str, *, leave_backdrop: bool = True
) -> TargetPalette:
    """The main colours of a picture with their shares, most first.

    Pixels are gathered round means in CIELAB [Arthur2007], a fixed seed; means that look alike
    are put together, and specks are left out.

    Args:
        linear: Linear sRGB, ``(height, width, 3)``.
        name: What it is, in words.
        leave_backdrop: Leaves out pixels like those at the picture's edges, where these are even.

    Raises:
        InputError: Where nothing but backdrop is left.
    """
    from scipy.cluster.vq import kmeans2

    lab = np.asarray(colorimetry.lab_from_xyz(colorimetry.xyz_from_linear_rgb(linear)))
    pixels = lab.reshape(-1, 3).astype(np.float64)
    if leave_backdrop:
        pixels = pixels[~_backdrop(lab).reshape(-1)]
    if not len(pixels):
        raise InputError(
            "The picture is all backdrop", where=name, remedy="keep the backdrop as part of it"
        )
    rng = np.random.default_rng(_SEED)
    if len(pixels) > _PIXELS:
        pixels = pixels[rng.choice(len(pixels), _PIXELS, replace=False)]
    distinct = len(np.unique(pixels, axis=0))
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", UserWarning)  # means that no pixel is near fall away below
        means, group = kmeans2(pixels, min(_SOUGHT, distinct), minit="++", rng=rng, iter=30)
    counts = np.bincount(group, minlength=len(means)).astype(np.float64)
    means, counts = _put_together(np.asarray(means, np.float64), counts)
    kept = counts >= _LEAST_SHARE * counts.sum()
    means, shares = means[kept], counts[kept] / counts[kept].sum()
    order = np.argsort(-shares)
    rows: list[Any] = means[order].tolist()
    colours = tuple(
        TargetColour(lab=(L, a, b), share=share)
        for (L, a, b), share in zip(rows, shares[order].tolist(), strict=True)
    )
    return TargetPalette(name=name, colours=colours, has_shares=True)


def _backdrop(lab: NDArray[Any]) -> NDArray[np.bool_]:
    """Pixels like those at the edges, none where the edges are not even."""
    rim = max(1, min(lab.shape[:2]) // 50)
    edge = np.concatenate(
        [part.reshape(-1, 3) for part in (lab[:rim], lab[-rim:], lab[:, :rim], lab[:, -rim:])]
    )
    middle = np.median(edge, axis=0)
    if np.mean(np.linalg.norm(edge - middle, axis=-1) < _NEAR) < _EVEN:
        return np.zeros(lab.shape[:2], dtype=bool)
    return np.asarray(np.linalg.norm(lab - middle, axis=-1) < _NEAR)


def _put_together(
    means: NDArray[np.float64], counts: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Means with the nearest two put together as long as they look alike."""
    while len(means) > 1:
        apart = colorimetry.ciede2000(means[:, np.newaxis], means)
        np.fill_diagonal(apart, np.inf)
        one, two = divmod(int(apart.argmin()), len(means))
        if apart[one, two] >= _ONE:
            break
        both = [one, two]
        merged = np.average(means[both], axis=0, weights=counts[both])
        means = np.concatenate([np.delete(means, both, axis=0), merged[np.newaxis]])
        counts = np.append(np.delete(counts, both), counts[both].sum())
    return means, counts
