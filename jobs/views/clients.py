"""For whom does the workshop work?"""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.access import person_of, sees_prices
from jobs.forms.clients import ClientForm
from jobs.queries.clients import client_list_page, client_page, get_client_for
from jobs.services.clients import add_client, archive_client, edit_client
from jobs.views.editing import FormPage, form_page


@require_safe
def client_list(request: HttpRequest) -> HttpResponse:
    listed = client_list_page(
        words=request.GET.get("words", "").strip(),
        archived="archived" in request.GET,
        number=request.GET.get("page"),
    )
    return render(request, "jobs/clients.html", {"listed": listed})


@require_safe
def client_detail(request: HttpRequest, pk: int) -> HttpResponse:
    return render(request, "jobs/client.html", {"shown": client_page(person_of(request), pk)})


@require_http_methods(["GET", "HEAD", "POST"])
@sees_prices
def client_add(request: HttpRequest) -> HttpResponse:
    form = ClientForm(request.POST or None)
    page = FormPage("New client", "Add client", reverse("jobs:clients"), "Clients")
    return form_page(request, form, lambda: add_client(person=person_of(request), details=form.details), page)


@require_http_methods(["GET", "HEAD", "POST"])
@sees_prices
def client_edit(request: HttpRequest, pk: int) -> HttpResponse:
    client = get_client_for(person_of(request), pk)
    page = FormPage(f"Edit {client}", "Save", client.get_absolute_url(), client.name)
    form = ClientForm(request.POST or None, instance=client)
    return form_page(
        request,
        form,
        lambda: edit_client(client, person=person_of(request), version=form.opened_on, details=form.details),
        page,
    )


@require_POST
@sees_prices
def client_archive(request: HttpRequest, pk: int) -> HttpResponse:
    client = get_client_for(person_of(request), pk)
    archived = request.POST.get("undo") is None
    archive_client(client, person=person_of(request), archived=archived)
    said = "{} is put away. Their jobs stay." if archived else "{} is among the clients again."
    messages.success(request, said.format(client))
    return redirect(client)
