"""Which days are planned for what? An iCalendar feed (RFC 5545) that any calendar may subscribe to.

Each room registers its own events when the program starts (`AppConfig.ready`): this one knows phases, the
materials room deliveries. An event tells what is planned, never a price and never who the client is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

LINE_OCTETS = 75
DAY = timedelta(days=1)


@dataclass(frozen=True)
class Event:
    """Whole days from the first to the last. `uid` stays the same when the plan moves."""

    uid: str
    first: date
    last: date
    title: str
    about: str = ""


Source = Callable[[date], Iterable[Event]]
"""Events that end on or after the day given, in one or two queries."""

_sources: list[Source] = []


def register(source: Source) -> None:
    """From now on the calendar holds its events too."""
    if source not in _sources:
        _sources.append(source)


def events_from(day: date) -> list[Event]:
    """All that is planned to end on that day or later, in the order of its days."""
    found = [event for source in _sources for event in source(day)]
    return sorted(found, key=lambda event: (event.first, event.uid))


def calendar_text(events: Iterable[Event], *, name: str, made_at: datetime) -> str:
    """The feed: CRLF lines folded at 75 octets, text escaped, the day after the last as the end."""
    stamp = made_at.astimezone(UTC).strftime("%Y%m%dT%H%M%SZ")
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Kerfbook//Workshop calendar//EN", "METHOD:PUBLISH"]
    lines.append(f"X-WR-CALNAME:{escaped(name)}")
    for event in events:
        lines += _event_lines(event, stamp)
    lines.append("END:VCALENDAR")
    return "".join(f"{folded(line)}\r\n" for line in lines)


def escaped(text: str) -> str:
    r"""Text as RFC 5545 3.3.11 wants it.

    >>> escaped("oak, ash; two\nlines")
    'oak\\, ash\\; two\\nlines'
    """
    text = text.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,")
    return text.replace("\r\n", "\\n").replace("\n", "\\n").replace("\r", "\\n")


def folded(line: str) -> str:
    """A long line in pieces of at most 75 octets, the later ones after a space; no letter is cut in two."""
    pieces, piece, room = [], "", LINE_OCTETS
    for letter in line:
        if len((piece + letter).encode()) > room:
            pieces.append(piece)
            piece, room = "", LINE_OCTETS - 1
        piece += letter
    return "\r\n ".join([*pieces, piece])


def _event_lines(event: Event, stamp: str) -> list[str]:
    about = [f"DESCRIPTION:{escaped(event.about)}"] if event.about else []
    return [
        "BEGIN:VEVENT",
        f"UID:{event.uid}",
        f"DTSTAMP:{stamp}",
        f"DTSTART;VALUE=DATE:{event.first:%Y%m%d}",
        f"DTEND;VALUE=DATE:{event.last + DAY:%Y%m%d}",
        f"SUMMARY:{escaped(event.title)}",
        *about,
        "TRANSP:TRANSPARENT",
        "END:VEVENT",
    ]
