"""The phone's plain forms: what is stored, what is refused in words, and what stays typed."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone

from jobs.models import CostEntry, Note, TimeEntry, Workshop
from tests import make
from tests.pictures import picture

BENCH = "/bench/"


@pytest.fixture
def phase(workshop):
    return make.phase(job=make.job(state="bench", title="Hut"), title="Bunk")


def go(browser, name, **fields):
    """Send a form of the bench and see where it leads."""
    return browser.post(reverse(f"jobs:bench-{name}"), fields, follow=True)


def hours_of(phase, **fields):
    return {"key": uuid4(), "phase": phase.pk, "on_date": timezone.localdate(), **fields}


def test_start_switch_and_stop(as_maker, phase):
    other = make.phase(job=phase.job, title="Floor")
    assert "Timer on Bunk" in go(as_maker, "start", key=uuid4(), phase=phase.pk).text
    assert "Now on Floor" in go(as_maker, "switch", key=uuid4(), phase=other.pk).text
    running = TimeEntry.objects.get(seconds=None)
    assert "Floor: 0:00 h." in go(as_maker, "stop", timer=running.key).text
    assert TimeEntry.objects.filter(seconds=None).count() == 0


def test_a_start_sent_twice_is_one_timer(as_maker, phase):
    key = uuid4()
    for _ in range(2):
        go(as_maker, "start", key=key, phase=phase.pk)
    assert TimeEntry.objects.count() == 1


def test_a_second_timer_is_refused_in_words(as_maker, phase):
    go(as_maker, "start", key=uuid4(), phase=phase.pk)
    assert "A timer runs on Bunk" in go(as_maker, "start", key=uuid4(), phase=phase.pk).text


@pytest.mark.parametrize("fields", [{}, {"key": "x", "phase": 1}, {"key": uuid4(), "phase": 0}])
def test_nonsense_starts_nothing(fields, as_maker, phase):
    assert go(as_maker, "start", **fields).status_code == 200
    assert TimeEntry.objects.count() == 0


@pytest.mark.parametrize("name", ["start", "switch", "stop"])
def test_looking_starts_and_stops_nothing(name, as_maker):
    assert as_maker.get(reverse(f"jobs:bench-{name}")).status_code == 405


def test_a_forgotten_timer_is_asked_about(as_maker, maker, phase):
    began = timezone.now() - timedelta(hours=12)
    timer = make.hours(person=maker, phase=phase, seconds=None, started_at=began, on_date=began.date())
    assert "When did you stop?" in as_maker.get(BENCH).text
    assert "When did you stop?" in go(as_maker, "stop", timer=timer.key).text
    ended = timezone.localtime(began + timedelta(hours=2))
    go(as_maker, "stop", timer=timer.key, day=f"{ended:%Y-%m-%d}", clock=f"{ended:%H:%M}")
    timer.refresh_from_db()
    assert timer.ended_at == ended.replace(second=0, microsecond=0)


@pytest.mark.parametrize(("fields", "seconds"), [({"pick": "2"}, 7200), ({"hours": "7:20"}, 26400)])
def test_hours_of_a_day(fields, seconds, as_maker, phase):
    assert "Bunk:" in go(as_maker, "hours", **hours_of(phase, **fields)).text
    assert TimeEntry.objects.get().seconds == seconds


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({}, "How long did it take?"),
        ({"hours": "all day"}, "write 7.5, 7:20 or 45 min"),
        ({"hours": "25"}, "at most 24"),
        ({"hours": "1", "on_date": "2099-01-01"}, "still to come"),
        ({"hours": "1", "on_date": "soon"}, "valid date"),
    ],
)
def test_hours_that_cannot_be_meant_are_refused_and_stay_typed(fields, words, as_maker, phase):
    answer = go(as_maker, "hours", **hours_of(phase, note="by the stove", **fields))
    assert answer.status_code == 422
    assert words in answer.text
    assert "by the stove" in answer.text
    assert TimeEntry.objects.count() == 0


def test_hours_beyond_a_day_are_refused_beside_the_field(as_maker, maker, phase):
    make.hours(person=maker, phase=phase, seconds=21 * 3600, on_date=timezone.localdate())
    answer = go(as_maker, "hours", **hours_of(phase, hours="8"))
    assert answer.status_code == 422
    assert "21:00 h are logged" in answer.context["form"].errors["hours"][0]


def test_hours_just_logged_can_be_corrected(as_maker, phase):
    answer = go(as_maker, "hours", **hours_of(phase, hours="8"))
    entry = TimeEntry.objects.get()
    assert f'<a href="{reverse("jobs:entry-correct", args=[entry.pk])}">Correct it</a>' in answer.text


def test_hours_for_a_change_without_a_yes_are_flagged(as_maker, phase):
    change = make.change(job=phase.job, number=2, title="Window seat", state="issued")
    answer = go(as_maker, "hours", **hours_of(phase, hours="1", change=change.pk))
    assert "Change 2, Window seat is not yet agreed." in answer.text
    assert "not yet agreed" in as_maker.get(BENCH).text


def test_hours_that_share_time_or_make_a_long_day_are_flagged(as_maker, maker, phase):
    now = timezone.now()
    make.hours(
        person=maker,
        phase=phase,
        seconds=12 * 3600,
        on_date=timezone.localdate(),
        started_at=now - timedelta(hours=1),
        ended_at=now + timedelta(hours=1),
    )
    assert "That makes 13 hours for the day." in go(as_maker, "hours", **hours_of(phase, hours="1")).text
    assert "It shares time with another entry." in go(as_maker, "start", key=uuid4(), phase=phase.pk).text


def cost_of(phase, **fields):
    usual = {"total": "120", "kind": "material", "supplier": "Ferry Timber", **hours_of(phase)}
    return {**usual, **fields}


def test_a_receipt_with_tax_and_picture(as_maker, workshop, phase):
    photo = SimpleUploadedFile("receipt.exe", picture(), content_type="application/x-msdownload")
    rate = as_maker.get(reverse("jobs:bench-cost")).context["form"]["rate"].value()
    answer = go(as_maker, "cost", **cost_of(phase, rate=rate, photo=photo))
    assert "£120.00 on Bunk." in answer.text
    cost = CostEntry.objects.get()
    assert (cost.net, cost.tax, cost.supplier) == (100, 20, "Ferry Timber")
    shown = as_maker.get(reverse("jobs:photo", args=[cost.photo.sha256]))
    assert shown.headers["Content-Type"] == "image/jpeg"
    assert "sandbox" in shown.headers["Content-Security-Policy"]


def test_the_tax_on_the_paper_counts_before_the_rate(as_maker, phase):
    go(as_maker, "cost", **cost_of(phase, total="119.99", tax="19.98"))
    assert (CostEntry.objects.get().net, CostEntry.objects.get().tax) == (Decimal("100.01"), Decimal("19.98"))


def test_a_receipt_in_a_currency_of_small_units(as_maker, phase):
    Workshop.objects.update(currency="IDR")
    go(as_maker, "cost", **cost_of(phase, total="16650000", tax="1650000"))
    assert CostEntry.objects.get().net == 15_000_000


def test_a_workshop_not_registered_is_not_asked_for_tax_and_bears_it(as_maker, workshop, phase):
    Workshop.objects.update(not_registered_for_tax=True)
    fields = as_maker.get(reverse("jobs:bench-cost")).context["form"].fields
    assert not {"rate", "tax"} & set(fields)
    go(as_maker, "cost", **cost_of(phase, tax="20"))
    assert (CostEntry.objects.get().net, CostEntry.objects.get().tax) == (120, 0)


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"total": "a lot"}, "Enter a number"),
        ({"total": "0"}, "no cost"),
        ({"total": "10", "tax": "11"}, "part of the amount"),
        ({"photo": SimpleUploadedFile("receipt.jpg", b"no picture at all")}, "no picture"),
        ({"kind": "bribe"}, "Select a valid choice"),
    ],
)
def test_costs_that_cannot_be_meant(fields, words, as_maker, phase):
    answer = go(as_maker, "cost", **cost_of(phase, **fields))
    assert (answer.status_code, words in answer.text, "Ferry Timber" in answer.text) == (422, True, True)
    assert CostEntry.objects.count() == 0


def test_a_job_closed_meanwhile_is_said_in_words(as_maker, phase):
    phase.job.state = "closed"
    phase.job.save()
    assert "is closed" in go(as_maker, "cost", **cost_of(phase)).text
    assert "is closed" in go(as_maker, "start", key=uuid4(), phase=phase.pk).text


def test_a_note_with_a_picture(as_maker, phase):
    go(as_maker, "note", key=uuid4(), phase=phase.pk, photo=SimpleUploadedFile("a.png", picture(kind="PNG")))
    assert Note.objects.get().photo is not None
    assert "a few words" in go(as_maker, "note", key=uuid4(), phase=phase.pk).text


def test_a_maker_sees_no_receipt_of_somebody_else(as_maker, as_owner, owner, phase):
    go(as_owner, "cost", **cost_of(phase, photo=SimpleUploadedFile("a.jpg", picture(50, 50))))
    address = reverse("jobs:photo", args=[CostEntry.objects.get().photo.sha256])
    assert as_owner.get(address).status_code == 200
    assert as_maker.get(address).status_code == 404
    assert as_owner.get(reverse("jobs:photo", args=["0" * 64])).status_code == 404


@pytest.mark.parametrize("count", [1, 3])
def test_the_bench_page_asks_the_database_nine_times(count, as_maker, maker, django_assert_num_queries):
    for _ in range(count):
        phase = make.phase(job=make.job(state="bench"))
        make.change(job=phase.job)
        make.hours(person=maker, phase=phase, on_date=timezone.localdate())
    with django_assert_num_queries(9):
        assert as_maker.get(BENCH).status_code == 200
