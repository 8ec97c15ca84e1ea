"""The calendar against the rules of RFC 5545, read back by a reader of its own."""

from dataclasses import replace
from datetime import UTC, datetime, time, timedelta, timezone

from hypothesis import given
from hypothesis import strategies as st

from schemeforge import plan
from schemeforge.plan.ical import calendar, escaped, folded, undated
from schemeforge.scheme import Project, Sitting
from tests.builders import small_project
from tests.plan.batch import scheme_of

STAMP = datetime(2031, 4, 1, 10, 30, tzinfo=UTC)


def project(*sittings: Sitting, name: str = "Marsh; day, dusk\\dawn") -> Project:
    return replace(small_project(), sittings=sittings, name=name)


def text(of: Project, begins: time | None = None, stamp: datetime = STAMP) -> str:
    return calendar(of, plan.schedule(of, scheme_of(of)), stamp, begins=begins)


def read(whole: str) -> list[dict[str, str]]:
    """Events as property by name and parameters, by section 3.1: unfold, then split."""
    assert whole.endswith("\r\n")
    assert "\n" not in whole.replace("\r\n", "")
    for line in whole.split("\r\n"):
        assert len(line.encode()) <= 75
    lines = whole.replace("\r\n ", "").split("\r\n")[:-1]
    assert (lines[0], lines[-1]) == ("BEGIN:VCALENDAR", "END:VCALENDAR")
    events: list[dict[str, str]] = []
    for line in lines:
        name, _, value = line.partition(":")
        if line == "BEGIN:VEVENT":
            events.append({})
        elif events and line != "END:VEVENT":
            assert name not in events[-1] or line == "END:VCALENDAR"
            events[-1][name] = value
    return events


def plain(value: str) -> str:
    """A TEXT value read back, section 3.3.11."""
    out, escape = "", False
    for char in value:
        if escape:
            out += {"n": "\n", "N": "\n"}.get(char, char)
        elif char != "\\":
            out += char
        escape = char == "\\" and not escape
    return out


def test_whole_days_where_the_time_of_day_is_not_known() -> None:
    of = project(Sitting(id="a", minutes=120.0, day="2031-12-31"))
    (event,) = read(text(of))
    assert event["DTSTART;VALUE=DATE"] == "20311231"
    assert event["DTEND;VALUE=DATE"] == "20320101"  # the end is not part of it, section 3.6.1
    assert event["TRANSP"] == "TRANSPARENT"
    assert event["UID"] == "small.a@schemeforge.invalid"
    assert event["DTSTAMP"] == "20310401T103000Z"
    assert plain(event["SUMMARY"]) == "Marsh; day, dusk\\dawn: sitting 1"
    rows = plain(event["DESCRIPTION"]).split("\n")
    assert rows[0] == "1. prime: 12 models"


def test_times_of_day_float_and_sittings_of_a_day_follow_each_other() -> None:
    of = project(
        Sitting(id="a", minutes=60.0, day="2031-05-01"),
        Sitting(id="b", minutes=90.0, day="2031-05-01"),
        Sitting(id="c", minutes=30.0),
    )
    first, second = read(text(of, time(19, 30)))
    assert (first["DTSTART"], first["DURATION"]) == ("20310501T193000", "PT60M")
    assert (second["DTSTART"], second["DURATION"]) == ("20310501T213000", "PT90M")
    assert first["UID"] != second["UID"]
    assert undated(plan.schedule(of, scheme_of(of))) == 1


def test_stamps_are_in_utc() -> None:
    of = project(Sitting(id="a", minutes=60.0, day="2031-05-01"))
    east = STAMP.astimezone(timezone(timedelta(hours=2)))
    assert text(of, stamp=east) == text(of) == text(of, stamp=STAMP.replace(tzinfo=None))


def test_a_sitting_with_nothing_to_do_says_so() -> None:
    days = [Sitting(id=f"s{n}", minutes=240.0, day=f"2031-05-0{n}") for n in range(1, 6)]
    events = read(text(project(*days)))
    assert len(events) == 5
    assert plain(events[-1]["DESCRIPTION"]) == "Nothing is planned for it."


def test_no_dates_no_events() -> None:
    assert read(text(project(Sitting(id="a", minutes=60.0)))) == []


@given(st.text())
def test_folding_and_escaping_can_be_undone(words: str) -> None:
    kept = "".join(c for c in words if c in "\n\t" or ord(c) >= 32)
    kept = kept.encode("utf-8", "ignore").decode()
    line = "DESCRIPTION:" + escaped(kept)
    whole = folded(line)
    assert whole.replace("\r\n ", "") == line
    assert all(len(row.encode()) <= 75 for row in whole.split("\r\n"))
    assert plain(escaped(kept)) == kept


def test_a_character_is_never_split() -> None:
    rows = folded("X:" + "\N{SNOWMAN}" * 60).split("\r\n")
    assert all(row.encode().decode() for row in rows)
    assert len(rows) == 3
