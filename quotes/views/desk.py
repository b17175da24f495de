"""The quote desk: lines, rules, words."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation
from typing import Any
from urllib.parse import urlsplit

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.forms import BaseForm
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.access import owner_only, person_of, sees_prices
from jobs.models import Phase
from jobs.refusals import RefusedError
from jobs.versions import StaleError
from quotes.forms.conflicts import differences
from quotes.forms.lines import FORMS, form_for
from quotes.forms.rules import RulesForm, WordsForm
from quotes.models import Quote
from quotes.pricing import PricingError
from quotes.queries.desk import desk_of
from quotes.queries.outlook import outlook_of
from quotes.queries.quotes import line_for, quote_for
from quotes.services import drafting
from quotes.services.bringing_in import bring_in_materials
from quotes.services.bringing_in_hours import bring_in_hours

GET_OR_POST = ["GET", "HEAD", "POST"]
LARGEST_MARGIN = Decimal("99.9")


def show_desk(request: HttpRequest, quote: Quote, **more: Any) -> HttpResponse:
    """The desk, whole or as the sheet alone for htmx."""
    margin = _margin_asked(request)
    desk = desk_of(quote, today=timezone.localdate(), other_margin=margin, detail=_detail_asked(request))
    is_part = request.headers.get("HX-Request") and not request.headers.get("HX-Boosted")
    template = "quotes/parts/desk_sheet.html" if is_part else "quotes/desk.html"
    ahead = outlook_of(desk, person_of(request))
    return render(request, template, {"desk": desk, "quote": quote, "ahead": ahead, **more})


@require_safe
@sees_prices
def desk(request: HttpRequest, pk: int) -> HttpResponse:
    return show_desk(request, quote_for(pk))


@require_http_methods(GET_OR_POST)
@owner_only
def add_line(request: HttpRequest, pk: int, phase_pk: int, shape: str) -> HttpResponse:
    quote = quote_for(pk)
    phase = get_object_or_404(Phase, pk=phase_pk, job=quote.job_id)
    form = FORMS[shape](request.POST or None, on=timezone.localdate())
    if request.method == "POST" and form.is_valid():
        refused = attempt(
            form,
            lambda: drafting.add_line(
                quote=quote, phase=phase, person=person_of(request), fields=form.to_save()
            ),
        )
        if not refused:
            return _back(request, quote)
    return show_desk(request, quote, form=form, form_phase=phase.pk, form_shape=shape)


@require_http_methods(GET_OR_POST)
@owner_only
def line(request: HttpRequest, pk: int) -> HttpResponse:
    row = line_for(pk)
    form = form_for(row.kind)(request.POST or None, instance=line_for(pk), on=timezone.localdate())
    context: dict[str, Any] = {"form": form, "form_line": row.pk}
    if request.method == "POST" and form.is_valid():
        refused = attempt(
            form,
            lambda: drafting.change_line(
                line=row,
                version=form.cleaned_data["version"] or 0,
                person=person_of(request),
                fields=form.to_save(),
            ),
        )
        if not refused:
            return _back(request, row.quote)
        context["theirs"] = differences(form, line_for(pk)) if isinstance(refused, StaleError) else None
    return show_desk(request, row.quote, **context)


@require_POST
@owner_only
def remove_line(request: HttpRequest, pk: int) -> HttpResponse:
    row = line_for(pk)
    try:
        drafting.remove_line(line=row, person=person_of(request))
    except RefusedError as error:
        messages.error(request, str(error))
    return _back(request, row.quote)


@require_http_methods(GET_OR_POST)
@owner_only
def rules(request: HttpRequest, pk: int) -> HttpResponse:
    return _change_whole(request, pk, RulesForm, "quotes/rules.html")


@require_http_methods(GET_OR_POST)
@owner_only
def words(request: HttpRequest, pk: int) -> HttpResponse:
    return _change_whole(request, pk, WordsForm, "quotes/words.html")


@require_POST
@owner_only
def bring_in(request: HttpRequest, pk: int) -> HttpResponse:
    """Material lines from the take-offs and cutting plans of the job."""
    return _bring_in(request, pk, bring_in_materials)


@require_POST
@owner_only
def bring_in_labour(request: HttpRequest, pk: int) -> HttpResponse:
    """Labour lines from the quantities of the job's take-off."""
    return _bring_in(request, pk, bring_in_hours)


def _bring_in(request: HttpRequest, pk: int, service: Any) -> HttpResponse:
    quote = quote_for(pk)
    try:
        brought = service(quote=quote, person=person_of(request))
    except RefusedError as error:
        messages.error(request, str(error))
        return redirect(quote)
    for gap in brought.gaps:
        messages.warning(request, gap)
    messages.success(request, brought.in_words())
    return redirect(quote)


def _change_whole(
    request: HttpRequest, pk: int, shape: type[RulesForm] | type[WordsForm], template: str
) -> HttpResponse:
    quote = quote_for(pk)
    form = shape(request.POST or None, instance=quote_for(pk))
    theirs = None
    if request.method == "POST" and form.is_valid():
        refused = attempt(
            form,
            lambda: drafting.set_terms(
                quote=quote,
                version=form.cleaned_data["version"],
                person=person_of(request),
                fields=form.to_save(),
            ),
        )
        if not refused:
            return redirect(quote)
        theirs = differences(form, quote_for(pk)) if isinstance(refused, StaleError) else None
    return render(request, template, {"quote": quote, "form": form, "theirs": theirs})


def attempt(form: BaseForm, step: Any) -> Exception | None:
    """Take a step; a refusal stands on the form with what was typed, and is handed back."""
    try:
        step()
    except (RefusedError, StaleError, ValidationError, PricingError) as error:
        form.add_error(None, error if isinstance(error, ValidationError) else str(error))
        return error
    return None


def _back(request: HttpRequest, quote: Quote) -> HttpResponse:
    """To the desk as it now is: the sheet alone for htmx, a fresh page for others."""
    if request.headers.get("HX-Request"):
        return show_desk(request, quote_for(quote.pk))
    return redirect(quote)


def _detail_asked(request: HttpRequest) -> str:
    """How the client's view is looked at: asked for here, or by the page that an edit was made on."""
    page = urlsplit(request.headers.get("HX-Current-URL", ""))
    return request.GET.get("as") or QueryDict(page.query).get("as", "")


def _margin_asked(request: HttpRequest) -> Decimal | None:
    try:
        percent = Decimal(request.GET.get("margin", "").replace(",", "."))
    except InvalidOperation:
        return None
    return percent if percent.is_finite() and -LARGEST_MARGIN <= percent <= LARGEST_MARGIN else None
