"""After which steps a model can be shown."""

from schemeforge.desk import DeskState
from schemeforge.gui.looking.shot import BARE, painted_steps
from schemeforge.gui.reading import tr


def stage_ids(state: DeskState, scheme_id: str = "") -> list[str]:
    """Steps that a model can be shown after, in order; the last one is "", finished."""
    known = {scheme.id: scheme for scheme in state.project.schemes}
    scheme = known.get(scheme_id) or state.scheme
    if scheme is None:
        return [""]
    return [*(step.id for step in painted_steps(scheme)[:-1]), ""]


def before(state: DeskState, scheme_id: str, step_id: str) -> str:
    """The step before the one shown; where it is finished, before the one picked or the last."""
    ids = stage_ids(state, scheme_id)
    here = step_id or state.selection.step_id
    place = ids.index(here) if here in ids else len(ids) - 1
    return ids[place - 1] if place > 0 else BARE


def stage_words(state: DeskState, scheme_id: str, step_id: str) -> str:
    """After which step a model is shown, "" for finished."""
    if step_id == BARE:
        return tr("bare plastic")
    known = {scheme.id: scheme for scheme in state.project.schemes}
    scheme = known.get(scheme_id) or state.scheme
    names = {} if scheme is None else {step.id: step.name for step in scheme.steps}
    return tr("after {0}").format(names[step_id]) if step_id in names else ""
