"""Every control of the batch's page makes one edit that one undo takes back."""

from collections.abc import Callable

import pytest

from schemeforge.gui.batch.page import BatchPage
from schemeforge.gui.bridge import Bridge
from schemeforge.scheme import (
    AreaBasis,
    Build,
    Facing,
    Project,
    Surfacing,
)
from tests.gui.batch.driving import choose, click, editor, type_into

# Each edit, and what the document must then hold.
Edit = tuple[str, Callable[[BatchPage], object], Callable[[Project], bool]]
EDITS: list[Edit] = [
    (
        "rename group",
        lambda p: type_into(p.groups.list.rows["rank"].name, "spears & shields"),
        lambda d: d.group("rank").name == "spears & shields",
    ),
    (
        "number of models",
        lambda p: p.groups.list.rows["rank"].count.setValue(24),
        lambda d: d.group("rank").count == 24,
    ),
    (
        "priority",
        lambda p: p.groups.list.rows["rank"].priority.setValue(5),
        lambda d: d.group("rank").priority == 5,
    ),
    (
        "date of a group",
        lambda p: type_into(p.groups.list.rows["captains"].needed_by, ""),
        lambda d: d.group("captains").needed_by == "",
    ),
    (
        "move group",
        lambda p: click(p.groups.list.rows["rank"].tools[1]),
        lambda d: [g.id for g in d.groups] == ["captains", "rank"],
    ),
    (
        "remove group",
        lambda p: click(p.groups.list.rows["rank"].tools[2]),
        lambda d: [g.id for g in d.groups] == ["captains"],
    ),
    (
        "add group",
        lambda p: click(p.groups.add),
        lambda d: [g.count for g in d.groups] == [10, 2, 1],
    ),
    (
        "diameter of the base",
        lambda p: p.zones.base.setValue(40.0),
        lambda d: d.size.base_mm == 40.0,
    ),
    ("build", lambda p: choose(p.zones.build, "bulky"), lambda d: d.size.build is Build.BULKY),
    (
        "rename zone",
        lambda p: type_into(editor(p, "cloak").name, "reed cloak"),
        lambda d: d.zone("cloak").name == "reed cloak",
    ),
    (
        "area of a zone",
        lambda p: editor(p, "cloak").area.setValue(7.5),
        lambda d: d.zone("cloak").area_cm2 == 7.5,
    ),
    (
        "share of the body",
        lambda p: editor(p, "hide").share.setValue(40.0),
        lambda d: d.zone("hide").body_share == pytest.approx(0.4),
    ),
    (
        "where an area comes from",
        lambda p: choose(editor(p, "cloak").basis, "rim"),
        lambda d: d.zone("cloak").area_basis is AreaBasis.RIM,
    ),
    (
        "surface of a zone",
        lambda p: choose(editor(p, "cloak").surfacing, "textured"),
        lambda d: d.zone("cloak").surfacing is Surfacing.TEXTURED,
    ),
    (
        "where a zone faces",
        lambda p: choose(editor(p, "cloak").facing, "down"),
        lambda d: d.zone("cloak").facing is Facing.DOWN,
    ),
    (
        "words for root and tip",
        lambda p: type_into(editor(p, "cloak").tip, "fringe"),
        lambda d: d.zone("cloak").along_words == ("collar", "fringe"),
    ),
    (
        "which zones touch",
        lambda p: click(editor(p, "hide").touches["base"]),
        lambda d: "base" in d.zone("hide").touches and "hide" in d.zone("base").touches,
    ),
    (
        "move zone",
        lambda p: click(p.zones.list.rows["cloak"].tools[0]),
        lambda d: [z.id for z in d.zones] == ["cloak", "hide", "base"],
    ),
    (
        "remove zone",
        lambda p: click(p.zones.list.rows["base"].tools[2]),
        lambda d: [z.id for z in d.zones] == ["hide", "cloak"],
    ),
    ("add zone", lambda p: click(p.zones.add), lambda d: len(d.zones) == 4),
    (
        "length of a sitting",
        lambda p: p.hours.sittings.rows["evening"].minutes.setValue(200),
        lambda d: d.sittings[0].minutes == 200.0,
    ),
    (
        "day of a sitting",
        lambda p: type_into(p.hours.sittings.rows["evening"].day, "2031-04-02"),
        lambda d: d.sittings[0].day == "2031-04-02",
    ),
    (
        "remove sitting",
        lambda p: click(p.hours.sittings.rows["evening"].remove),
        lambda d: d.sittings == (),
    ),
    (
        "add sitting",
        lambda p: click(p.hours.add),
        lambda d: [s.minutes for s in d.sittings] == [120.0, 120.0],
    ),
]


@pytest.mark.parametrize(("label", "do", "holds"), EDITS, ids=[edit[0] for edit in EDITS])
def test_every_edit_reaches_the_document_and_is_one_undo(
    page: BatchPage,
    bridge: Bridge,
    label: str,
    do: Callable[[BatchPage], object],
    holds: Callable[[Project], bool],
) -> None:
    before = bridge.state.project
    assert not holds(before)
    do(page)
    assert holds(bridge.state.project)
    assert bridge.state.undo_label == label
    bridge.session.undo()
    assert bridge.state.project == before
    assert bridge.state.undo_label == ""
