"""From whom is it bought?"""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.access import owner_only, person_of
from materials.forms.catalogue import SupplierForm
from materials.models import Supplier
from materials.queries.catalogue import supplier_list
from materials.services.catalogue import archive, bring_back, save_supplier


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
    form = SupplierForm(request.POST or None, instance=supplier)
    if form.is_valid():
        save_supplier(supplier=form.save(commit=False), person=person_of(request))
        return redirect("materials:suppliers")
    context = {"form": form, "supplier": Supplier.objects.filter(pk=supplier.pk).first()}
    return render(request, "materials/supplier_form.html", context, status=422 if form.errors else 200)


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
