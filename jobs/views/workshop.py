"""By which rules does the workshop work?"""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from jobs.access import owner_only, person_of
from jobs.forms.versioned import VersionedForm
from jobs.forms.workshop import (
    HoursForm,
    LabourRateForm,
    LetterheadForm,
    MoneyForm,
    PlaceForm,
    QuoteRulesForm,
    TaxRateForm,
)
from jobs.models import LabourRate, TaxRate, Workshop
from jobs.queries.workshop import workshop_page
from jobs.services.workshop import edit_workshop, save_labour_rate, save_tax_rate
from jobs.views.editing import FormPage, form_page

SECTIONS: dict[str, tuple[str, type[VersionedForm]]] = {
    "letterhead": ("Name and letterhead", LetterheadForm),
    "place": ("Money, language and measures", PlaceForm),
    "pricing": ("Overhead and markup", MoneyForm),
    "hours": ("Hours", HoursForm),
    "quotes": ("Quotes, stages and terms", QuoteRulesForm),
}


@require_safe
@owner_only
def workshop(request: HttpRequest) -> HttpResponse:
    return render(request, "jobs/workshop.html", {"shown": workshop_page()})


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def workshop_edit(request: HttpRequest, section: str) -> HttpResponse:
    if section not in SECTIONS:
        raise Http404
    title, form_class = SECTIONS[section]
    stored = get_object_or_404(Workshop, pk=1)
    form = form_class(request.POST or None, request.FILES or None, instance=stored)
    page = FormPage(title, "Save", reverse("jobs:workshop"), "Workshop")

    def save() -> str:
        edit_workshop(stored, person=person_of(request), version=form.opened_on, details=form.details)
        return reverse("jobs:workshop")

    return form_page(request, form, save, page)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def tax_rate(request: HttpRequest, pk: int | None = None) -> HttpResponse:
    rate = get_object_or_404(TaxRate, pk=pk) if pk else TaxRate()
    form = TaxRateForm(request.POST or None, instance=rate)
    title = f"Tax rate: {rate.name}" if pk else "New tax rate"
    page = FormPage(title, "Save", reverse("jobs:workshop"), "Workshop", record="taxrate")

    def save() -> str:
        save_tax_rate(rate, person=person_of(request), details=form.details, version=form.opened_on)
        return f"{reverse('jobs:workshop')}#taxes"

    return form_page(request, form, save, page)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def labour_rate(request: HttpRequest, pk: int | None = None) -> HttpResponse:
    rate = get_object_or_404(LabourRate, pk=pk) if pk else LabourRate()
    form = LabourRateForm(request.POST or None, instance=rate)
    title = f"Trade rate: {rate.name}" if pk else "New trade rate"
    page = FormPage(title, "Save", reverse("jobs:workshop"), "Workshop", record="labourrate")

    def save() -> str:
        save_labour_rate(rate, person=person_of(request), details=form.details, version=form.opened_on)
        return f"{reverse('jobs:workshop')}#trades"

    return form_page(request, form, save, page)


@require_safe
def logo(request: HttpRequest) -> HttpResponse:
    kept = Workshop.objects.filter(pk=1).values_list("logo", "logo_type").first()
    if not kept or not kept[0]:
        raise Http404
    return HttpResponse(bytes(kept[0]), content_type=kept[1])
