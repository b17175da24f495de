"""Changes: written down, priced, and what they leave out."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.access import does_the_work, owner_only, person_of
from jobs.models import Change, Job, Photo
from jobs.refusals import RefusedError
from jobs.views.photos import picture_answer
from quotes.forms.changes import ChangeForm, OmitForm, PictureForm
from quotes.queries.changes import agreed_lines, change_page, photo_of_change
from quotes.queries.quotes import quote_for
from quotes.services import changes


@require_http_methods(["GET", "HEAD", "POST"])
@does_the_work
def raise_change(request: HttpRequest, job_pk: int) -> HttpResponse:
    job = get_object_or_404(Job, pk=job_pk)
    form = ChangeForm(request.POST or None, request.FILES or None)
    if request.method == "POST" and form.is_valid():
        try:
            change = changes.raise_change(job=job, person=person_of(request), **form.cleaned_data)
        except RefusedError as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, f"{change} is written down. Ask for a yes before the work is done.")
            return redirect("quotes:change", change.pk)
    return render(request, "quotes/raise_change.html", {"job": job, "form": form})


@require_safe
def change(request: HttpRequest, pk: int) -> HttpResponse:
    """What was asked for, by whom, and how it stands; the effect on the price for those who see prices."""
    page = change_page(pk)
    form = PictureForm(initial={"shows_photo": page.note.shows_photo if page.note else False})
    return render(request, "quotes/change.html", {"page": page, "form": form})


@require_POST
@does_the_work
def set_picture(request: HttpRequest, pk: int) -> HttpResponse:
    page = change_page(pk)
    form = PictureForm(request.POST, request.FILES)
    if not form.is_valid():
        return render(request, "quotes/change.html", {"page": page, "form": form})
    changes.set_picture(change=page.change, person=person_of(request), **form.cleaned_data)
    return redirect("quotes:change", pk)


@require_safe
def picture(request: HttpRequest, pk: int) -> HttpResponse:
    return picture_answer(get_object_or_404(Photo, pk=photo_of_change(pk)))


@require_POST
@does_the_work
def withdraw_change(request: HttpRequest, pk: int) -> HttpResponse:
    change = get_object_or_404(Change, pk=pk)
    try:
        changes.withdraw_change(change=change, person=person_of(request))
    except RefusedError as error:
        messages.error(request, str(error))
    return redirect("quotes:change", pk)


@require_POST
@owner_only
def price_change(request: HttpRequest, pk: int) -> HttpResponse:
    change = get_object_or_404(Change.objects.select_related("job"), pk=pk)
    try:
        return redirect(changes.price_change(change=change, person=person_of(request)))
    except RefusedError as error:
        messages.error(request, str(error))
        return redirect("quotes:change", pk)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def omit(request: HttpRequest, pk: int) -> HttpResponse:
    """Leave an agreed line out by a change order."""
    order = quote_for(pk)
    form = OmitForm(request.POST or None, lines=agreed_lines(order.job_id))
    if request.method == "POST" and form.is_valid():
        try:
            changes.omit_line(order=order, person=person_of(request), **form.cleaned_data)
        except RefusedError as error:
            form.add_error(None, str(error))
        else:
            return redirect(order)
    return render(request, "quotes/omit.html", {"quote": order, "form": form})
