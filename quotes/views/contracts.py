"""The end of a contract that is not carried out."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from jobs.access import owner_only, person_of
from jobs.models import Job
from jobs.views.editing import FormPage, form_page
from quotes.forms.steps import CancelForm
from quotes.services.cancelling import cancel_contract

ABOVE = (
    "What was agreed counts no more: the quote and its change orders are withdrawn, the budget is written"
    " back to nothing, and the job is lost. Papers, answers, hours and costs stay."
)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def cancel(request: HttpRequest, job_pk: int) -> HttpResponse:
    job = get_object_or_404(Job, pk=job_pk)
    back = reverse("quotes:of_job", args=[job.pk])
    form = CancelForm(request.POST or None)
    act, leave = "Cancel the contract", "Keep the contract"
    page = FormPage(act, act, back, "Quotes and changes", above=ABOVE, leave=leave)

    def save() -> str:
        cancel_contract(job=job, person=person_of(request), reason=form.cleaned_data["reason"])
        messages.success(request, "The contract is cancelled.")
        return back

    return form_page(request, form, save, page)
