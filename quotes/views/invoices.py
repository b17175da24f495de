"""Invoices: of a job, one, overdue, a client's statement, and what the accountant gets."""

from __future__ import annotations

from collections.abc import Callable

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.access import only, person_of, sees_prices
from jobs.enums import Role
from jobs.models import Client, Job
from jobs.money import ZERO
from jobs.refusals import RefusedError
from jobs.templatetags.figures import money
from quotes.forms.invoices import CreditForm, LetterForm, PaymentForm, RestForm
from quotes.models import Invoice, Payment
from quotes.papers.invoice_xml import invoice_xml
from quotes.papers.invoices import keep_paper, paper_of_invoice
from quotes.papers.statement import statement_pdf
from quotes.queries.invoices import (
    account_of,
    held_back,
    invoice_for,
    overdue,
    owed_of,
    payments_of,
    stage_lines,
    statement,
    tax_amiss,
)
from quotes.queries.letters import letters_with_invoice
from quotes.services import invoicing, payments
from quotes.views.answers import file_answer

keeps_books = only(Role.OWNER, Role.BOOKKEEPER)


@require_safe
@sees_prices
def of_job(request: HttpRequest, job_pk: int) -> HttpResponse:
    return _show_job(request, get_object_or_404(Job.objects.select_related("client"), pk=job_pk))


def _show_job(request: HttpRequest, job: Job, rest: RestForm | None = None) -> HttpResponse:
    account = account_of(job)
    held = held_back(job)
    context = {
        "job": job,
        "account": account,
        "stages": stage_lines(account),
        "held": None if held is None else sum(held.values(), ZERO),
        "owed": owed_of(Invoice.objects.filter(job=job)),
        "rest": rest or RestForm(),
    }
    return render(request, "quotes/invoices_of_job.html", context)


@require_POST
@keeps_books
def draft_stage(request: HttpRequest, job_pk: int, stage: int) -> HttpResponse:
    return _draft(
        request, job_pk, lambda job: invoicing.draft_stage(job=job, stage=stage, person=person_of(request))
    )


@require_POST
@keeps_books
def draft_progress(request: HttpRequest, job_pk: int) -> HttpResponse:
    return _draft(request, job_pk, lambda job: invoicing.draft_progress(job=job, person=person_of(request)))


@require_POST
@keeps_books
def draft_rest(request: HttpRequest, job_pk: int) -> HttpResponse:
    form = RestForm(request.POST)
    if not form.is_valid():
        return _show_job(request, get_object_or_404(Job.objects.select_related("client"), pk=job_pk), form)
    percent = form.cleaned_data["retention_percent"]
    return _draft(
        request,
        job_pk,
        lambda job: invoicing.draft_rest(job=job, person=person_of(request), retention_percent=percent),
    )


def _draft(request: HttpRequest, job_pk: int, step: Callable[[Job], Invoice]) -> HttpResponse:
    job = get_object_or_404(Job, pk=job_pk)
    try:
        return redirect(step(job))
    except RefusedError as error:
        messages.error(request, str(error))
        return redirect("quotes:invoices_of_job", job_pk)


@require_safe
@sees_prices
def invoice(request: HttpRequest, pk: int) -> HttpResponse:
    return _show(request, invoice_for(pk))


def _show(request: HttpRequest, row: Invoice, **forms: object) -> HttpResponse:
    (owed,) = owed_of(Invoice.objects.filter(pk=row.pk))
    context = {
        "invoice": row,
        "owed": owed,
        "lines": row.lines.all(),
        "amiss": "" if row.number else tax_amiss(row),
        "payments": payments_of(row),
        "credit_notes": row.credit_notes.all(),
        "letters": letters_with_invoice(row),
        "pay": PaymentForm(initial={"on": timezone.localdate(), "amount": owed.open}),
        "credit": CreditForm(auto_id="credit_%s"),
    }
    return render(request, "quotes/invoice.html", context | forms)


@require_POST
@keeps_books
def issue(request: HttpRequest, pk: int) -> HttpResponse:
    row = invoice_for(pk)
    try:
        invoicing.issue_invoice(invoice=row, person=person_of(request))
    except RefusedError as error:
        messages.error(request, str(error))
    return redirect(row)


@require_POST
@keeps_books
def remove(request: HttpRequest, pk: int) -> HttpResponse:
    row = invoice_for(pk)
    try:
        invoicing.remove_draft(invoice=row, person=person_of(request))
    except RefusedError as error:
        messages.error(request, str(error))
        return redirect(row)
    return redirect("quotes:invoices_of_job", row.job_id)


@require_POST
@keeps_books
def pay(request: HttpRequest, pk: int) -> HttpResponse:
    row = invoice_for(pk)
    form = PaymentForm(request.POST)
    if form.is_valid():
        try:
            payments.receive(invoice=row, person=person_of(request), **form.cleaned_data)
        except RefusedError as error:
            form.add_error("amount", str(error))
        else:
            return redirect(row)
    return _show(request, row, pay=form)


@require_POST
@keeps_books
def take_back(request: HttpRequest, pk: int) -> HttpResponse:
    """A payment was entered by mistake."""
    payment = get_object_or_404(Payment.objects.select_related("invoice"), pk=pk)
    try:
        payments.take_back(payment=payment, person=person_of(request))
    except RefusedError as error:
        messages.error(request, str(error))
    return redirect(payment.invoice)


@require_POST
@keeps_books
def credit(request: HttpRequest, pk: int) -> HttpResponse:
    row = invoice_for(pk)
    form = CreditForm(request.POST, auto_id="credit_%s")
    if form.is_valid():
        try:
            return redirect(
                invoicing.draft_credit(invoice=row, person=person_of(request), **form.cleaned_data)
            )
        except RefusedError as error:
            form.add_error("amount", str(error))
    return _show(request, row, credit=form)


@require_http_methods(["GET", "HEAD", "POST"])
@keeps_books
def send(request: HttpRequest, pk: int) -> HttpResponse:
    """An invoice or a reminder: prepared here, sent only by a person."""
    row = invoice_for(pk)
    (owed,) = owed_of(Invoice.objects.filter(pk=row.pk))
    late = owed.days_overdue > 0
    form = LetterForm(request.POST or None, invoice=row, open_words=money(owed.open), overdue=late)
    if request.method == "POST" and form.is_valid():
        subject = f"reminder: invoice {row.number}" if late else ""
        try:
            payments.send_invoice(
                invoice=row, person=person_of(request), subject=subject, **form.cleaned_data
            )
        except RefusedError as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, "The letter waits in the outbox.")
            return redirect(row)
    return render(request, "quotes/send_invoice.html", {"invoice": row, "form": form, "late": late})


@require_safe
@sees_prices
def paper(request: HttpRequest, pk: int) -> HttpResponse:
    row = invoice_for(pk)
    if row.number is None:
        messages.error(request, "It has its paper once it is issued.")
        return redirect(row)
    return file_answer(keep_paper(row))


@require_safe
@sees_prices
def xml(request: HttpRequest, pk: int) -> HttpResponse:
    """The invoice for a machine: the same XML that is in the PDF."""
    row = invoice_for(pk)
    if row.number is None:
        messages.error(request, "It has its XML once it is issued.")
        return redirect(row)
    headers = {"Content-Disposition": f'attachment; filename="{row.number}.xml"'}
    return HttpResponse(invoice_xml(paper_of_invoice(row)), content_type="application/xml", headers=headers)


@require_safe
@sees_prices
def overdue_list(request: HttpRequest) -> HttpResponse:
    return render(request, "quotes/overdue.html", {"owed": overdue()})


@require_safe
@sees_prices
def client_statement(request: HttpRequest, client_pk: int) -> HttpResponse:
    client = get_object_or_404(Client, pk=client_pk)
    return render(request, "quotes/statement.html", {"client": client, "entries": statement(client)})


@require_safe
@sees_prices
def statement_paper(request: HttpRequest, client_pk: int) -> HttpResponse:
    """The statement as a PDF to send or to print; of today, and not kept."""
    client = get_object_or_404(Client, pk=client_pk)
    return HttpResponse(statement_pdf(client, statement(client)), content_type="application/pdf")
