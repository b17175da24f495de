"""How is an invoice put together, drawn with its XML inside, and kept?"""

from __future__ import annotations

import hashlib
from datetime import date

from django.db import transaction
from django.template.loader import render_to_string

from jobs.models import Client, Workshop
from jobs.paper_pdf import logo_address
from jobs.workshop import current_workshop
from quotes.enums import DocumentKind
from quotes.models import Invoice, IssuedDocument
from quotes.papers.compose import letterhead_of, tax_label
from quotes.papers.invoice_paper import InvoicePaper, InvoicePaperLine, InvoiceTax, Party
from quotes.papers.invoice_pdf import invoice_pdf
from quotes.papers.invoice_xml import invoice_xml
from quotes.papers.keeping import from_kept
from quotes.pricing import add_up
from quotes.queries.invoices import Account, rate_of

INVOICE_CODE, CREDIT_NOTE_CODE = "380", "381"  # UNTDID 1001, as EN 16931 takes it over


def compose_invoice(invoice: Invoice, account: Account) -> InvoicePaper:
    """The paper of an invoice that has its number. `account` is the job's, this invoice left out of it."""
    workshop, job = current_workshop(), invoice.job
    lines = list(invoice.lines.all())
    totals = add_up([(line.net, rate_of(line)) for line in lines], currency=invoice.currency)
    return InvoicePaper(
        number=invoice.number or "",
        type_code=CREDIT_NOTE_CODE if invoice.is_credit_note else INVOICE_CODE,
        kind="Credit note" if invoice.is_credit_note else "Invoice",
        title=invoice.title,
        dated=_day(invoice),
        due=invoice.due_on,
        currency=invoice.currency,
        locale=workshop.locale,
        paper_size=workshop.paper,
        letterhead=letterhead_of(workshop),
        seller=_seller(workshop),
        buyer=_buyer(job.client, workshop),
        job_number=job.number,
        job_title=job.title,
        credits_number=(invoice.credits.number or "") if invoice.credits else "",
        credits_dated=invoice.credits.issued_on if invoice.credits else None,
        lines=tuple(
            InvoicePaperLine(
                description=line.description,
                quantity=line.quantity,
                net=line.net,
                category=line.tax_category,
                percent=line.tax_percent,
                tax_label=tax_label(rate_of(line), workshop.locale),
            )
            for line in lines
        ),
        taxes=tuple(
            InvoiceTax(
                label=tax_label(each.rate, workshop.locale),
                category=each.rate.category.value,
                percent=each.rate.percent,
                reason_code=each.rate.reason_code,
                reason=each.rate.reason,
                taxable=each.taxable,
                tax=each.tax,
            )
            for each in totals.subtotals
        ),
        without_tax=totals.without_tax,
        tax=totals.tax,
        with_tax=totals.with_tax,
        contract_sum=account.contract_sum,
        invoiced_before=account.invoiced_sum,
        bank_details=workshop.bank_details,
    )


def _day(invoice: Invoice) -> date:
    assert invoice.issued_on is not None, "an invoice is composed once it has its day"
    return invoice.issued_on


def _seller(workshop: Workshop) -> Party:
    return Party(
        name=workshop.name,
        address=workshop.address,
        country=workshop.country,
        tax_number=workshop.tax_number.replace(" ", ""),
        registration_number=workshop.registration_number,
        email=workshop.email,
    )


def _buyer(client: Client, workshop: Workshop) -> Party:
    return Party(
        name=client.name,
        address=client.address,
        country=client.country or workshop.country,
        tax_number=client.tax_number.replace(" ", ""),
        registration_number="",
        email=client.email,
    )


def paper_of_invoice(invoice: Invoice) -> InvoicePaper:
    """The paper as it was frozen."""
    return from_kept(InvoicePaper, invoice.snapshot)


def invoice_html(paper: InvoicePaper) -> str:
    """The invoice as the HTML that the PDF is drawn from."""
    return render_to_string(
        "papers/invoice.html", {"paper": paper, "letter": paper.letterhead, "logo": logo_address()}
    )


def keep_paper(invoice: Invoice) -> IssuedDocument:
    """The kept PDF of an issued invoice; drawn from what was frozen if it isn't there yet, and only then."""
    kept = IssuedDocument.objects.filter(invoice=invoice).first()
    if kept:
        return kept
    fresh = Invoice.objects.select_related("job").get(pk=invoice.pk)
    paper = paper_of_invoice(fresh)
    return _keep(fresh, invoice_pdf(invoice_html(paper), invoice_xml(paper), title=paper.name))


@transaction.atomic
def _keep(invoice: Invoice, pdf: bytes) -> IssuedDocument:
    row = Invoice.objects.select_for_update(of=("self",)).select_related("document").get(pk=invoice.pk)
    if row.document:
        return row.document
    row.document = IssuedDocument.objects.create(
        job_id=row.job_id,
        kind=DocumentKind.CREDIT_NOTE if row.is_credit_note else DocumentKind.INVOICE,
        name=f"{row.number}.pdf",
        content=pdf,
        sha256=hashlib.sha256(pdf).hexdigest(),
    )
    row.save(update_fields=["document"])
    return row.document
