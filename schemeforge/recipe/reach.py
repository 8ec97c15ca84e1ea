"""Targets that no recipe reaches: how near one comes, and what holds it back.

Each suspicion is tried out: the same search with that one thing changed. What brings the colour
clearly nearer is named, with how near it would come then.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry, optics
from schemeforge.colorimetry.words import colour_words
from schemeforge.optics import bands
from schemeforge.paint import Paint, PaintKind
from schemeforge.recipe.bed import Bed
from schemeforge.recipe.funnel import Effort, GoOn
from schemeforge.recipe.laying import MOST_COATS
from schemeforge.recipe.recipe import Recipe
from schemeforge.recipe.request import MOST_PAINTS, Request
from schemeforge.recipe.saying import Saying, listed
from schemeforge.recipe.solver import always, search
from schemeforge.scheme import ReliefKind, ReliefProfile

# From here on a difference shows in the ranks (see `colorimetry.difference_words`).
UNREACHED: Final = 2.0
# A cause must bring the colour nearer by this much, and to this share of the difference, to count.
_GAIN, _SHARE = 0.5, 0.75
_ROUGH: Final = Effort(
    settled=8000,
    guessed=600,
    guesses=12,
    refined=150,
    refinements=16,
    whole=24,
    exact=4,
    looked=0,
)
# An off-white that covers, and a black: as light and as dark as an undercoat gets (rule of thumb).
_LIGHT, _DARK = 0.8, 0.02
# What a strong paint is let down to before it is mixed: one part in ten.
LET_DOWN: Final = 0.1
# How many of the strongest are tried so.
_LET_DOWN_MOST: Final = 16
_MARK: Final = "let-down."
_WANTED: Final = "wanted."


Say = Callable[[Request, Recipe], Saying]
Trial = tuple[Request, Say]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause:
    """One thing that holds the colour back.

    Args:
        saying: The sentence.
        delta_e: How near the best recipe would come without it.
    """

    saying: Saying
    delta_e: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """Whether the target is reached.

    Args:
        delta_e: How near the nearest recipe comes.
        is_reached: True where the difference does not show in the ranks.
        causes: What holds it back, what matters most first; empty where it is reached.
        miss: How the nearest differs from the target, as a sentence.
    """

    delta_e: float
    is_reached: bool
    causes: tuple[Cause, ...]
    miss: Saying


def reach(request: Request, nearest: Recipe, *, go_on: GoOn = always) -> Reach | None:
    """What keeps the nearest recipe from the target; None where it was told to stop.

    Args:
        request: What was wanted.
        nearest: The nearest recipe that was found for it.
        go_on: Told the share done, 0 to 1; returns False to stop.
    """
    miss = _miss(request, nearest)
    if nearest.delta_e < UNREACHED:
        return Reach(delta_e=nearest.delta_e, is_reached=True, causes=(), miss=miss)
    trials = _trials(request, nearest)
    causes = []
    for n, (trial, say) in enumerate(trials):

        def share(done: float, n: int = n) -> bool:
            return go_on((n + done) / len(trials))

        found = search(trial, go_on=share, effort=_ROUGH)
        if found is None:
            return None
        if found.recipes and _counts(found.recipes[0].delta_e, nearest.delta_e):
            best = found.recipes[0]
            causes.append(Cause(saying=say(trial, best), delta_e=best.delta_e))
    causes.sort(key=lambda cause: cause.delta_e)
    return Reach(delta_e=nearest.delta_e, is_reached=False, causes=tuple(causes), miss=miss)


def _trials(request: Request, nearest: Recipe) -> list[Trial]:
    """The request with one thing changed at a time, and what to say where that helps."""
    bed = request.bed
    trials: list[Trial] = [
        (replace(request, bed=_flat(bed, _LIGHT)), _too_dark),
        (replace(request, bed=_flat(bed, _DARK)), _too_light),
        (_with_more_coats(request), _too_thin),
        (_with_let_down(request), _too_strong),
        (_with_ideal(request, nearest), _no_such_hue),
    ]
    if request.look.surface.w > 0.0:
        gloss = replace(request.look, surface=optics.GLOSS)
        trials.append((replace(request, look=gloss), _too_matt))
    if bed.tones > 1:
        trials += [
            (replace(request, bed=_placed(bed, ReliefKind.EVEN)), _goes("evenly")),
            (replace(request, bed=_placed(bed, ReliefKind.POOLS)), _goes("pooling in recesses")),
            (
                replace(request, bed=_placed(bed, ReliefKind.CATCHES)),
                _goes("catching raised edges"),
            ),
        ]
    return trials


def _counts(without: float, now: float) -> bool:
    return without <= now - _GAIN and without <= _SHARE * now


def _flat(bed: Bed, reflectance: float) -> Bed:
    """The bed with another undercoat, the same all over."""
    R = np.full((1, bed.tones, bands.COUNT), reflectance)
    return Bed(R, np.ones_like(R), bed.film, bed.above, 1.0, bed.tone, bed.relief)


def _placed(bed: Bed, kind: ReliefKind) -> Bed:
    """The bed with the coats going elsewhere."""
    film = ReliefProfile(kind=kind).film(np.array(bed.relief))
    return replace(bed, film=film)


def _with_more_coats(request: Request) -> Request:
    builds = tuple(
        tuple(replace(laying, coats=(*laying.coats, MOST_COATS // 2, MOST_COATS)) for laying in one)
        for one in request.builds
    )
    return replace(request, builds=builds)


def _with_let_down(request: Request) -> Request:
    """With the strongest paints also at a tenth, as if let down with medium beforehand."""
    strongest = sorted(request.usable, key=lambda paint: -max(paint.absorption))[:_LET_DOWN_MOST]
    weak = tuple(
        replace(
            paint,
            id=f"{_MARK}{n}",
            absorption=tuple(LET_DOWN * value for value in paint.absorption),
            scattering=tuple(LET_DOWN * value for value in paint.scattering),
        )
        for n, paint in enumerate(strongest)
    )
    return replace(request, paints=_room_for(request, request.paints, weak))


def _with_ideal(request: Request, nearest: Recipe) -> Request:
    """With strong clear and opaque paints of every hue beside those of the nearest recipe."""
    kept = {*request.must, *request.without, *nearest.paint_ids, request.thinner_id}
    paints = tuple(paint for paint in request.paints if paint.id in kept)
    return replace(request, paints=_room_for(request, paints, tuple(ideal_paints())))


def _room_for(
    request: Request, paints: tuple[Paint, ...], more: tuple[Paint, ...]
) -> tuple[Paint, ...]:
    """The paints and as many more as there is room for, none of a name that the shelf has."""
    known = {paint.id for paint in request.paints}
    new = [paint for paint in more if paint.id not in known]
    return (*paints, *new[: max(0, MOST_PAINTS - len(paints))])


def ideal_paints() -> list[Paint]:
    """Paints that no shelf has: sharp absorption, hues all round, clear and opaque, and a white."""
    nm = bands.wavelengths_nm()
    found = []
    bumps: list[NDArray[np.float64]] = [
        np.exp(-0.5 * ((nm - centre) / 40.0) ** 2) for centre in (430, 470, 510, 550, 590, 630, 670)
    ]
    edges: list[NDArray[np.float64]] = [
        1.0 / (1.0 + np.exp((nm - place) / 6.0)) for place in (480, 510, 540, 570, 600)
    ]
    rises = [1.0 / (1.0 + np.exp((place - nm) / 6.0)) for place in (490, 530, 560, 590)]
    for n, shape in enumerate((*bumps, *edges, *rises)):
        for kind, scatter in ((PaintKind.INK, 0.0), (PaintKind.OPAQUE, 0.08)):
            found.append(_ideal(f"{n}-{kind.value}", kind, 0.2 * shape, scatter))
    found.append(_ideal("white", PaintKind.OPAQUE, np.zeros(bands.COUNT), 0.2))
    found.append(_ideal("black", PaintKind.OPAQUE, np.full(bands.COUNT, 0.4), 0.0))
    return found


def _ideal(name: str, kind: PaintKind, K: NDArray[np.float64], S: float) -> Paint:
    return Paint(
        id=f"{_WANTED}{name}",
        name=name,
        kind=kind,
        absorption=tuple(float(value) for value in K),
        scattering=(S,) * bands.COUNT,
        volume_solids=0.3,
    )


def _too_dark(_trial: Request, best: Recipe) -> Saying:
    return _cause(
        "dark ground",
        "the undercoat is too dark here: over an off-white that covers, the best comes to {best}",
        best,
    )


def _too_light(_trial: Request, best: Recipe) -> Saying:
    return _cause(
        "light ground",
        "the undercoat is too light here: over black the best comes to {best}",
        best,
    )


def _too_thin(_trial: Request, best: Recipe) -> Saying:
    return _cause(
        "thin",
        "the coats are too thin to hide what is below: with {coats} coats the best comes to {best}",
        best,
        (("coats", str(best.coat_count)),),
    )


def _too_matt(_trial: Request, best: Recipe) -> Saying:
    return _cause(
        "finish",
        "the finish keeps it pale: under a gloss varnish the best comes to {best}",
        best,
    )


def _goes(where: str) -> Say:
    def say(_trial: Request, best: Recipe) -> Saying:
        return _cause(
            "place",
            "it cannot follow the ramp where it goes now: laid {where} the best comes to {best}",
            best,
            (("where", where),),
        )

    return say


def _too_strong(trial: Request, best: Recipe) -> Saying:
    strong = [
        trial.paint(paint_id).name
        for paint_id in sorted(best.paint_ids)
        if paint_id.startswith(_MARK)
    ]
    return _cause(
        "strong",
        "one part is already too much of {paints}: let down to one in ten beforehand, "
        "the best comes to {best}",
        best,
        (("paints", listed(strong)),),
    )


def _no_such_hue(trial: Request, best: Recipe) -> Saying:
    tone = int(np.argmax(np.hypot(*np.array(trial.target.lab).T[1:])))
    return _cause(
        "hue",
        "no paint here is of that hue and strength ({hue}): with strong paints of every hue "
        "the best comes to {best}",
        best,
        (("hue", colour_words(trial.target.lab[tone])),),
    )


def _cause(key: str, template: str, best: Recipe, names: Sequence[tuple[str, str]] = ()) -> Saying:
    return Saying(
        key=key,
        template=template,
        names=(("best", f"{best.delta_e:.1f}"), *names),
        numbers=(("best", best.delta_e),),
    )


def _miss(request: Request, nearest: Recipe) -> Saying:
    """How the nearest differs from the target at the tone where it differs most."""
    tone = int(np.argmax(nearest.differences))
    have = colorimetry.lch(np.array(nearest.lab[tone]))
    want = colorimetry.lch(np.array(request.target.lab[tone]))
    words = []
    for n, (low, high) in enumerate((("darker", "lighter"), ("duller", "more vivid"))):
        if abs(have[n] - want[n]) >= 1.0:
            words.append(high if have[n] > want[n] else low)
    turn = (have[2] - want[2] + 180.0) % 360.0 - 180.0
    if min(have[1], want[1]) >= 8.0 and abs(turn) >= 4.0:
        words.append("of another hue")
    return Saying(
        key="miss",
        template="the nearest recipe differs from the target ({how}), off by {best}"
        if words
        else "the nearest recipe is off by {best}",
        names=(("how", listed(words)), ("best", f"{nearest.delta_e:.1f}")),
        numbers=(("best", nearest.delta_e),),
    )
