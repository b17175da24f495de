"""Who works here, in which role, and at which cost?"""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.access import owner_only, person_of
from jobs.forms.people import PersonForm, PersonRateForm
from jobs.models import PersonRate
from jobs.queries.workshop import get_person, person_page
from jobs.services.accounts.links import make_link
from jobs.services.hours import running_timer, where_it_runs
from jobs.services.people import add_person, add_person_rate, edit_person
from jobs.views.editing import FormPage, form_page


@require_safe
@owner_only
def person_detail(request: HttpRequest, pk: int) -> HttpResponse:
    return render(request, "jobs/person.html", {"shown": person_page(pk)})


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def person_add(request: HttpRequest) -> HttpResponse:
    form = PersonForm(request.POST or None)
    page = FormPage("New person", "Add person", reverse("jobs:workshop"), "Workshop")

    def save() -> str:
        person = add_person(by=person_of(request), details=form.details)
        return reverse("jobs:person", args=[person.pk])

    return form_page(request, form, save, page)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def person_edit(request: HttpRequest, pk: int) -> HttpResponse:
    person = get_person(pk)
    address = reverse("jobs:person", args=[pk])
    page = FormPage(f"Edit {person}", "Save", address, person.name)
    form = PersonForm(request.POST or None, instance=person)

    def save() -> str:
        stored = edit_person(person, by=person_of(request), version=form.opened_on, details=form.details)
        if not stored.is_active and (timer := running_timer(stored)):
            words = f"A timer of theirs still runs, {where_it_runs(timer)}."
            messages.warning(request, f"{words} Say on the time sheet of that week when it ended.")
        return address

    return form_page(request, form, save, page)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def person_rate_add(request: HttpRequest, pk: int) -> HttpResponse:
    person = get_person(pk)
    address = reverse("jobs:person", args=[pk])
    form = PersonRateForm(request.POST or None, instance=PersonRate(person=person))
    page = FormPage(f"New rate of {person}", "Add rate", address, person.name)
    page.above = "Hours already booked keep the rate of their day."

    def save() -> str:
        add_person_rate(person, by=person_of(request), details=form.cleaned_data)
        return address

    return form_page(request, form, save, page)


@require_POST
@owner_only
def person_link(request: HttpRequest, pk: int) -> HttpResponse:
    person = get_person(pk)
    token = make_link(person=person, by=person_of(request), now=timezone.now())
    link = request.build_absolute_uri(reverse("choose-password", args=[token]))
    return render(request, "jobs/person_link.html", {"person": person, "link": link})
