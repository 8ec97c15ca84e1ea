"""The sittings as a calendar file, iCalendar [RFC5545].

Sections of the RFC: lines and folding 3.1, text 3.3.11, VEVENT 3.6.1, UID 3.8.4.7, DTSTAMP 3.8.7.2.
"""

from datetime import UTC, datetime, time, timedelta

from schemeforge.plan.schedule import Schedule
from schemeforge.plan.timeline import SittingPlan, models_words
from schemeforge.scheme import Project, Sitting

_MOST_OCTETS = 75
_DOMAIN = "schemeforge.invalid"  # a name that no one can own [RFC2606]


def calendar(
    project: Project, plan: Schedule, stamp: datetime, *, begins: time | None = None
) -> str:
    """The planned sittings that have a date, as the text of an iCalendar file.

    Without a time of day each is an all-day entry that leaves the day free, since the project
    does not say when a sitting begins; with one, it is at that local time wherever the reader is
    ("floating").

    Args:
        project: The document.
        plan: Its plan.
        stamp: When the file is made; with a zone, or UTC.
        begins: Time of day at which sittings begin.
    """
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//SchemeForge//Batch plan//EN",
        "CALSCALE:GREGORIAN",
        "METHOD:PUBLISH",
    ]
    ends: dict[str, datetime] = {}
    for sitting in plan.sittings:
        if sitting.sitting is not None and sitting.sitting.day:
            lines += _event(project, sitting, sitting.sitting, stamp, begins, ends)
    lines.append("END:VCALENDAR")
    return "".join(f"{folded(line)}\r\n" for line in lines)


def undated(plan: Schedule) -> int:
    """How many planned sittings have no date, and so are not in the calendar."""
    return sum(1 for s in plan.sittings if s.sitting is not None and not s.sitting.day)


def folded(line: str) -> str:
    """The line broken into lines of at most 75 octets, no character split, as 3.1 has it."""
    rows = [""]
    octets = 0
    for char in line:
        size = len(char.encode("utf-8", "replace"))
        if octets + size > _MOST_OCTETS:
            rows.append(" ")
            octets = 1
        rows[-1] += char
        octets += size
    return "\r\n".join(rows)


def escaped(text: str) -> str:
    """The text as a TEXT value, 3.3.11; control characters, which it cannot hold, left out."""
    for old, new in (("\\", "\\\\"), (";", "\\;"), (",", "\\,"), ("\n", "\\n")):
        text = text.replace(old, new)
    return "".join(char for char in text if char == "\t" or ord(char) >= 32)


def _event(
    project: Project,
    plan: SittingPlan,
    sitting: Sitting,
    stamp: datetime,
    begins: time | None,
    ends: dict[str, datetime],
) -> list[str]:
    if begins is None:
        first = datetime.fromisoformat(sitting.day)
        when = [
            f"DTSTART;VALUE=DATE:{first:%Y%m%d}",
            f"DTEND;VALUE=DATE:{first + timedelta(days=1):%Y%m%d}",
            "TRANSP:TRANSPARENT",
        ]
    else:
        start = datetime.combine(datetime.fromisoformat(sitting.day), begins)
        start = max(start, ends.get(sitting.day, start))  # another on the same day
        ends[sitting.day] = start + timedelta(minutes=plan.minutes + 60.0)
        when = [f"DTSTART:{start:%Y%m%dT%H%M%S}", f"DURATION:PT{round(plan.minutes)}M"]
    utc = stamp.astimezone(UTC) if stamp.tzinfo else stamp
    rows = [f"{s.number}. {s.name}: {models_words(s.count)}" for s in plan.stretches]
    told = "\n".join(rows) or "Nothing is planned for it."
    return [
        "BEGIN:VEVENT",
        f"UID:{project.id}.{sitting.id}@{_DOMAIN}",
        f"DTSTAMP:{utc:%Y%m%dT%H%M%SZ}",
        *when,
        f"SUMMARY:{escaped(f'{project.name}: sitting {plan.number}')}",
        f"DESCRIPTION:{escaped(told)}",
        "END:VEVENT",
    ]
