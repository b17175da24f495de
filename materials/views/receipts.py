"""A receipt of the bench at the desk: which order is it for, and what does it say of a price?"""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from jobs.access import owner_only, person_of
from materials.forms.receipts import ReceiptPriceForm
from materials.queries.receipts import receipt_page
from materials.services.catalogue import set_price


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def receipt(request: HttpRequest, pk: int) -> HttpResponse:
    page = receipt_page(pk)
    form = ReceiptPriceForm(request.POST or None, page=page) if page.choices else None
    if form and form.is_valid():
        set_price(person=person_of(request), **form.priced)
        messages.success(request, f"{form.words} is in the catalogue at the receipt’s price.")
        return redirect("materials:receipt", pk)
    amiss = form is not None and bool(form.errors)
    context = {"page": page, "entry": page.entry, "form": form}
    return render(request, "materials/receipt.html", context, status=422 if amiss else 200)
