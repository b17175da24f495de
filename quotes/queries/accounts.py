"""What does the accountant get of a period: invoices, payments and costs as tables?"""

from __future__ import annotations

from datetime import date

from jobs.exports import Table
from jobs.models import CostEntry
from quotes.models import InvoiceLine, Payment
from quotes.pricing import add_up
from quotes.queries.invoices import issued_between, rate_of

INVOICE_HEADS = (
    "number",
    "date",
    "due",
    "kind",
    "client",
    "job",
    "tax category",
    "rate %",
    "net",
    "tax",
    "gross",
)


def invoices_table(first: date, last: date) -> Table:
    """One row a rate of tax and invoice; credit notes with their sign."""
    invoices = issued_between(first, last).select_related("job__client").defer("snapshot")
    lines: dict[int, list[InvoiceLine]] = {}
    for line in InvoiceLine.objects.filter(invoice__in=[invoice.pk for invoice in invoices]):
        lines.setdefault(line.invoice_id, []).append(line)
    rows = []
    for invoice in invoices:
        sign = -1 if invoice.is_credit_note else 1
        nets = [(line.net, rate_of(line)) for line in lines.get(invoice.pk, ())]
        rows += [
            (
                invoice.number,
                invoice.issued_on,
                invoice.due_on,
                invoice.get_kind_display(),
                invoice.job.client.name,
                invoice.job.number,
                each.rate.category.value,
                each.rate.percent,
                sign * each.taxable,
                sign * each.tax,
                sign * (each.taxable + each.tax),
            )
            for each in add_up(nets, currency=invoice.currency).subtotals
        ]
    return Table(f"invoices {first} to {last}", INVOICE_HEADS, rows)


def payments_table(first: date, last: date) -> Table:
    """Every payment of a period."""
    payments = Payment.objects.filter(on_date__gte=first, on_date__lte=last)
    rows = [
        (
            payment.on_date,
            payment.invoice.number,
            payment.invoice.job.client.name,
            payment.amount,
            payment.note,
        )
        for payment in payments.select_related("invoice__job__client")
    ]
    return Table(f"payments {first} to {last}", ("date", "invoice", "client", "amount", "note"), rows)


def costs_table(first: date, last: date) -> Table:
    """Every cost entered for a period."""
    costs = CostEntry.objects.filter(on_date__gte=first, on_date__lte=last).order_by("on_date", "pk")
    rows = [
        (
            cost.on_date,
            cost.phase.job.number,
            cost.phase.title,
            cost.get_kind_display(),
            cost.supplier,
            cost.description,
            cost.net,
            cost.tax,
        )
        for cost in costs.select_related("phase__job")
    ]
    heads = ("date", "job", "phase", "kind", "supplier", "what", "net", "tax")
    return Table(f"costs {first} to {last}", heads, rows)


TABLES = {"invoices": invoices_table, "payments": payments_table, "costs": costs_table}
