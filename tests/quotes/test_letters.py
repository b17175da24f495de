"""Letters about a quote: the client hears of answers, and of what was accepted in their name."""

from __future__ import annotations

import pytest

from jobs.models import Client, HistoryEntry, Outbox
from quotes.enums import Answer
from quotes.queries.letters import letters_with_quote
from quotes.services import asking, deciding, letters, payments
from quotes.services.invoicing import issue_invoice
from tests import make

pytestmark = pytest.mark.usefixtures("workshop")
CLIENT = "cleo@example.org"


@pytest.fixture
def sent(owner):
    """A quote that went out to the client."""
    quote = make.issued_quote()
    Client.objects.update(email="")
    quote.job.client.refresh_from_db()
    letters.send_quote(quote=quote, person=owner, to=CLIENT, words="Dear Cleo")
    return quote


def newest(quote):
    return letters_with_quote(quote).order_by("pk").last()


def test_where_a_first_letter_goes_is_kept_with_the_client(sent, owner):
    client = sent.job.client
    client.refresh_from_db()
    assert client.email == CLIENT
    assert CLIENT in str(HistoryEntry.objects.get(record="client", record_id=client.pk).changes)
    letters.send_quote(quote=sent, person=owner, to="other@example.org", words="Dear all")
    client.refresh_from_db()
    assert client.email == CLIENT


def test_an_invoice_keeps_the_address_too(owner):
    invoice = issue_invoice(invoice=make.invoice(), person=owner)
    Client.objects.update(email="")
    payments.send_invoice(invoice=invoice, person=owner, to=CLIENT, words="Dear Cleo")
    invoice.job.client.refresh_from_db()
    assert invoice.job.client.email == CLIENT


def test_an_answer_goes_to_where_the_quote_went(sent, owner):
    question = {"from_client": True, "author": "Cleo", "text": "Which oil?"}
    sent.messages.create(**question)
    message = asking.answer(quote=sent, person=owner, text="A hard wax oil.")
    letter = newest(sent)
    assert (letter.to, letter.key) == (CLIENT, f"quote {sent.pk} letter answer {message.pk}")
    assert "Which oil?" in letter.text
    assert "A hard wax oil." in letter.text


def test_what_was_accepted_is_confirmed_with_the_document(sent):
    make.answer(sent)
    letter = newest(sent)
    assert letter.to == CLIENT
    assert all(words in letter.text for words in ("Cleo Client", "£120.00", "If this was not you"))
    (paper,) = letter.attachments.all()
    assert bytes(paper.content) == bytes(sent.document.content)


def test_a_second_yes_sends_no_second_letter(sent):
    make.answer(sent)
    make.answer(sent)
    assert letters_with_quote(sent).filter(key__endswith="accepted").count() == 1


def test_an_answer_on_paper_needs_no_letter(sent, owner):
    reply = deciding.Reply("Cleo Client", "")
    deciding.record_answer_on_paper(quote=sent, person=owner, answer=Answer.ACCEPTED, reply=reply)
    assert letters_with_quote(sent).count() == 1


def test_without_an_address_there_is_no_letter(owner):
    quote = make.issued_quote(job=make.phase(job=make.job(client=make.client(email=""))).job)
    asking.answer(quote=quote, person=owner, text="Yes.")
    make.answer(quote)
    assert not Outbox.objects.exists()
