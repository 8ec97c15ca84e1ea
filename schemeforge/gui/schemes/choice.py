"""What the page itself remembers: how candidates are shown, and which are left out."""

from dataclasses import dataclass

from schemeforge.comparison import yardstick_of
from schemeforge.desk import DeskState
from schemeforge.scheme import Scheme

MOST_SHOWN = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """How the page shows the candidates.

    Args:
        left_out: Ids of schemes not to be shown.
        table: True for the table.
        only_differing: True to hide zones that do not differ from the yardstick.
        whole: True where the table is about the whole model, False for the zone picked.
    """

    left_out: frozenset[str] = frozenset()
    table: bool = False
    only_differing: bool = False
    whole: bool = True


def shown_schemes(state: DeskState, left_out: frozenset[str]) -> tuple[Scheme, ...]:
    """At most six schemes in the project's order.

    The yardstick is always there, the scheme picked unless it is left out; then come the first
    of the others that are not left out.
    """
    yardstick = yardstick_of(state.project)
    picked = state.selection.scheme_id
    always = {picked} - left_out | ({yardstick.id} if yardstick is not None else set())
    wanted = [s for s in state.project.schemes if s.id not in left_out or s.id in always]
    rest = [s.id for s in wanted if s.id not in always]
    room = MOST_SHOWN - (len(wanted) - len(rest))
    kept = {*always, *rest[:room]}
    return tuple(s for s in wanted if s.id in kept)
