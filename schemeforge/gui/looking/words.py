"""Sights and arrangements in words."""

from schemeforge.colorimetry import Distance, Eyes, Sight
from schemeforge.colorimetry.sight import METRES
from schemeforge.gui.looking.shot import Arrangement
from schemeforge.gui.reading import tr

# Not an eye, but chosen in the place of one.
CAMERA = "camera"


def distances() -> list[tuple[str, str, str]]:
    """Value, label and what it means, from near to far."""
    arm, table = METRES[Distance.ARM], METRES[Distance.TABLE]
    return [
        (Distance.CLOSE.value, tr("close up"), tr("Every detail, as large as it is drawn")),
        (
            Distance.ARM.value,
            tr("arm's length"),
            tr("What the eye makes out from {0} m").format(f"{arm:.2g}"),
        ),
        (
            Distance.TABLE.value,
            tr("across the table"),
            tr("What the eye makes out from {0} m").format(f"{table:.2g}"),
        ),
        (
            Distance.SQUINT.value,
            tr("squinting"),
            tr("Out of focus, so that only the big masses of light and dark are left"),
        ),
    ]


def eyes() -> list[tuple[str, str, str]]:
    """Value, label and what it means."""
    return [
        (Eyes.ALL.value, tr("all colours"), tr("As most eyes see it")),
        (Eyes.GREY.value, tr("greyscale"), tr("Lightness alone: what carries across the room")),
        (Eyes.PROTAN.value, tr("red-weak"), tr("Protan: weak or missing red cones")),
        (Eyes.DEUTAN.value, tr("green-weak"), tr("Deutan: weak or missing green cones")),
        (Eyes.TRITAN.value, tr("blue-weak"), tr("Tritan: weak or missing blue cones")),
        (
            CAMERA,
            tr("a camera"),
            tr("A camera left set to daylight: the light's own cast stays in"),
        ),
    ]


def arrangements() -> list[tuple[str, str, str]]:
    """Value, label and what it means."""
    return [
        (Arrangement.ONE.value, tr("One model"), tr("The picked scheme")),
        (
            Arrangement.SPLIT.value,
            tr("Two schemes"),
            tr("The picked scheme left of a line, another one right of it"),
        ),
        (
            Arrangement.LIGHTS.value,
            tr("Three lights"),
            tr("At the desk lamp, in daylight, and under the tubes of a hall"),
        ),
        (
            Arrangement.GROUP.value,
            tr("A group"),
            tr("Models by who gets what, no two painted quite alike"),
        ),
    ]


def light_labels() -> list[str]:
    """What stands under each model of three lights."""
    return [tr("desk lamp"), tr("daylight"), tr("hall")]


def sight_words(sight: Sight) -> str:
    """The sight in a few words, "" where a picture is shown as it is."""
    words = []
    if not sight.balanced:
        words.append(tr("a camera set to daylight"))
    if sight.distance is not Distance.CLOSE:
        words.append(next(label for value, label, _ in distances() if value == sight.distance))
    if sight.eyes is not Eyes.ALL and not (sight.is_deficient and sight.severity == 0):
        label = next(label for value, label, _ in eyes() if value == sight.eyes)
        if sight.is_deficient:
            label = tr("{0} by {1} %").format(label, round(100 * sight.severity))
        words.append(label)
    return " \N{MIDDLE DOT} ".join(words)
