"""What was received, what is late, and how is a client reminded? Only a person sends a reminder."""

from __future__ import annotations

import uuid
from datetime import date
from decimal import Decimal
from hashlib import sha256

from django.db import transaction
from django.template.loader import render_to_string
from django.utils import timezone

from jobs.history import record
from jobs.models import Outbox, Person
from jobs.money import round_money
from jobs.refusals import RefusedError
from jobs.services.clients import remember_email
from jobs.services.outbox import Attachment, queue_letter
from jobs.workshop import current_workshop
from quotes.enums import InvoiceState
from quotes.models import Invoice, IssuedDocument, Payment
from quotes.papers.invoices import keep_paper, paper_of_invoice
from quotes.queries.invoices import opposite_key, owed_of
from quotes.services.invoicing import settle


@transaction.atomic
def receive(
    *,
    invoice: Invoice,
    amount: Decimal,
    on: date,
    person: Person,
    note: str = "",
    key: uuid.UUID | None = None,
) -> Payment:
    """Money came in, or went back (below nothing). The same key twice is one payment.

    Refused for more than is owed and for giving back more than was paid.
    """
    row = Invoice.objects.select_for_update().select_related("job").get(pk=invoice.pk)
    earlier = Payment.objects.filter(key=key).first() if key else None
    if earlier:
        return earlier
    if row.state == InvoiceState.DRAFT or row.is_credit_note:
        raise RefusedError("Payments are entered on an issued invoice.")
    (owed,) = owed_of(Invoice.objects.filter(pk=row.pk))
    if amount != round_money(amount, row.currency):
        raise RefusedError("That is finer than the currency’s smallest coin.")
    if not amount or amount > owed.open or amount < -owed.paid:
        raise RefusedError("That is more than is owed, or more back than was paid.")
    payment = Payment.objects.create(
        key=key or uuid.uuid4(), invoice=row, amount=amount, on_date=on, note=note, entered_by=person
    )
    settle(row)
    record(person=person, thing=row, action="payment", job=row.job, after={"amount": str(amount)})
    return payment


def take_back(*, payment: Payment, person: Person) -> Payment:
    """A payment entered by mistake is undone by its opposite. Taken back already, it is the same one."""
    return receive(
        invoice=payment.invoice,
        amount=-payment.amount,
        on=timezone.localdate(),
        person=person,
        note="Entered by mistake",
        key=opposite_key(payment),
    )


def send_invoice(*, invoice: Invoice, person: Person, to: str, words: str, subject: str = "") -> Outbox:
    """Queue an invoice or a reminder with its PDF; the same words to the same address go once a day."""
    if invoice.state == InvoiceState.DRAFT:
        raise RefusedError("Issue it before you send it.")
    document = keep_paper(invoice)
    about = subject or f"{invoice.get_kind_display()} {invoice.number}"
    with transaction.atomic():
        after = {"to": to, "subject": about}
        record(person=person, thing=invoice, action="sent", job=invoice.job, after=after)
        remember_email(invoice.job.client, email=to, person=person)
        return _queue(invoice, document, to, words, about)


def _queue(invoice: Invoice, document: IssuedDocument, to: str, words: str, subject: str) -> Outbox:
    subject = subject.capitalize()
    (owed,) = owed_of(Invoice.objects.filter(pk=invoice.pk))
    context = {
        "words": words,
        "workshop": current_workshop(),
        "paper": paper_of_invoice(invoice),
        "owed": None if invoice.is_credit_note else owed,
        "subject": subject,
    }
    return queue_letter(
        key=_key(invoice, to, words, subject),
        job=invoice.job,
        to=to,
        subject=subject,
        text=render_to_string("letters/invoice.txt", context),
        html=render_to_string("letters/invoice.html", context),
        attachments=[Attachment(document.name, document.content_type, bytes(document.content))],
    )


def _key(invoice: Invoice, to: str, words: str, subject: str) -> str:
    """A button pressed twice is one letter; another address or other words the same day are another."""
    said = sha256("\0".join((subject, to.lower(), words)).encode()).hexdigest()
    return f"invoice {invoice.pk} {timezone.localdate().isoformat()} {said}"
