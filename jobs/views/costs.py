"""The costs of a job with their receipts; a mistake is reversed with a reason."""

from __future__ import annotations

from uuid import uuid4

from django.core.exceptions import PermissionDenied, ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from jobs.access import person_of
from jobs.exports import FORMATS, as_file
from jobs.forms.sheets import ReverseForm
from jobs.queries.costs import costs_page, costs_table, get_cost_for
from jobs.receipts import booked_in
from jobs.refusals import RefusedError
from jobs.services.costs import may_reverse, reverse_cost
from jobs.views.editing import FormPage, form_page


@require_safe
def costs(request: HttpRequest, pk: int) -> HttpResponse:
    return render(request, "jobs/costs.html", {"page": costs_page(person_of(request), pk)})


@require_safe
def costs_file(request: HttpRequest, pk: int, kind: str) -> HttpResponse:
    if kind not in FORMATS:
        raise Http404
    return as_file(costs_table(costs_page(person_of(request), pk)), kind)


@require_http_methods(["GET", "HEAD", "POST"])
def cost_reverse(request: HttpRequest, pk: int) -> HttpResponse:
    by = person_of(request)
    entry = get_cost_for(by, pk)
    if not may_reverse(by, entry):
        raise PermissionDenied
    form = ReverseForm(request.POST or None, initial={"key": uuid4()})
    back = reverse("jobs:costs", args=[entry.phase.job_id])

    def save() -> str:
        try:
            reverse_cost(entry=entry, by=by, **form.cleaned_data)
        except RefusedError as refused:
            raise ValidationError(str(refused)) from refused
        return back

    above = f"{entry}, {entry.supplier or 'no supplier'}, {entry.on_date:%-d %B %Y}, on {entry.phase}."
    if order := booked_in(entry):
        above += f" It is the receipt of goods booked in on {order}: they are taken back with it."
    return form_page(
        request, form, save, FormPage("Reverse a cost", "Reverse it", back, "Costs", above=above)
    )
