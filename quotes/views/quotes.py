"""A job's quotes, and the steps of one: issue, send, revise, extend, withdraw, compare."""

from __future__ import annotations

from collections.abc import Callable

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.access import owner_only, person_of, sees_prices
from jobs.models import Job
from jobs.paper_pdf import logo_address
from jobs.refusals import RefusedError
from jobs.workshop import current_workshop
from quotes.enums import Answer
from quotes.forms.steps import AnswerForm, ExtendForm, PaperAnswerForm, SendForm
from quotes.models import Decision, Quote
from quotes.papers.compose import compose
from quotes.papers.drawing import paper_pdf
from quotes.papers.evidence import evidence_of
from quotes.pricing import PricingError
from quotes.queries.compare import compare_with_earlier
from quotes.queries.figures import figures_of
from quotes.queries.quotes import quote_for, quotes_of_job
from quotes.queries.sheet import Sheet, sheet_of
from quotes.services import asking, deciding, drafting, issuing, letters, links
from quotes.views.answers import file_answer


@require_safe
@sees_prices
def of_job(request: HttpRequest, job_pk: int) -> HttpResponse:
    return render(request, "quotes/of_job.html", {"page": quotes_of_job(job_pk)})


@require_POST
@owner_only
def start(request: HttpRequest, job_pk: int) -> HttpResponse:
    job = get_object_or_404(Job, pk=job_pk)
    try:
        return redirect(drafting.start_quote(job=job, person=person_of(request)))
    except RefusedError as error:
        messages.error(request, str(error))
        return redirect("quotes:of_job", job_pk)


@require_safe
@sees_prices
def sheet(request: HttpRequest, pk: int) -> HttpResponse:
    """What became of an issued quote: links, answers, questions."""
    return _show_sheet(request, sheet_of(quote_for(pk)))


def _show_sheet(request: HttpRequest, page: Sheet, answer: PaperAnswerForm | None = None) -> HttpResponse:
    answer = answer or PaperAnswerForm(paper=page.paper)
    context = {"page": page, "extend": ExtendForm(), "paper_answer": answer}
    return render(request, "quotes/sheet.html", context)


@require_safe
@sees_prices
def preview(request: HttpRequest, pk: int) -> HttpResponse:
    """A draft as the client would see it, as a PDF."""
    quote = quote_for(pk)
    if quote.document:
        return file_answer(quote.document)
    today = timezone.localdate()
    try:
        paper = compose(figures_of(quote, on=today), workshop=current_workshop(), dated=today)
    except PricingError as error:
        messages.error(request, str(error))
        return redirect(quote)
    return HttpResponse(paper_pdf(paper, draft=True, logo=logo_address()), content_type="application/pdf")


@require_safe
@sees_prices
def evidence(request: HttpRequest, pk: int) -> HttpResponse:
    """The evidence sheet of a quote's answer."""
    return file_answer(evidence_of(get_object_or_404(Decision.objects.select_related("quote"), quote=pk)))


@require_POST
@owner_only
def issue(request: HttpRequest, pk: int) -> HttpResponse:
    return _step(
        request, pk, lambda quote: issuing.issue(quote=quote, person=person_of(request)), "quotes:sheet"
    )


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def send(request: HttpRequest, pk: int) -> HttpResponse:
    quote = quote_for(pk)
    form = SendForm(request.POST or None, quote=quote)
    if request.method == "POST" and form.is_valid():
        try:
            address = letters.send_quote(quote=quote, person=person_of(request), **form.cleaned_data)
        except RefusedError as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, f"The letter waits in the outbox. The client’s link: {address}")
            return redirect("quotes:sheet", pk)
    return render(request, "quotes/send.html", {"quote": quote, "form": form})


@require_POST
@owner_only
def make_link(request: HttpRequest, pk: int) -> HttpResponse:
    quote = quote_for(pk)
    if quote.is_draft:
        messages.error(request, "Issue it before you send it.")
        return redirect(quote)
    address = letters.link_address(links.make_link(quote=quote, person=person_of(request)))
    messages.success(request, f"A new link; the ones before are shut. It is shown only now: {address}")
    return redirect("quotes:sheet", pk)


@require_POST
@owner_only
def withdraw_links(request: HttpRequest, pk: int) -> HttpResponse:
    shut = links.withdraw_links(quote=quote_for(pk), person=person_of(request))
    messages.success(request, "The link is shut." if shut else "No link was open.")
    return redirect("quotes:sheet", pk)


@require_POST
@owner_only
def revise(request: HttpRequest, pk: int) -> HttpResponse:
    try:
        return redirect(drafting.revise(quote=quote_for(pk), person=person_of(request)))
    except RefusedError as error:
        messages.error(request, str(error))
        return redirect("quotes:sheet", pk)


@require_POST
@owner_only
def extend(request: HttpRequest, pk: int) -> HttpResponse:
    form = ExtendForm(request.POST)
    if not form.is_valid():
        messages.error(request, "Extend it by 1 to 365 days.")
        return redirect("quotes:sheet", pk)
    days = form.cleaned_data["days"]
    return _step(
        request,
        pk,
        lambda quote: issuing.extend(quote=quote, days=days, person=person_of(request)),
        "quotes:sheet",
    )


@require_POST
@owner_only
def withdraw(request: HttpRequest, pk: int) -> HttpResponse:
    return _step(
        request, pk, lambda quote: issuing.withdraw(quote=quote, person=person_of(request)), "quotes:sheet"
    )


@require_POST
@owner_only
def record_answer(request: HttpRequest, pk: int) -> HttpResponse:
    """Enter an answer that came by letter or in person."""
    page = sheet_of(quote_for(pk))
    form = PaperAnswerForm(request.POST, paper=page.paper)
    if not form.is_valid():
        return _show_sheet(request, page, form)
    data = form.cleaned_data
    reply = deciding.Reply(name=data["name"], document_sha256="", reason=data["reason"])
    return _step(
        request,
        pk,
        lambda quote: deciding.record_answer_on_paper(
            quote=quote,
            person=person_of(request),
            answer=Answer(data["answer"]),
            reply=reply,
            options=data.get("extras", ()) if data["answer"] == Answer.ACCEPTED else (),
        ),
        "quotes:sheet",
    )


@require_POST
@owner_only
def answer_question(request: HttpRequest, pk: int) -> HttpResponse:
    form = AnswerForm(request.POST)
    if form.is_valid():
        asking.answer(quote=quote_for(pk), person=person_of(request), text=form.cleaned_data["text"])
    else:
        messages.error(request, "Please write an answer.")
    return redirect("quotes:sheet", pk)


@require_POST
@owner_only
def show_progress(request: HttpRequest, pk: int) -> HttpResponse:
    """Let the client follow the progress on the link, or not any more."""
    shows = request.POST.get("shows") == "yes"
    return _step(
        request,
        pk,
        lambda quote: drafting.show_progress(quote=quote, person=person_of(request), shows=shows),
        "quotes:sheet",
    )


@require_safe
@sees_prices
def compare(request: HttpRequest, pk: int) -> HttpResponse:
    return render(request, "quotes/compare.html", {"page": compare_with_earlier(quote_for(pk))})


def _step(request: HttpRequest, pk: int, step: Callable[[Quote], object], then: str) -> HttpResponse:
    """Take a step and go on; a refusal is said on the page it came from."""
    quote = quote_for(pk)
    try:
        step(quote)
    except RefusedError as error:
        messages.error(request, str(error))
        return redirect(quote if quote.is_draft else then, *([] if quote.is_draft else [pk]))
    return redirect(then, pk)
