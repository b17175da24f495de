"""The calendar's feed: form by RFC 5545, phases on their planned days, read by its secret alone."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
import time_machine
from django.test import Client as Browser
from django.urls import reverse
from hypothesis import given
from hypothesis import strategies as st

from jobs.calendar import Event, calendar_text, escaped, folded
from jobs.models import Workshop
from tests import make

MADE_AT = datetime(2026, 6, 3, 12, 0, tzinfo=UTC)


def test_the_form_of_an_event() -> None:
    """Properties by RFC 5545, sections 3.6.1 and 3.8; a DATE end is the day after (3.8.2.2)."""
    event = Event("phase-1@kerfbook", date(2026, 6, 8), date(2026, 6, 10), "Lining, walls")
    lines = calendar_text([event], name="Test", made_at=MADE_AT).split("\r\n")
    assert lines[5:13] == [
        "BEGIN:VEVENT",
        "UID:phase-1@kerfbook",
        "DTSTAMP:20260603T120000Z",
        "DTSTART;VALUE=DATE:20260608",
        "DTEND;VALUE=DATE:20260611",
        "SUMMARY:Lining\\, walls",
        "TRANSP:TRANSPARENT",
        "END:VEVENT",
    ]
    assert lines[0] == "BEGIN:VCALENDAR"
    assert lines[-2:] == ["END:VCALENDAR", ""]


@given(st.text(alphabet=st.characters(blacklist_categories=["Cs", "Cc"]), max_size=400))
def test_folding_keeps_the_text_and_the_limit(text: str) -> None:
    """RFC 5545 3.1: lines of at most 75 octets, joined again by taking out CRLF and the space."""
    lines = folded(text).split("\r\n")
    assert all(len(line.encode()) <= 75 for line in lines)
    assert folded(text).replace("\r\n ", "") == text


@pytest.mark.parametrize(
    ("text", "kept"), [("a\\b", "a\\\\b"), ("a;b,c", "a\\;b\\,c"), ("a\nb\r\nc\rd", "a\\nb\\nc\\nd")]
)
def test_text_is_escaped(text: str, kept: str) -> None:
    assert escaped(text) == kept


def feed(key: str = "a-secret") -> str:
    return Browser().get(reverse("jobs:calendar", args=[key])).content.decode()


@time_machine.travel(MADE_AT)
def test_a_phase_stands_on_its_working_days(workshop: Workshop) -> None:
    make.calendar()
    phase = make.phase(
        job=make.job(state="bench", number="26-014"), planned_start=date(2026, 6, 11), planned_days=3
    )
    text = feed()
    assert f"UID:phase-{phase.pk}@kerfbook" in text
    assert "DTSTART;VALUE=DATE:20260611" in text
    assert "DTEND;VALUE=DATE:20260616" in text


@time_machine.travel(MADE_AT)
@pytest.mark.parametrize(
    ("state", "start"), [("enquiry", date(2026, 6, 11)), ("bench", None), ("bench", date(2026, 1, 5))]
)
def test_what_is_not_agreed_not_planned_or_long_past_is_left_out(
    workshop: Workshop, state: str, start: date | None
) -> None:
    make.calendar()
    make.phase(job=make.job(state=state), planned_start=start, planned_days=3)
    assert "VEVENT" not in feed()


def test_the_feed_names_no_client(workshop: Workshop) -> None:
    make.calendar()
    job = make.job(state="bench", client=make.client(name="Alder Boats"))
    make.phase(job=job, planned_start=date.max.replace(year=2090), planned_days=1)
    assert "VEVENT" in feed()
    assert "Alder" not in feed()


@pytest.mark.parametrize("secret", ["", "a-secret"])
def test_without_its_secret_there_is_no_feed(workshop: Workshop, secret: str) -> None:
    Workshop.objects.update(calendar_key=secret)
    for key in ("another", "a-secre", "a-sécret"):
        assert Browser().get(reverse("jobs:calendar", args=[key])).status_code == 404


def test_a_new_address_ends_the_old_one(as_owner: Browser) -> None:
    old = make.calendar()
    as_owner.post(reverse("jobs:calendar-renew"))
    assert Browser().get(reverse("jobs:calendar", args=[old])).status_code == 404
    new = Workshop.objects.get().calendar_key
    assert len(new) >= 32
    assert Browser().get(reverse("jobs:calendar", args=[new])).status_code == 200


def test_an_address_is_made_by_a_button(as_owner: Browser) -> None:
    assert as_owner.get(reverse("jobs:calendar-renew")).status_code == 405
