"""How is a contract asked for in money: stage by stage, by work done, the rest, and credited back?"""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

from django.db import transaction
from django.db.models import Max
from django.utils import timezone

from jobs.history import record
from jobs.models import Job, Person
from jobs.money import ZERO, format_money, round_half_up, round_money
from jobs.numbering import next_number
from jobs.refusals import RefusedError
from jobs.workshop import current_workshop
from quotes.enums import InvoiceKind, InvoiceState
from quotes.models import Invoice, InvoiceLine
from quotes.papers.invoices import compose_invoice, keep_paper
from quotes.papers.keeping import to_kept
from quotes.pricing import PricingError, add_up
from quotes.pricing.invoicing import Nets, balance, credit_nets, done_nets, retention
from quotes.pricing.stages import stage_nets
from quotes.queries.invoices import (
    HELD_BACK,
    Account,
    account_of,
    held_back,
    left_to_credit,
    owed_of,
    tax_amiss,
    work_agreed,
)


@transaction.atomic
def draft_stage(*, job: Job, stage: int, person: Person) -> Invoice:
    """A draft for one payment stage of the contract; a stage already asked for is refused."""
    account = account_of(_locked(job))
    if stage in account.stages_used:
        raise RefusedError("That stage is already invoiced.")
    try:
        nets = stage_nets(account.original, account.stages, stage, _currency())
    except PricingError as error:
        raise RefusedError(str(error)) from error
    _check_left(account, sum(nets.values(), ZERO))
    asked = account.stages[stage]
    whole = _in_money(sum(account.original.values(), ZERO))
    words = f"{asked.title} ({asked.percent.normalize():f} % of {whole}, the sum of the quote)"
    invoice = _draft(job, InvoiceKind.STAGE, asked.title, person, stage=stage)
    return _with_lines(invoice, [(words, nets)])


@transaction.atomic
def draft_progress(*, job: Job, person: Person) -> Invoice:
    """A draft for the work done so far, by the maker's word on each phase, less what is invoiced."""
    account = account_of(_locked(job))
    nets = done_nets(work_agreed(account), account.invoiced, currency=_currency())
    if sum(nets.values(), ZERO) <= 0:
        raise RefusedError("No more work is done than is invoiced already.")
    _check_left(account, sum(nets.values(), ZERO))
    percent = round_half_up(account.percent_done, 1)
    words = f"Work done up to today, {percent} % of the contract, less what is invoiced before"
    return _with_lines(_draft(job, InvoiceKind.PROGRESS, "Work done", person), [(words, nets)])


@transaction.atomic
def draft_rest(*, job: Job, person: Person, retention_percent: Decimal = ZERO) -> Invoice:
    """A draft for all that is left of the contract and its agreed changes, less a retention held back.

    A retention is a share of the whole contract; asked for again, the rest is the retention itself.
    """
    account = account_of(_locked(job))
    _check_left(account, ZERO)
    held = held_back(job)
    if held is not None:
        kind, parts = InvoiceKind.RETENTION, _released(account, held)
    else:
        kind, parts = InvoiceKind.FINAL, [("Rest of the contract with all agreed changes", account.left)]
        if retention_percent:
            kept = retention(account.contract, retention_percent, _currency())
            parts.append((f"{HELD_BACK} {retention_percent.normalize():f} % held back", kept))
    if sum((net for _, nets in parts for net in nets.values()), ZERO) <= 0:
        raise RefusedError("The retention is more than is left to invoice.")
    return _with_lines(_draft(job, kind, kind.label.capitalize(), person), parts)


def _released(account: Account, held: Nets) -> list[tuple[str, Nets]]:
    """What the final account held back, and apart from it what was agreed, or credited, since."""
    since = balance(account.left, held)
    return [("Release of the retention", held), ("Agreed or credited since the final account", since)]


def _check_left(account: Account, asked: Decimal) -> None:
    """No more is asked for than is left of the contract, all agreed changes counted."""
    if account.over_invoiced:
        raise RefusedError(
            f"{_in_money(account.over_invoiced)} more is invoiced than the contract comes to: credit it on "
            "the invoice it stands on."
        )
    if account.left_sum <= 0:
        raise RefusedError("Nothing is left to invoice.")
    if asked > account.left_sum:
        raise RefusedError(
            f"Only {_in_money(account.left_sum)} is left to invoice. Ask for the rest instead."
        )


def _in_money(amount: Decimal) -> str:
    workshop = current_workshop()
    return format_money(amount, workshop.currency, workshop.locale)


@transaction.atomic
def draft_credit(*, invoice: Invoice, person: Person, amount: Decimal | None = None) -> Invoice:
    """A draft credit note against an issued invoice: all of what is left of it, or so much without tax."""
    original = Invoice.objects.select_for_update().select_related("job").get(pk=invoice.pk)
    if original.state == InvoiceState.DRAFT or original.is_credit_note:
        raise RefusedError("Only an issued invoice is credited.")
    left = left_to_credit(original)
    asked = sum(left.values(), ZERO) if amount is None else amount
    _check_credit(left, asked, original.currency)
    note = _draft(
        original.job, InvoiceKind.CREDIT_NOTE, f"Credit for {original.number}", person, credits=original
    )
    nets = credit_nets(left, asked, original.currency)
    return _with_lines(note, [(f"Credit for {original.number}, {original.title}", nets)])


def _check_credit(left: Nets, asked: Decimal, currency: str) -> None:
    if asked != round_money(asked, currency):
        raise RefusedError("That is finer than the currency’s smallest coin.")
    if not 0 < asked <= sum(left.values(), ZERO):
        raise RefusedError("No more can be credited than is left of the invoice.")


@transaction.atomic
def remove_draft(*, invoice: Invoice, person: Person) -> None:
    """Take a draft away; it has no number yet, so none is lost."""
    row = Invoice.objects.select_for_update().select_related("job").get(pk=invoice.pk)
    if row.state != InvoiceState.DRAFT:
        raise RefusedError("It is issued. It can be credited, not removed.")
    record(person=person, thing=row, action="removed draft", job=row.job, before={"title": row.title})
    row.delete()


def issue_invoice(*, invoice: Invoice, person: Person) -> Invoice:
    """Give a draft its number and freeze it; then draw its paper, outside the transaction.

    The number is taken in the transaction that uses it, so none is skipped or given twice. If the drawing
    fails, the invoice stands and its paper is drawn from what was frozen when it is next asked for.
    """
    row = _number(invoice, person)
    keep_paper(row)
    return Invoice.objects.select_related("job__client", "document").get(pk=row.pk)


@transaction.atomic
def _number(invoice: Invoice, person: Person) -> Invoice:
    _locked(invoice.job)  # its contract and its other invoices stand still meanwhile
    locked = Invoice.objects.select_for_update(of=("self",))  # PostgreSQL locks no row that may be absent
    row = locked.select_related("job__client", "credits").get(pk=invoice.pk)
    if row.state != InvoiceState.DRAFT:
        return row
    if not row.lines.exists():
        raise RefusedError("There is nothing on it yet.")
    account = account_of(row.job)
    _check_still_owed(row, account)
    _check_tax_numbers(row)
    workshop, today = current_workshop(), timezone.localdate()
    _check_clock(row, today)
    series, form = ("credit note", "C{}-{:04d}") if row.is_credit_note else ("invoice", "{}-{:04d}")
    row.number = form.format(today.year, next_number(f"{series} {today.year}"))
    row.issued_on, row.state = today, InvoiceState.ISSUED
    row.due_on = None if row.is_credit_note else today + timedelta(days=workshop.payment_days)
    row.snapshot = to_kept(compose_invoice(row, account))
    row.save(update_fields=["number", "issued_on", "due_on", "state", "snapshot"])
    record(person=person, thing=row, action="issued", job=row.job, after={"number": row.number})
    if row.credits:
        settle(row.credits)
    return row


def _check_still_owed(invoice: Invoice, account: Account) -> None:
    """Between a draft and its issue others may have gone out, or the contract may have changed."""
    if invoice.credits:
        _check_credit(left_to_credit(invoice.credits), invoice.without_tax, invoice.currency)
        return
    _check_left(account, invoice.without_tax)


def _check_clock(invoice: Invoice, today: date) -> None:
    """Numbers follow each other as their days do, so none is given on a day before the last one's."""
    same_series = Invoice.objects.filter(kind=InvoiceKind.CREDIT_NOTE)
    if not invoice.is_credit_note:
        same_series = Invoice.objects.exclude(kind=InvoiceKind.CREDIT_NOTE)
    last = same_series.aggregate(day=Max("issued_on"))["day"]
    if last and last > today:
        raise RefusedError(
            f"The last one was issued on {last:%-d %B %Y}, a day still to come: look at this machine’s clock."
        )


def _check_tax_numbers(invoice: Invoice) -> None:
    if why := tax_amiss(invoice):
        raise RefusedError(why)


def settle(invoice: Invoice) -> None:
    """Bring an invoice's state up to what is paid and credited; within the caller's transaction."""
    (owed,) = owed_of(Invoice.objects.filter(pk=invoice.pk))
    if owed.invoice.with_tax == owed.credited:
        state = InvoiceState.CREDITED
    elif owed.open <= 0:
        state = InvoiceState.PAID
    else:
        state = InvoiceState.PART_PAID if owed.paid or owed.credited else InvoiceState.ISSUED
    Invoice.objects.filter(pk=invoice.pk).update(state=state)


def _locked(job: Job) -> Job:
    return Job.objects.select_for_update().get(pk=job.pk)


def _currency() -> str:
    return current_workshop().currency


def _draft(job: Job, kind: InvoiceKind, title: str, person: Person, **fields: object) -> Invoice:
    made = {"job": job, "kind": kind, "title": title[:160], "currency": _currency(), "created_by": person}
    invoice = Invoice.objects.create(**made | fields)
    record(person=person, thing=invoice, action="drew up", job=job)
    return invoice


def _with_lines(invoice: Invoice, parts: list[tuple[str, Nets]]) -> Invoice:
    """Lines for each rate of tax, and the totals they come to."""
    rows = [(words, rate, net) for words, nets in parts for rate, net in nets.items() if net]
    InvoiceLine.objects.bulk_create(
        InvoiceLine(
            invoice=invoice,
            position=at,
            description=words[:240],
            net=net,
            tax_category=rate.category.value,
            tax_percent=rate.percent,
            tax_reason_code=rate.reason_code,
            tax_reason=rate.reason,
        )
        for at, (words, rate, net) in enumerate(rows)
    )
    totals = add_up([(net, rate) for _, rate, net in rows], currency=invoice.currency)
    invoice.without_tax, invoice.tax = totals.without_tax, totals.tax
    invoice.save(update_fields=["without_tax", "tax"])
    return invoice
