"""Letters are queued once, sent once, and never lost when the mail server is down."""

from __future__ import annotations

from datetime import timedelta

import pytest
import time_machine
from django.core import mail
from django.core.mail.backends.base import BaseEmailBackend
from django.core.management import call_command
from django.utils import timezone

from jobs.models import Outbox
from jobs.services.outbox import Attachment, queue_letter, send_waiting, try_again
from tests import make

pytestmark = pytest.mark.django_db
DOWN = "tests.jobs.test_outbox.ServerDown"


class ServerDown(BaseEmailBackend):
    """A mail server that never answers."""

    def __init__(self, **options):
        pass

    def send_messages(self, messages):
        raise ConnectionRefusedError("no answer")


class ServerBabbles(BaseEmailBackend):
    """A mail server whose answer no database takes."""

    def send_messages(self, messages):
        raise OSError("no\udcff such\0 box")


def letter(**fields):
    plain = {"key": "quote 1", "to": "client@example.org", "subject": "A quote", "text": "Dear client"}
    return queue_letter(**{**plain, **fields})


def test_an_answer_goes_to_the_workshop():
    make.workshop(email="us@example.org")
    letter()
    send_waiting()
    assert mail.outbox[0].reply_to == ["us@example.org"]


def test_the_same_news_is_queued_once():
    assert letter() == letter(text="again")
    assert Outbox.objects.count() == 1


def test_a_letter_goes_out_once_with_text_html_and_file():
    letter(html="<p>Dear client</p>", attachments=[Attachment("q.pdf", "application/pdf", b"%PDF")])
    call_command("send_outbox")
    call_command("send_outbox")
    (sent,) = mail.outbox
    assert (sent.to, sent.body) == (["client@example.org"], "Dear client")
    assert sent.alternatives[0].mimetype == "text/html"
    assert sent.attachments[0].filename == "q.pdf"


def test_a_letter_that_fails_is_kept_and_tried_later(settings):
    settings.EMAIL_BACKEND = DOWN
    letter()
    assert send_waiting() == (0, 1)
    kept = Outbox.objects.get()
    assert kept.sent_at is None
    assert "no answer" in kept.last_error
    settings.EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
    assert send_waiting() == (0, 0)
    with time_machine.travel(timezone.now() + timedelta(minutes=3)):
        assert send_waiting() == (1, 0)
    assert len(mail.outbox) == 1


def test_the_wait_grows_with_each_failure(settings):
    settings.EMAIL_BACKEND = DOWN
    kept = letter()
    waits = []
    for _ in range(3):
        Outbox.objects.update(try_after=None)
        send_waiting()
        kept.refresh_from_db()
        waits.append(round((kept.try_after - timezone.now()).total_seconds() / 60))
    assert waits == [2, 4, 8]


@pytest.mark.parametrize("attempts", [8, 40, 41, 1500, 30_000])
def test_a_letter_that_failed_often_waits_six_hours_and_holds_up_no_other(settings, attempts):
    settings.EMAIL_BACKEND = DOWN
    old, new = letter(), letter(key="quote 2")
    Outbox.objects.filter(pk=old.pk).update(attempts=attempts)
    assert send_waiting() == (0, 2)
    old.refresh_from_db()
    new.refresh_from_db()
    assert (old.attempts, new.attempts) == (attempts + 1, 1)
    assert timedelta(hours=6) - (old.try_after - timezone.now()) < timedelta(minutes=1)


def test_a_letter_that_cannot_be_put_together_is_noted_and_the_others_go():
    broken, whole = letter(attachments=[Attachment("q", "nonsense", b"%PDF")]), letter(key="quote 2")
    assert send_waiting() == (1, 1)
    broken.refresh_from_db()
    whole.refresh_from_db()
    assert (broken.sent_at, whole.sent_at is None) == (None, False)
    assert "ValueError" in broken.last_error


def test_what_the_server_says_is_kept_whatever_it_holds(settings):
    settings.EMAIL_BACKEND = "tests.jobs.test_outbox.ServerBabbles"
    kept = letter()
    assert send_waiting() == (0, 1)
    kept.refresh_from_db()
    assert kept.last_error == "OSError: no? such box"


def test_a_person_may_try_again_at_once(settings):
    settings.EMAIL_BACKEND = DOWN
    kept = letter()
    send_waiting()
    settings.EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
    try_again(letter=kept)
    assert send_waiting() == (1, 0)


def test_a_subject_with_line_breaks_is_made_one_line():
    assert letter(subject="A\nBcc: other@example.org").subject == "A Bcc: other@example.org"
