"""What the picture of the sittings says in words."""

from schemeforge.gui.batch.evening_layout import Block, Board
from schemeforge.gui.batch.words import minutes_words, models_in, tr
from schemeforge.gui.counting import counted
from schemeforge.plan.timeline import day_words


def block_words(block: Block) -> str:
    """Everything that the picture says of a step."""
    stretch = block.stretch
    parts = [
        f"{stretch.number} {stretch.name}",
        models_in(stretch),
        minutes_words(stretch.minutes),
        _named(block.sitting.number),
    ]
    if stretch.set_up_minutes >= 0.5:
        parts.append(tr("set-up {0}").format(minutes_words(stretch.set_up_minutes)))
    if stretch.wait_minutes >= 0.5:
        parts.append(tr("waits {0}").format(minutes_words(stretch.wait_minutes)))
    if stretch.breaks:
        parts.append(counted(len(stretch.breaks), tr("{0} break"), tr("{0} breaks")))
    if stretch.dry_after:
        parts.append(tr("dries {0}").format(minutes_words(stretch.dry_after)))
    if block.spilled:
        told = tr("no room in {0}, to which it is pinned")
        parts.append(told.format(_named(block.pinned)))
    elif block.pinned:
        parts.append(tr("pinned to {0}").format(_named(block.pinned)))
    return ", ".join(parts)


def number_words(block: Block) -> str:
    """The step's number, with its pass where there are several."""
    stretch = block.stretch
    if stretch.passes == 1:
        return str(stretch.number)
    return f"{stretch.number}·{stretch.layer_pass}"


def wait_words(block: Block) -> str:
    """How long hands wait before it."""
    return tr("wait {0}").format(minutes_words(block.stretch.wait_minutes))


def title_words(board: Board) -> str:
    """The sitting's number and day; for further pairs of hands, which pair."""
    sitting = board.sitting
    if board.hands:
        return tr("Sitting {0}, hands {1}").format(sitting.number, board.hands + 1)
    return f"{tr('Sitting {0}').format(sitting.number)}{day_words(sitting.day, ' · ')}"


def remark_words(board: Board) -> str:
    """How long a sitting is, what is left of it, and what is wrong with it."""
    sitting = board.sitting
    if board.hands:
        return ""
    if board.overfull is not None:
        over = minutes_words(board.overfull.over_minutes)
        told = tr("{0} · overfull: {1} too much is pinned to it")
        return told.format(minutes_words(sitting.minutes), over)
    if not sitting.is_planned:
        return tr("not planned: the work runs on by {0}").format(minutes_words(sitting.worked))
    if not sitting.stretches:
        return tr("{0} · nothing is left for it").format(minutes_words(sitting.minutes))
    parts = [minutes_words(sitting.minutes)]
    if sitting.waited >= 0.5:
        parts.append(tr("{0} waiting for paint").format(minutes_words(sitting.waited)))
    if sitting.spare >= 0.5:
        parts.append(tr("{0} to spare").format(minutes_words(sitting.spare)))
    return " · ".join(parts)


def over_words(board: Board) -> str:
    """By how much it is overfull, "" where it is not."""
    found = board.overfull
    return "" if found is None else tr("+ {0}").format(minutes_words(found.over_minutes))


def more_words(count: int) -> str:
    """Coats that dry for which there was no room."""
    return tr("+ {0} more").format(count)


def _named(number: int) -> str:
    return tr("sitting {0}").format(number)
