"""Which letters go out about a quote? Each is queued in the transaction of what it tells of."""

from __future__ import annotations

from collections.abc import Mapping

from django.conf import settings
from django.db import transaction
from django.template.loader import render_to_string
from django.urls import reverse

from jobs.history import record
from jobs.models import Person
from jobs.refusals import RefusedError
from jobs.services.clients import remember_email
from jobs.services.outbox import Attachment, queue_letter
from jobs.workshop import current_workshop
from quotes.models import Decision, Message, Quote
from quotes.queries.letters import letters_with_quote
from quotes.services.links import make_link


@transaction.atomic
def send_quote(*, quote: Quote, person: Person, to: str, words: str) -> str:
    """Queue the letter with the PDF and a fresh secret link; returns the link's address.

    Links made before are withdrawn, so that the newest letter is the one that works.
    """
    if not quote.document or quote.is_draft:
        raise RefusedError("Issue it before you send it.")
    address = link_address(make_link(quote=quote, person=person))
    sent = quote.links.count()
    context = {"quote": quote, "words": words, "address": address, "workshop": current_workshop()}
    queue_letter(
        key=f"quote {quote.pk} letter {sent}",
        job=quote.job,
        to=to,
        subject=f"{quote.title}: {quote.document.get_kind_display()} {quote.number}",
        text=render_to_string("letters/quote.txt", context),
        html=render_to_string("letters/quote.html", context),
        attachments=[
            Attachment(quote.document.name, quote.document.content_type, bytes(quote.document.content))
        ],
    )
    record(person=person, thing=quote, action="sent", job=quote.job, after={"to": to})
    remember_email(quote.job.client, email=to, person=person)
    return address


def confirm_to_client(decision: Decision) -> None:
    """Tell the client what was just accepted in their name, with the document itself."""
    quote = decision.quote
    _tell_client(quote, "accepted", f"{quote.title}: accepted", {"decision": decision}, with_paper=True)


def send_answer(message: Message, asked: Message | None) -> None:
    """Tell the client what the workshop answers on their page."""
    context = {"message": message, "asked": asked}
    _tell_client(message.quote, f"answer {message.pk}", f"{message.quote.title}: your question", context)


def _tell_client(
    quote: Quote, about: str, subject: str, context: Mapping[str, object], *, with_paper: bool = False
) -> None:
    """Queue a letter to where the quote was sent; none where no address is known."""
    sent = letters_with_quote(quote).order_by("pk").last()
    to = sent.to if sent else quote.job.client.email
    if not to:
        return
    paper = quote.document if with_paper else None
    queue_letter(
        key=f"quote {quote.pk} letter {about}",
        job=quote.job,
        to=to,
        subject=subject,
        text=render_to_string(
            "letters/to_client.txt", {**context, "quote": quote, "workshop": current_workshop()}
        ),
        attachments=[Attachment(paper.name, paper.content_type, bytes(paper.content))] if paper else [],
    )


def link_address(token: str) -> str:
    """The full address of a client's link."""
    return f"{settings.SITE_URL}{reverse('quotes:link', args=[token])}"


def tell_workshop_of_answer(decision: Decision) -> None:
    """Tell the workshop of a yes or no."""
    quote = decision.quote
    _tell_workshop(
        key=f"answer {quote.pk}",
        quote=quote,
        subject=f"{quote.number} {decision.get_answer_display()} by {decision.name}",
        context={"decision": decision},
    )


def tell_workshop_of_question(message: Message) -> None:
    """Tell the workshop that the client asks something."""
    _tell_workshop(
        key=f"question {message.pk}",
        quote=message.quote,
        subject=f"Question on {message.quote.number} from {message.author}",
        context={"message": message},
    )


def _tell_workshop(*, key: str, quote: Quote, subject: str, context: dict[str, object]) -> None:
    workshop = current_workshop()
    if not workshop.email:
        return
    context = {**context, "quote": quote, "desk": f"{settings.SITE_URL}{quote.get_absolute_url()}"}
    queue_letter(
        key=key,
        job=quote.job,
        to=workshop.email,
        subject=subject,
        text=render_to_string("letters/to_workshop.txt", context),
    )
