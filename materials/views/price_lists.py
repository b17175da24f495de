"""Bring a price list in, and take the catalogue out as one."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.access import owner_only, person_of, sees_prices
from materials.forms.price_lists import MatchForm, UploadForm
from materials.models import PriceList
from materials.pricelist.export import write_csv, write_xlsx
from materials.pricelist.table import UnreadableFileError
from materials.queries.price_list_export import export_rows
from materials.queries.price_lists import PriceListPage, price_list_page
from materials.services.price_lists import (
    NotMatchedError,
    RowsAmissError,
    discard,
    match,
    turn_to_sheet,
    upload,
    write,
)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def price_list_new(request: HttpRequest) -> HttpResponse:
    form = UploadForm(request.POST or None, request.FILES or None)
    if form.is_valid():
        file = form.cleaned_data["file"]
        try:
            return redirect(
                upload(
                    name=file.name,
                    content=file.read(),
                    supplier=form.supplier_name,
                    person=person_of(request),
                )
            )
        except UnreadableFileError as problem:
            form.add_error("file", str(problem))
    lists = PriceList.objects.select_related("person").defer("content", "table")[:20]
    context = {"form": form, "lists": lists}
    return render(request, "materials/price_list_new.html", context, status=422 if form.errors else 200)


@require_safe
@owner_only
def price_list(request: HttpRequest, pk: int) -> HttpResponse:
    found = get_object_or_404(PriceList, pk=pk)
    if found.written_at:
        return render(request, "materials/price_list_done.html", {"price_list": found})
    page = price_list_page(found)
    return _show(request, page, _match_form(page))


def _match_form(page: PriceListPage, data: object = None) -> MatchForm:
    table = page.examined.table
    return MatchForm(
        data,
        price_list=page.price_list,
        columns=page.columns,
        sheets=table.sheets,
        sheet=table.sheet,
        rows=len(table.rows),
        kinds=page.kinds,
    )


def _show(request: HttpRequest, page: PriceListPage, form: MatchForm, *, status: int = 200) -> HttpResponse:
    context = {"page": page, "form": form, "price_list": page.price_list}
    return render(request, "materials/price_list.html", context, status=status)


@require_POST
@owner_only
def price_list_match(request: HttpRequest, pk: int) -> HttpResponse:
    found = get_object_or_404(PriceList, pk=pk, written_at=None)
    page = price_list_page(found)
    form = _match_form(page, request.POST)
    if not form.is_valid():
        return _show(request, page, form, status=422)
    if form.other_sheet:
        turn_to_sheet(price_list=found, sheet=form.other_sheet)
    else:
        match(price_list=found, columns=form.matched, **form.how)
    return redirect(found)


@require_POST
@owner_only
def price_list_write(request: HttpRequest, pk: int) -> HttpResponse:
    found = get_object_or_404(PriceList, pk=pk)
    leave_out = request.POST.get("leave_out") == "yes"
    try:
        write(price_list=found, leave_out_bad_rows=leave_out, person=person_of(request))
    except (RowsAmissError, NotMatchedError) as refused:
        messages.error(request, str(refused))
    return redirect(found)


@require_POST
@owner_only
def price_list_discard(request: HttpRequest, pk: int) -> HttpResponse:
    discard(price_list=get_object_or_404(PriceList, pk=pk))
    return redirect("materials:price-list-new")


@require_safe
@sees_prices
def price_list_csv(request: HttpRequest) -> HttpResponse:
    today = timezone.localdate()
    return _file(write_csv(export_rows(today)), "text/csv; charset=utf-8", f"price-list-{today}.csv")


@require_safe
@sees_prices
def price_list_xlsx(request: HttpRequest) -> HttpResponse:
    today = timezone.localdate()
    kind = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
    return _file(write_xlsx(export_rows(today)), kind, f"price-list-{today}.xlsx")


def _file(content: bytes, kind: str, name: str) -> HttpResponse:
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return HttpResponse(content, content_type=kind, headers=headers)
