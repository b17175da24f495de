"""From whom is it bought?"""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.access import owner_only, person_of
from jobs.models import Person
from jobs.views.editing import FormPage, form_page
from materials.forms.catalogue import SupplierForm
from materials.models import Supplier
from materials.queries.catalogue import supplier_list
from materials.services.catalogue import add_supplier, archive, bring_back, change_supplier


@require_safe
def suppliers(request: HttpRequest) -> HttpResponse:
    archived = request.GET.get("archived") == "yes"
    context = {"suppliers": supplier_list(archived=archived), "archived": archived}
    return render(request, "materials/suppliers.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def supplier_new(request: HttpRequest) -> HttpResponse:
    return _edit(request, Supplier())


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def supplier_edit(request: HttpRequest, pk: int) -> HttpResponse:
    return _edit(request, get_object_or_404(Supplier, pk=pk))


def _edit(request: HttpRequest, supplier: Supplier) -> HttpResponse:
    known = supplier.pk is not None
    page = FormPage(
        supplier.name if known else "Add a supplier",
        "Save" if known else "Add the supplier",
        reverse("materials:suppliers"),
        "Suppliers",
        record="supplier",
    )
    form = SupplierForm(request.POST or None, instance=supplier)
    return form_page(request, form, lambda: _save(form, supplier.pk, person_of(request)), page)


def _save(form: SupplierForm, pk: int | None, person: Person) -> str:
    if pk is None:
        add_supplier(details=form.details, person=person)
    else:
        supplier = Supplier(pk=pk)
        change_supplier(supplier=supplier, version=form.opened_on, details=form.details, person=person)
    return reverse("materials:suppliers")


@require_POST
@owner_only
def supplier_archive(request: HttpRequest, pk: int) -> HttpResponse:
    archive(thing=get_object_or_404(Supplier, pk=pk), person=person_of(request))
    return redirect("materials:suppliers")


@require_POST
@owner_only
def supplier_bring_back(request: HttpRequest, pk: int) -> HttpResponse:
    bring_back(thing=get_object_or_404(Supplier, pk=pk), person=person_of(request))
    return redirect("materials:suppliers")
