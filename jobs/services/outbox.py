"""How does a letter get out once and only once, and what if the mail server is down?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta

from django.core.mail import EmailMultiAlternatives, get_connection
from django.core.mail.backends.base import BaseEmailBackend
from django.db import models, transaction
from django.utils import timezone

from jobs.models import Job, Outbox, OutboxAttachment, Workshop

FIRST_WAIT = timedelta(minutes=2)
LONGEST_WAIT = timedelta(hours=6)
MOST_DOUBLINGS = 8  # by then the longest wait is reached
CLAIMED_FOR = timedelta(minutes=10)


@dataclass(frozen=True)
class Attachment:
    """A file to go with a letter."""

    name: str
    content_type: str
    content: bytes


def queue_letter(
    *,
    key: str,
    to: str,
    subject: str,
    text: str,
    html: str = "",
    job: Job | None = None,
    attachments: Sequence[Attachment] = (),
) -> Outbox:
    """Queue a letter in the transaction of what it tells of. The same key is the same letter, queued once."""
    with transaction.atomic():
        letter, is_new = Outbox.objects.get_or_create(
            key=key,
            defaults={
                "job": job,
                "to": to,
                "subject": " ".join(subject.split())[:200],
                "text": text,
                "html": html,
            },
        )
        if is_new:
            OutboxAttachment.objects.bulk_create(
                OutboxAttachment(
                    letter=letter, name=each.name, content_type=each.content_type, content=each.content
                )
                for each in attachments
            )
    return letter


def send_waiting(*, limit: int = 50) -> tuple[int, int]:
    """Send letters that are due; how many went and how many failed. A failed one waits longer each time.

    A letter is claimed before it is sent, so that two senders at once don't both send it. If the sender dies
    between sending and noting it, the letter goes again after ten minutes: rather twice than never.
    """
    connection = get_connection()
    sent = failed = 0
    for _ in range(limit):
        letter = _claim_next()
        if letter is None:
            break
        if _send(letter, connection):
            sent += 1
        else:
            failed += 1
    return sent, failed


@transaction.atomic
def try_again(*, letter: Outbox) -> None:
    """Let a letter that failed be due at once."""
    Outbox.objects.filter(pk=letter.pk, sent_at=None).update(try_after=None)


@transaction.atomic
def _claim_next() -> Outbox | None:
    now = timezone.now()
    due = models.Q(try_after=None) | models.Q(try_after__lte=now)
    due |= models.Q(try_after__gt=now + LONGEST_WAIT)  # no letter waits so long: the clock was put back
    letter = Outbox.objects.select_for_update().filter(due, sent_at=None).order_by("queued_at", "pk").first()
    if letter:
        letter.attempts += 1
        letter.try_after = now + CLAIMED_FOR
        letter.save(update_fields=["attempts", "try_after"])
    return letter


def _answers_go_to() -> list[str]:
    """The workshop's own address: the sender may be one that nobody reads."""
    address = Workshop.objects.filter(pk=1).values_list("email", flat=True).first()
    return [address] if address else []


def _send(letter: Outbox, connection: BaseEmailBackend) -> bool:
    try:
        _message(letter, connection).send()
    except Exception as error:  # whatever went wrong, the letter is kept and shown with it
        letter.last_error = _as_can_be_stored(f"{type(error).__name__}: {error}")
        letter.try_after = timezone.now() + _wait_after(letter.attempts)
        letter.save(update_fields=["last_error", "try_after"])
        return False
    letter.sent_at, letter.last_error = timezone.now(), ""
    letter.save(update_fields=["sent_at", "last_error"])
    return True


def _wait_after(attempts: int) -> timedelta:
    """Twice as long each time; the power is held down, for a span of time has its largest too."""
    return min(LONGEST_WAIT, FIRST_WAIT * (1 << min(attempts - 1, MOST_DOUBLINGS)))


def _as_can_be_stored(words: str) -> str:
    """What a mail server says can hold bytes that no database takes."""
    return words.replace("\0", "").encode(errors="replace").decode()


def _message(letter: Outbox, connection: BaseEmailBackend) -> EmailMultiAlternatives:
    message = EmailMultiAlternatives(
        subject=letter.subject,
        body=letter.text,
        to=[letter.to],
        reply_to=_answers_go_to(),
        connection=connection,
        headers={"Message-ID": f"<kerfbook-{letter.pk}-{letter.queued_at.timestamp():.0f}@outbox>"},
    )
    if letter.html:
        message.attach_alternative(letter.html, "text/html")
    for each in letter.attachments.all():
        message.attach(each.name, bytes(each.content), each.content_type)
    return message
