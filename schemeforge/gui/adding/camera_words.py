"""What the references tell of light and camera, in words."""

from schemeforge.gui.adding.card_fit import Sight
from schemeforge.gui.reading import tr

_FEW = 4  # references, up to which fall of light and response are hard to tell apart
_UNSEEN = 0.015  # shares below which nothing is said


def camera_words(sight: Sight, *, numbers: bool) -> str:
    """One line: how the light falls, how the camera tints, how well the references agree."""
    if sight.correction is None:
        return tr("Not put right yet: {0}").format(sight.problem)
    parts = [*_fall_words(sight), *_tint_words(sight)]
    if not parts:
        parts = [tr("the light is even and the camera without a tint")]
    gamma = sight.correction.gamma
    if abs(gamma - 1.0) > 0.02:
        harder = tr("the camera draws it harder than it is")
        parts.append(harder if gamma > 1.0 else tr("the camera draws it softer than it is"))
        if numbers:
            parts[-1] += f" (γ {gamma:.2f})"
    if sight.references < _FEW:
        parts.append(tr("a second white or grey area at the far side would tell the light better"))
    parts.append(tr("the references agree to {0:.1%}").format(sight.worst))
    return tr("Put right: {0}.").format("; ".join(parts))


def _fall_words(sight: Sight) -> list[str]:
    found = []
    across, down = sight.fall
    for share, right, left in (
        (across, tr("to the right"), tr("to the left")),
        (down, tr("downwards"), tr("upwards")),
    ):
        if abs(share - 1.0) > _UNSEEN:
            fallen = 1.0 - min(share, 1.0 / share)
            way = right if share < 1.0 else left
            found.append(tr("the light falls off by {0:.0%} {1}").format(fallen, way))
    return found


def _tint_words(sight: Sight) -> list[str]:
    found = []
    names = (tr("red"), tr("green"), tr("blue"))
    for name, gain in zip(names, sight.gains, strict=True):
        if abs(gain - 1.0) > _UNSEEN:
            pattern = tr("{0} read {1:.0%} high") if gain > 1.0 else tr("{0} read {1:.0%} low")
            found.append(pattern.format(name, abs(gain - 1.0)))
    return found
