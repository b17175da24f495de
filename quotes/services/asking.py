"""How do client and workshop ask and answer about a quote? The thread is kept with it."""

from __future__ import annotations

from django.db import transaction

from jobs.models import Person
from jobs.refusals import RefusedError
from quotes.enums import LinkStep
from quotes.models import ClientLink, Message, Quote
from quotes.services.letters import send_answer, tell_workshop_of_question
from quotes.services.links import Caller, note

LONGEST_TEXT = 4000
MESSAGES_A_QUOTE = 200


@transaction.atomic
def ask(*, link: ClientLink, quote: Quote, name: str, text: str, caller: Caller) -> Message:
    """The client asks; the workshop is told. The same question sent twice running is one question."""
    words = _checked(text)
    latest = quote.messages.last()
    if latest and latest.from_client and latest.text == words:
        return latest
    if quote.messages.count() >= MESSAGES_A_QUOTE:
        raise RefusedError("The thread is full. Please ring us.")
    message = Message.objects.create(
        quote=quote, from_client=True, author=name.strip()[:120] or quote.job.client.name, text=words
    )
    note(quote=quote, link=link, caller=caller, step=LinkStep.ASKED)
    tell_workshop_of_question(message)
    return message


@transaction.atomic
def answer(*, quote: Quote, person: Person, text: str) -> Message:
    """The workshop answers on the client's page, and by letter to where the quote was sent."""
    asked = quote.messages.filter(from_client=True).order_by("pk").last()
    message = Message.objects.create(quote=quote, from_client=False, author=person.name, text=_checked(text))
    note(quote=quote, step=LinkStep.ANSWERED, detail=f"by {person.name}")
    send_answer(message, asked)
    return message


def _checked(text: str) -> str:
    words = text.strip()
    if not words:
        raise RefusedError("Please write your question.")
    if len(words) > LONGEST_TEXT:
        raise RefusedError(f"Please keep it under {LONGEST_TEXT} characters.")
    return words
