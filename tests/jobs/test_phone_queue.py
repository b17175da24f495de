"""What a phone sends an hour later: done once, answered the same again, refused in words it can show."""

from __future__ import annotations

import base64
from datetime import timedelta
from uuid import uuid4

import pytest
from django.conf import settings
from django.contrib.staticfiles import finders
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from jobs.models import CostEntry, Note, TimeEntry
from jobs.views.phone_app import FILES
from tests import make
from tests.pictures import picture

QUEUE = "/bench/queue/"


@pytest.fixture
def phase(workshop):
    return make.phase(job=make.job(state="bench", title="Hut"), title="Bunk")


@pytest.fixture
def send(as_maker, maker):
    """Send a message as the phone does; its answer."""

    def sent(**message):
        whole = {"key": str(uuid4()), "person": maker.pk, **message}
        return as_maker.post(QUEUE, whole, content_type="application/json")

    return sent


def ago(**past):
    return (timezone.now() - timedelta(**past)).isoformat()


def test_a_timer_started_and_stopped_without_a_signal(send, phase):
    timer = str(uuid4())
    assert send(act="start", key=timer, phase=phase.pk, at=ago(hours=3)).status_code == 201
    answer = send(act="stop", timer=timer, at=ago(hours=1))
    assert (answer.status_code, answer.json()["words"]) == (201, "Bunk: 2:00 h.")
    assert TimeEntry.objects.get().seconds == 7200


@pytest.mark.parametrize(
    "message",
    [
        {"act": "start"},
        {"act": "switch"},
        {"act": "hours", "hours": "2", "on_date": "2026-06-02"},
        {"act": "cost", "total": "12.50", "kind": "material", "on_date": "2026-06-02"},
        {"act": "note", "text": "out of level"},
        {"act": "stretch", "started_at": "2026-06-02T08:00:00Z", "ended_at": "2026-06-02T09:00:00Z"},
    ],
    ids=lambda message: message["act"],
)
def test_sent_again_it_is_done_once_and_answered_the_same(message, send, phase, time_machine):
    time_machine.move_to("2026-06-03T09:00:00Z")
    whole = {"key": str(uuid4()), "phase": phase.pk, **message}
    first, again = send(**whole), send(**whole)
    assert (first.status_code, again.status_code) == (201, 200)
    assert first.json() == again.json()
    assert TimeEntry.objects.count() + CostEntry.objects.count() + Note.objects.count() == 1


def test_a_stop_sent_again_is_answered_the_same_after_the_sheet_was_corrected(send, phase):
    timer, stop = str(uuid4()), {"key": str(uuid4()), "act": "stop", "at": ago(hours=1)}
    send(act="start", key=timer, phase=phase.pk, at=ago(hours=3))
    first = send(**stop, timer=timer)
    TimeEntry.objects.update(void=True)
    assert send(**stop, timer=timer).json() == first.json()


def test_a_receipt_with_its_picture(send, phase):
    photo = base64.b64encode(picture(3000, 2000)).decode()
    day = str(timezone.localdate())
    answer = send(act="cost", phase=phase.pk, total="12", kind="material", on_date=day, photo=photo)
    assert answer.json()["words"] == "£12.00 on Bunk."
    assert CostEntry.objects.get().photo.width == 1600


def test_what_cannot_be_as_things_stand_is_a_conflict_in_words(send, phase):
    send(act="start", phase=phase.pk)
    answer = send(act="start", phase=phase.pk)
    assert answer.status_code == 409
    assert answer.json()["words"].startswith("A timer runs on Bunk since")
    phase.job.state = "closed"
    phase.job.save()
    assert "is closed" in send(act="note", phase=phase.pk, text="x").text or Note.objects.exists()


def test_a_forgotten_timer_asks_when(send, phase):
    timer = str(uuid4())
    send(act="start", key=timer, phase=phase.pk, at=ago(hours=12))
    answer = send(act="stop", timer=timer, at=ago(minutes=0))
    assert (answer.status_code, answer.json()["asks"]) == (409, "at")
    assert send(act="stop", timer=timer, at=ago(hours=8), sure=True).json()["words"] == "Bunk: 4:00 h."


def test_other_words_under_the_same_key_are_a_conflict(send, phase):
    key = str(uuid4())
    send(act="note", key=key, phase=phase.pk, text="one")
    assert send(act="note", key=key, phase=phase.pk, text="two").status_code == 409
    assert Note.objects.get().text == "one"


@pytest.mark.parametrize(
    ("message", "field"),
    [
        ({"act": "dance"}, "act"),
        ({"act": "hours", "phase": 0, "hours": "2", "on_date": "2026-06-02"}, "phase"),
        ({"act": "hours", "hours": "all day", "on_date": "2026-06-02"}, "hours"),
        ({"act": "note", "text": "x", "key": "one"}, "key"),
        ({"act": "note", "photo": "not base64!"}, "photo"),
        ({"act": "note", "photo": base64.b64encode(b"no picture").decode()}, "photo"),
        ({"act": "note", "photo": 7}, "photo"),
        ({"act": "start", "at": "yesterday"}, "at"),
        ({"act": "start", "at": "0001-01-01T00:00:00Z"}, "at"),
        ({"act": "note", "text": "x", "at": "9999-12-31T23:59:59-14:00"}, "at"),
        ({"act": "stop", "timer": str(uuid4()), "at": 7}, "at"),
        (
            {"act": "stretch", "started_at": "0001-01-01T00:00:00+14:00", "ended_at": ago(hours=1)},
            "started_at",
        ),
        ({"act": "stop", "timer": str(uuid4()), "day": "0001-01-01", "clock": "00:00"}, "__all__"),
        ({"act": "note", "text": "cut short \ud83d"}, "text"),
        ({"act": "note", "text": {"a": 1}}, "text"),
        ({"act": "hours", "hours": "1", "on_date": 20261101}, "on_date"),
        ({"act": "note", "text": "x", "self": []}, "self"),
        ({"act": ["start"]}, "act"),
    ],
)
def test_what_cannot_be_read_is_said_beside_its_field(message, field, send, phase):
    answer = send(**{"phase": phase.pk, **message})
    assert answer.status_code == 400
    assert field in answer.json()["errors"]


def test_a_phase_that_is_gone_is_said_so(send, phase):
    gone = phase.pk
    phase.delete()
    answer = send(act="start", phase=gone)
    assert answer.json()["errors"] == {"phase": ["That phase was taken out. Choose another."]}


@pytest.mark.parametrize("body", ["", "{", "[]", "7", '"x"', "\xff", "[" * 100_000])
def test_what_is_no_message(body, as_maker):
    answer = as_maker.post(QUEUE, body.encode("latin-1"), content_type="application/json")
    assert (answer.status_code, list(answer.json()["errors"])) == (400, ["message"])


def test_somebody_elses_message_waits_for_them(as_owner, maker, phase):
    message = {"act": "start", "key": str(uuid4()), "person": maker.pk, "phase": phase.pk}
    answer = as_owner.post(QUEUE, message, content_type="application/json")
    assert (answer.status_code, "Somebody else" in answer.json()["words"]) == (403, True)
    assert TimeEntry.objects.count() == 0


def test_a_stranger_is_sent_to_log_in(as_stranger, phase):
    assert as_stranger.post(QUEUE, {}, content_type="application/json").status_code == 302


def test_without_the_forms_token_nothing_is_taken(maker, phase):
    browser = Browser(enforce_csrf_checks=True)
    browser.force_login(maker)
    message = {"act": "start", "key": str(uuid4()), "person": maker.pk, "phase": phase.pk}
    assert browser.post(QUEUE, message, content_type="application/json").status_code == 403
    browser.get("/bench/")
    token = browser.cookies["kerfbook-csrf"].value
    answer = browser.post(QUEUE, message, content_type="application/json", headers={"x-csrftoken": token})
    assert answer.status_code == 201


def test_the_worker_is_fresh_and_at_the_root(as_stranger):
    worker = as_stranger.get(reverse("jobs:worker"))
    assert worker.headers["Cache-Control"] == "no-cache"
    assert worker.headers["Content-Type"] == "text/javascript"
    assert reverse("jobs:worker").count("/") == 1


def test_the_worker_keeps_every_script_of_the_bench_and_only_files_that_are_there():
    assert [name for name in FILES if not finders.find(name)] == []
    scripts = {f"js/bench/{path.name}" for path in (settings.BASE_DIR / "static/js/bench").iterdir()}
    assert scripts <= set(FILES)


def test_the_manifest_names_icons_that_are_there(as_stranger):
    told = as_stranger.get(reverse("jobs:manifest")).json()
    assert told["start_url"] == "/bench/"
    assert all(finders.find(icon["src"].removeprefix("/static/")) for icon in told["icons"])


def test_hours_beyond_a_day_are_refused_beside_the_field(send, maker, phase):
    make.hours(person=maker, phase=phase, seconds=21 * 3600, on_date=timezone.localdate())
    answer = send(act="hours", phase=phase.pk, hours="8", on_date=str(timezone.localdate()))
    assert answer.status_code == 400
    assert "21:00 h are logged" in answer.json()["errors"]["hours"][0]


def test_a_stretch_beyond_a_day_is_refused_in_words(send, maker, phase):
    began = timezone.localtime() - timedelta(hours=4)
    make.hours(person=maker, phase=phase, seconds=21 * 3600, on_date=began.date())
    answer = send(act="stretch", phase=phase.pk, started_at=began.isoformat(), ended_at=ago(seconds=1))
    assert (answer.status_code, "21:00 h are logged" in answer.json()["words"]) == (409, True)
