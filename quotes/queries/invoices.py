"""What is invoiced, paid and overdue, of a job or of everything?"""

from __future__ import annotations

import uuid
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import Q, QuerySet, Sum
from django.shortcuts import get_object_or_404
from django.utils import timezone

from jobs.models import Client, Job, Phase
from jobs.money import ZERO
from jobs.workshop import current_workshop
from quotes.enums import InvoiceKind, InvoiceState, QuoteState
from quotes.models import Decision, Invoice, InvoiceLine, Payment, Quote
from quotes.pricing import Stage, TaxCategory, TaxRate
from quotes.pricing.invoicing import Nets, balance, sum_of
from quotes.pricing.stages import stage_nets
from quotes.pricing.tax_numbers import amiss_on_invoice
from quotes.queries.figures import figures_of, kept_rate

HELD_BACK = "Retention of"
"""How the line of a final account begins that holds a share back, by which it is found again for release."""

OWED = (InvoiceState.ISSUED, InvoiceState.PART_PAID)


@dataclass(frozen=True)
class Account:
    """A job's contract against its invoices, without tax, by rate. Payment stages are of the original quote,
    whose paper says them; what changes add is in the rest.
    """

    job: Job
    contract: Nets
    original: Nets
    invoiced: Nets
    stages: tuple[Stage, ...]
    stages_used: frozenset[int]
    stages_drafted: frozenset[int]
    percent_done: Decimal

    @property
    def left(self) -> Nets:
        """What is still to be invoiced."""
        return balance(self.contract, self.invoiced)

    @property
    def left_sum(self) -> Decimal:
        """What is still to be invoiced, of all rates; below nothing where more is invoiced than agreed."""
        return sum(self.left.values(), ZERO)

    @property
    def over_invoiced(self) -> Decimal:
        """By how much more is invoiced than the contract comes to, as after a change that leaves work out."""
        return max(ZERO, -self.left_sum)

    @property
    def contract_sum(self) -> Decimal:
        return sum(self.contract.values(), ZERO)

    @property
    def invoiced_sum(self) -> Decimal:
        return sum(self.invoiced.values(), ZERO)


@dataclass(frozen=True)
class Owed:
    """An invoice with what is paid, credited and still open, and by how many days it is overdue."""

    invoice: Invoice
    paid: Decimal
    credited: Decimal
    today: date

    @property
    def open(self) -> Decimal:
        """What is still owed; nothing for a draft or a credit note."""
        if self.invoice.state == InvoiceState.DRAFT or self.invoice.is_credit_note:
            return ZERO
        return self.invoice.with_tax - self.credited - self.paid

    @property
    def days_overdue(self) -> int:
        """Days past the due date while something is owed."""
        if self.open <= 0 or self.invoice.due_on is None:
            return 0
        return max(0, (self.today - self.invoice.due_on).days)


def rate_of(line: InvoiceLine) -> TaxRate:
    """The rate of tax that a line was issued under."""
    return TaxRate(TaxCategory(line.tax_category), line.tax_percent, line.tax_reason_code, line.tax_reason)


def tax_amiss(invoice: Invoice) -> str:
    """Why a draft can't go out under its taxes and the tax numbers on record; nothing if it can."""
    workshop = current_workshop()
    return amiss_on_invoice(
        [rate_of(line) for line in invoice.lines.all()],
        is_registered=not workshop.not_registered_for_tax,
        seller_number=workshop.tax_number,
        buyer_number=invoice.job.client.tax_number,
    )


def account_of(job: Job) -> Account:
    """The job's contract and what is invoiced of it: four queries, however much was agreed."""
    decisions = Decision.objects.filter(quote__job=job, quote__state=QuoteState.ACCEPTED)
    agreed = list(decisions.select_related("quote").defer("quote__snapshot").order_by("quote__pk"))
    first = next((decision for decision in agreed if not decision.quote.is_change_order), None)
    issued = InvoiceLine.objects.filter(invoice__job=job).exclude(invoice__state=InvoiceState.DRAFT)
    asked = Invoice.objects.filter(job=job, kind=InvoiceKind.STAGE).exclude(state=InvoiceState.CREDITED)
    used = {at: state for at, state in asked.values_list("stage", "state") if at is not None}
    return Account(
        job=job,
        contract=sum_of(_agreed_nets(decision) for decision in agreed),
        original=_agreed_nets(first) if first else {},
        invoiced=sum_of(_line_nets(line) for line in issued.select_related("invoice")),
        stages=tuple(
            Stage(each["title"], Decimal(str(each["percent"])))
            for each in (first.quote.payment_stages if first else ())
        ),
        stages_used=frozenset(used),
        stages_drafted=frozenset(at for at, state in used.items() if state == InvoiceState.DRAFT),
        percent_done=_percent_done(job),
    )


def _agreed_nets(decision: Decision) -> Nets:
    return {kept_rate(each): Decimal(each["taxable"]) for each in decision.totals["by_rate"]}


def _line_nets(line: InvoiceLine) -> Nets:
    sign = -1 if line.invoice.is_credit_note else 1
    return {rate_of(line): sign * line.net}


def _percent_done(job: Job) -> Decimal:
    """How much of the contract's price is done, by the maker's word on each phase."""
    phases = Phase.objects.filter(job=job).annotate(price=Sum("budget_entries__price"))
    prices = [(phase.price or ZERO, phase.percent_done) for phase in phases]
    whole = sum((price for price, _ in prices), ZERO)
    return sum((price * done for price, done in prices), ZERO) / whole if whole > 0 else ZERO


@dataclass(frozen=True)
class StageLine:
    """A payment stage as the page lists it: what it asks for without tax, and whether it was asked for."""

    at: int
    title: str
    percent: Decimal
    net: Decimal
    is_used: bool
    is_drafted: bool


def stage_lines(account: Account) -> tuple[StageLine, ...]:
    """The payment stages of the original quote."""
    currency = current_workshop().currency
    return tuple(
        StageLine(
            at=at,
            title=stage.title,
            percent=stage.percent,
            net=sum(stage_nets(account.original, account.stages, at, currency).values(), ZERO),
            is_used=at in account.stages_used,
            is_drafted=at in account.stages_drafted,
        )
        for at, stage in enumerate(account.stages)
    )


def held_back(job: Job) -> Nets | None:
    """What the final account holds back, by rate, as amounts above nothing; None while there is none."""
    finals = Invoice.objects.filter(job=job, kind=InvoiceKind.FINAL)
    issued = list(finals.exclude(state__in=(InvoiceState.DRAFT, InvoiceState.CREDITED)))
    if not issued:
        return None
    lines = InvoiceLine.objects.filter(invoice__in=issued, description__startswith=HELD_BACK)
    return sum_of({rate_of(line): -line.net} for line in lines)


def work_agreed(account: Account) -> tuple[tuple[Nets, Decimal], ...]:
    """What each phase puts into the contract by rate, and how many per cent of it are done."""
    nets: dict[str, list[Nets]] = defaultdict(list)
    for quote in Quote.objects.filter(job=account.job, state=QuoteState.ACCEPTED):
        for each in figures_of(quote, on=timezone.localdate()).priced.in_contract:
            nets[each.line.phase].append({each.line.tax: each.price})
    done = {str(phase.pk): phase.percent_done for phase in Phase.objects.filter(job=account.job)}
    parts = [(sum_of(of_phase), done[key]) for key, of_phase in nets.items()]
    # Nothing, unless a quote was agreed under older rules than it is read by: the answer's totals stand.
    return *parts, (balance(account.contract, sum_of(part for part, _ in parts)), account.percent_done)


def left_to_credit(invoice: Invoice) -> Nets:
    """What is left of an invoice by rate of tax, after the credit notes issued against it."""
    lines = InvoiceLine.objects.filter(Q(invoice=invoice) | Q(invoice__credits=invoice))
    issued = lines.exclude(invoice__state=InvoiceState.DRAFT).select_related("invoice")
    return sum_of(_line_nets(line) for line in issued)


def invoice_for(pk: int) -> Invoice:
    """The invoice with its job and client, or 404."""
    return get_object_or_404(Invoice.objects.select_related("job__client", "credits", "document"), pk=pk)


def owed_of(invoices: QuerySet[Invoice]) -> tuple[Owed, ...]:
    """Invoices with what is paid and credited on each: three queries, however many."""
    rows = list(invoices.select_related("job__client", "credits").defer("snapshot"))
    keys = [row.pk for row in rows]
    paid = _sums(Payment.objects.filter(invoice__in=keys).values_list("invoice", "amount"))
    issued = Invoice.objects.filter(credits__in=keys).exclude(state=InvoiceState.DRAFT)
    notes = list(issued.only("credits", "without_tax", "tax"))
    net = _sums((note.credits_id, note.without_tax) for note in notes)
    gross = _sums((note.credits_id, note.with_tax) for note in notes)
    today = timezone.localdate()
    return tuple(
        Owed(row, paid[row.pk], row.with_tax if _is_gone(row, net) else gross[row.pk], today) for row in rows
    )


def _is_gone(invoice: Invoice, credited: Mapping[int | None, Decimal]) -> bool:
    """Credited in full. Its tax is gone with it, though the taxes of several credit notes, each rounded for
    itself, may add up to a penny more or less.
    """
    return invoice.pk in credited and credited[invoice.pk] == invoice.without_tax


def _sums(pairs: Iterable[tuple[int | None, Decimal]]) -> dict[int | None, Decimal]:
    sums: dict[int | None, Decimal] = defaultdict(Decimal)
    for key, amount in pairs:
        sums[key] += amount
    return sums


def overdue() -> tuple[Owed, ...]:
    """What is past its due date, the longest first."""
    late = Invoice.objects.filter(state__in=OWED, due_on__lt=timezone.localdate())
    rows = owed_of(late.exclude(kind=InvoiceKind.CREDIT_NOTE).order_by("due_on"))
    return tuple(row for row in rows if row.days_overdue)


@dataclass(frozen=True)
class PaymentLine:
    """A payment on an invoice, and whether it may still be taken back."""

    payment: Payment
    may_be_taken_back: bool


def opposite_key(payment: Payment) -> uuid.UUID:
    """The key of the payment that takes this one back, so that there is at most one."""
    return uuid.uuid5(payment.key, "taken back")


def payments_of(invoice: Invoice) -> tuple[PaymentLine, ...]:
    """What came in on an invoice, and what was taken back of it."""
    rows = list(invoice.payments.all())
    keys = {row.key for row in rows}
    undoing = {opposite_key(row) for row in rows}
    return tuple(PaymentLine(row, opposite_key(row) not in keys and row.key not in undoing) for row in rows)


@dataclass(frozen=True)
class Entry:
    """A line of a statement: what was asked for or received, and the balance after it."""

    on: date
    words: str
    asked: Decimal
    received: Decimal
    balance: Decimal


def statement(client: Client) -> tuple[Entry, ...]:
    """A client's account in the order of its days."""
    issued = Invoice.objects.filter(job__client=client).exclude(state=InvoiceState.DRAFT).defer("snapshot")
    issued = issued.order_by("issued_on", "number")
    payments = Payment.objects.filter(invoice__job__client=client).select_related("invoice")
    moves = [
        (invoice.issued_on, 0, _in_words(invoice), _asked(invoice), ZERO)
        for invoice in issued
        if invoice.issued_on
    ]
    moves += [
        (payment.on_date, 1, f"Payment on {payment.invoice.number}", ZERO, payment.amount)
        for payment in payments
    ]
    moves += _roundings(list(issued))
    running, entries = ZERO, []
    for on, _, words, asked, received in sorted(moves, key=lambda move: move[:2]):
        running += asked - received
        entries.append(Entry(on, words, asked, received, running))
    return tuple(entries)


def _roundings(issued: Sequence[Invoice]) -> list[tuple[date, int, str, Decimal, Decimal]]:
    """The penny by which the taxes of several credit notes miss that of the invoice they credit in full."""
    moves = []
    for invoice in issued:
        notes = [note for note in issued if note.credits_id == invoice.pk]
        missed = invoice.with_tax - sum((note.with_tax for note in notes), ZERO)
        gone = notes and sum((note.without_tax for note in notes), ZERO) == invoice.without_tax
        if gone and missed and notes[-1].issued_on:
            moves.append((notes[-1].issued_on, 0, f"Rounding of tax, {invoice.number}", -missed, ZERO))
    return moves


def _in_words(invoice: Invoice) -> str:
    return f"{'Credit note' if invoice.is_credit_note else 'Invoice'} {invoice.number}, {invoice.title}"


def _asked(invoice: Invoice) -> Decimal:
    return -invoice.with_tax if invoice.is_credit_note else invoice.with_tax


def issued_between(first: date, last: date) -> QuerySet[Invoice]:
    """What was issued in a period, in the order of days and numbers, whichever was drawn up first."""
    within = Q(issued_on__gte=first, issued_on__lte=last)
    return Invoice.objects.filter(within).exclude(state=InvoiceState.DRAFT).order_by("issued_on", "number")
