"""What lies in the workshop?"""

from __future__ import annotations

from typing import Any
from uuid import uuid5

import segno
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.access import does_the_work, person_of
from jobs.forms.versioned import changed_since, sent_again_over
from jobs.money import ZERO
from jobs.refusals import RefusedError
from jobs.versions import StaleError
from jobs.views.editing import AMISS, OVERTAKEN, FormPage, form_page
from materials.forms.stock import CountForm, ItemForm, StockForm, TakeForm
from materials.models import StockItem, StockMove
from materials.queries.catalogue import KIND_NAMES
from materials.queries.stock import item_page, stock_list
from materials.services.stock import NewStock, bring_in, change_item, count_again, put_back, take

ITEMS = StockItem.objects.select_related("material", "origin_job", "reserved_for")


@require_safe
def stock(request: HttpRequest) -> HttpResponse:
    asked = request.GET
    found = stock_list(
        words=asked.get("q", "").strip(),
        kind=asked.get("kind", ""),
        used_up=asked.get("used_up") == "yes",
        page=asked.get("page", 1),
    )
    return render(request, "materials/stock.html", {"found": found, "kinds": KIND_NAMES.items()})


@require_http_methods(["GET", "HEAD", "POST"])
@does_the_work
def stock_add(request: HttpRequest) -> HttpResponse:
    person = person_of(request)
    form = StockForm(
        request.POST or None, with_value=person.sees_prices, initial={"material": request.GET.get("material")}
    )
    page = FormPage("Add to stock", "Add it", reverse("materials:stock"), "Stock")

    def save() -> StockItem:
        typed = form.cleaned_data
        new = NewStock(
            material=typed["material"],
            quantity=typed["quantity"],
            length_mm10=typed["length"],
            width_mm10=typed["width"],
            value=typed.get("value") or ZERO,
            place=typed["place"],
            source=typed["source"],
            notes=typed["notes"],
        )
        return bring_in(new=new, person=person, key=typed["key"])

    return form_page(request, form, save, page)


@require_safe
def stock_item(request: HttpRequest, pk: int) -> HttpResponse:
    return _show(request, get_object_or_404(ITEMS, pk=pk))


def _show(request: HttpRequest, item: StockItem, **amiss: Any) -> HttpResponse:
    person = person_of(request)
    context = {
        "page": item_page(item),
        "item": item,
        "take_form": TakeForm(item=item),
        "count_form": CountForm(item=item),
        "item_form": ItemForm(item=item, with_value=person.sees_prices),
        "works": person.role != "bookkeeper",
        **amiss,
    }
    status = OVERTAKEN if "clash" in amiss else AMISS if amiss else 200
    return render(request, "materials/stock_item.html", context, status=status)


@require_POST
@does_the_work
def stock_take(request: HttpRequest, pk: int) -> HttpResponse:
    item = get_object_or_404(ITEMS, pk=pk)
    form = TakeForm(request.POST, item=item)
    if not form.is_valid():
        return _show(request, item, take_form=form)
    typed = form.cleaned_data
    try:
        take(
            item=item,
            quantity=typed["quantity"],
            phase=typed["phase"],
            person=person_of(request),
            key=typed["key"],
        )
    except RefusedError as refused:
        form.add_error(None, str(refused))
        return _show(request, item, take_form=form)
    messages.success(request, f"Taken to {typed['phase']}. “Put back” undoes it.")
    return redirect(item)


@require_POST
@does_the_work
def stock_back(request: HttpRequest, pk: int) -> HttpResponse:
    move = get_object_or_404(StockMove.objects.select_related("item__material", "phase__job"), pk=pk)
    try:
        put_back(move=move, person=person_of(request), key=uuid5(move.key, "put back"))
    except RefusedError as refused:
        messages.error(request, str(refused))
    return redirect(move.item)


@require_POST
@does_the_work
def stock_count(request: HttpRequest, pk: int) -> HttpResponse:
    item = get_object_or_404(ITEMS, pk=pk)
    form = CountForm(request.POST, item=item)
    if not form.is_valid():
        return _show(request, item, count_form=form)
    typed = form.cleaned_data
    count_again(
        item=item,
        quantity=typed["quantity"],
        reason=typed["reason"],
        person=person_of(request),
        key=typed["key"],
    )
    return redirect(item)


@require_POST
@does_the_work
def stock_change(request: HttpRequest, pk: int) -> HttpResponse:
    item = get_object_or_404(ITEMS, pk=pk)
    person = person_of(request)
    form = ItemForm(request.POST, item=item, with_value=person.sees_prices)
    if not form.is_valid():
        return _show(request, item, item_form=form)
    typed = dict(form.cleaned_data)
    try:
        change_item(item=item, version=typed.pop("version") or 0, details=typed, person=person)
    except StaleError as stale:
        sent_again_over(form, stale.stored)
        return _show(request, item, item_form=form, clash=changed_since(form))
    return redirect(item)


@require_safe
def stock_label(request: HttpRequest, pk: int) -> HttpResponse:
    item = get_object_or_404(ITEMS, pk=pk)
    address = request.build_absolute_uri(item.get_absolute_url())
    square = segno.make(address, error="m").svg_inline(scale=4, border=2, svgclass=None, lineclass=None)
    return render(
        request, "materials/stock_label.html", {"page": item_page(item), "item": item, "square": square}
    )
