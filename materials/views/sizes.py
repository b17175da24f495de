"""In which sizes is a material sold, and at what price?"""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from jobs.access import owner_only, person_of
from jobs.forms.versioned import differences, sent_again_over
from jobs.versions import StaleError
from materials.forms.catalogue import PriceForm, SizeForm
from materials.models import Material, Price, StockSize
from materials.queries.catalogue import words_of
from materials.services.catalogue import add_size, archive, bring_back, remove_price, set_price
from materials.views.catalogue import show_material


@require_POST
@owner_only
def size_add(request: HttpRequest, pk: int) -> HttpResponse:
    material = get_object_or_404(Material, pk=pk)
    form = SizeForm(request.POST, material=material)
    if not form.is_valid():
        return show_material(request, material, size_form=form)
    typed = form.cleaned_data
    add_size(
        material=material,
        length_mm10=typed.get("length"),
        width_mm10=typed.get("width"),
        pack_quantity=typed["pack_quantity"],
        person=person_of(request),
        first_price=form.priced if typed["supplier"] else None,
    )
    return redirect(material)


@require_POST
@owner_only
def size_archive(request: HttpRequest, pk: int) -> HttpResponse:
    size = get_object_or_404(StockSize.objects.select_related("material"), pk=pk)
    archive(thing=size, person=person_of(request))
    messages.success(request, f"{words_of(size.material, size)} is put away; “Bring back” undoes it.")
    return redirect(size.material)


@require_POST
@owner_only
def size_bring_back(request: HttpRequest, pk: int) -> HttpResponse:
    size = get_object_or_404(StockSize.objects.select_related("material"), pk=pk)
    bring_back(thing=size, person=person_of(request))
    return redirect(size.material)


@require_POST
@owner_only
def price_add(request: HttpRequest, pk: int) -> HttpResponse:
    material = get_object_or_404(Material, pk=pk)
    sizes = StockSize.objects.filter(material=material, archived_at=None)
    names = {size.pk: words_of(material, size) for size in sizes}
    form = PriceForm(request.POST, material=material, size_names=names)
    if not form.is_valid():
        return show_material(request, material, price_form=form)
    size, seen = form.cleaned_data["size"], form.cleaned_data["version"] or 0
    try:
        set_price(size=size, person=person_of(request), version=seen, **form.priced)
    except StaleError as stale:
        sent_again_over(form, stale.stored)
        return show_material(request, material, price_form=form, clash=differences(form, stale.stored))
    return redirect(material)


@require_POST
@owner_only
def price_remove(request: HttpRequest, pk: int) -> HttpResponse:
    price = get_object_or_404(Price.objects.select_related("size__material"), pk=pk)
    material = price.size.material
    remove_price(price=price, person=person_of(request))
    messages.success(request, "The price is out of the history.")
    return redirect(material)
