"""What is to be bought, what is ordered, what has come?"""

from __future__ import annotations

from collections.abc import Sequence

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.access import does_the_work, owner_only, person_of, sees_prices
from jobs.forms.versioned import Difference, changed_since, sent_again_over
from jobs.models import Job
from jobs.refusals import RefusedError
from jobs.versions import StaleError
from jobs.views.editing import AMISS, OVERTAKEN
from materials.forms.orders import AddLineForm, DraftForm, NewOrderForm, ReceiveForm
from materials.models import Order, Supplier
from materials.order_paper import order_pdf
from materials.queries.lateness import late_if_ordered
from materials.queries.orders import OrderPage, order_list, order_page
from materials.queries.purchase import purchase_list
from materials.queries.sold_by import Sold, sold_by
from materials.services.deliveries import receive
from materials.services.orders import add_line, cancel, change_draft, draft_order, place, start_order
from materials.services.taking_back import may_take_back


@require_safe
@sees_prices
def purchase(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_object_or_404(Job.objects.select_related("client"), pk=pk)
    found = purchase_list(job)
    context = {
        "found": found,
        "late": late_if_ordered(found.suppliers, timezone.localdate()),
        "orders": order_list(state="", page=1, job=job),
        "job": job,
        "form": NewOrderForm(),
    }
    return render(request, "materials/purchase.html", context)


@require_POST
@owner_only
def order_draft(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_object_or_404(Job, pk=pk)
    form = NewOrderForm(request.POST)
    if not form.is_valid():
        messages.error(request, "Choose a supplier.")
        return redirect("materials:purchase", pk)
    supplier: Supplier = form.cleaned_data["supplier"]
    draft = start_order if "empty" in request.POST else draft_order
    return redirect(draft(job=job, supplier=supplier, person=person_of(request)))


@require_safe
def orders(request: HttpRequest) -> HttpResponse:
    asked = request.GET
    found = order_list(state=asked.get("state", ""), page=asked.get("page", 1))
    return render(request, "materials/orders.html", {"found": found})


def page_or_404(pk: int) -> OrderPage:
    page = order_page(pk)
    if page is None:
        raise Http404
    return page


@require_safe
def order(request: HttpRequest, pk: int) -> HttpResponse:
    return _show(request, page_or_404(pk))


def _show(
    request: HttpRequest,
    page: OrderPage,
    *,
    form: DraftForm | None = None,
    add_form: AddLineForm | None = None,
    clash: Sequence[Difference] = (),
) -> HttpResponse:
    status = OVERTAKEN if clash else AMISS if form or add_form else 200
    context: dict[str, object] = {"page": page, "order": page.order, "today": timezone.localdate()}
    context["clash"] = clash
    person = person_of(request)
    context["may_take_back"] = {
        one.delivery.pk for one in page.deliveries if may_take_back(person, one.delivery)
    }
    if page.order.is_draft and person.is_owner:
        context["form"] = form or DraftForm(page=page)
        context["add_form"] = add_form or _add_form(page, _sold(page))
    return render(request, "materials/order.html", context, status=status)


def _sold(page: OrderPage) -> dict[int, Sold]:
    return sold_by(page.order.supplier_id, but_not={shown.line.size_id for shown in page.lines})


def _add_form(page: OrderPage, sold: dict[int, Sold], data: object = None) -> AddLineForm:
    return AddLineForm(data, job=page.order.job, sizes={pk: one.words for pk, one in sold.items()})


@require_POST
@owner_only
def order_change(request: HttpRequest, pk: int) -> HttpResponse:
    page = page_or_404(pk)
    return _not_kept(request, page) or redirect(page.order)


def _not_kept(request: HttpRequest, page: OrderPage) -> HttpResponse | None:
    """The draft is kept as typed; else the page that says what is amiss with it."""
    form = DraftForm(request.POST, page=page)
    if not form.is_valid():
        return _show(request, page, form=form)
    try:
        change_draft(order=page.order, lines=form.edits, person=person_of(request), **form.rest)
    except StaleError as stale:
        sent_again_over(form, stale.stored)
        return _show(request, page, form=form, clash=changed_since(form))
    except RefusedError as refused:
        messages.error(request, str(refused))
        return redirect(page.order)
    return None


@require_POST
@owner_only
def order_add_line(request: HttpRequest, pk: int) -> HttpResponse:
    page = page_or_404(pk)
    sold = _sold(page)
    form = _add_form(page, sold, request.POST)
    if not form.is_valid():
        return _show(request, page, add_form=form)
    chosen = sold[int(form.cleaned_data["size"])]
    typed = form.cleaned_data
    try:
        add_line(
            order=page.order,
            size=form.stock_size,
            words=chosen.words,
            supplier_code=chosen.supplier_code,
            quantity=typed["quantity"],
            price=chosen.price,
            phase=typed["phase"],
            person=person_of(request),
        )
    except RefusedError as refused:
        messages.error(request, str(refused))
    return redirect(page.order)


@require_POST
@owner_only
def order_place(request: HttpRequest, pk: int) -> HttpResponse:
    """What stands typed in the draft is kept first, so that it goes out as it is seen."""
    page = page_or_404(pk)
    found = page.order
    if found.is_draft and (amiss := _not_kept(request, page)):
        return amiss
    try:
        found = place(order=found, send="send" in request.POST, person=person_of(request))
        messages.success(request, f"{found} is placed; its paper is kept as it went.")
    except RefusedError as refused:
        messages.error(request, str(refused))
    return redirect(found)


@require_POST
@owner_only
def order_cancel(request: HttpRequest, pk: int) -> HttpResponse:
    found = cancel(order=get_object_or_404(Order, pk=pk), person=person_of(request))
    messages.success(request, f"{found} is {found.get_state_display()}; nothing more is expected on it.")
    return redirect(found)


@require_safe
@sees_prices
def order_paper(request: HttpRequest, pk: int) -> HttpResponse:
    """The paper as it was kept; of a draft, as it would be."""
    found = get_object_or_404(Order.objects.select_related("job", "supplier"), pk=pk)
    content = bytes(found.pdf) if found.pdf else order_pdf(found)
    headers = {"Content-Disposition": f'inline; filename="order-{found.number}.pdf"'}
    return HttpResponse(content, content_type="application/pdf", headers=headers)


@require_http_methods(["GET", "HEAD", "POST"])
@does_the_work
def order_receive(request: HttpRequest, pk: int) -> HttpResponse:
    page, person = page_or_404(pk), person_of(request)
    form = ReceiveForm(request.POST or None, page=page, person=person, asked=request.GET.get("receipt", ""))
    if form.is_valid():
        try:
            receive(order=page.order, goods=form.goods, person=person, key=form.cleaned_data["key"])
            return redirect(page.order)
        except RefusedError as refused:
            form.add_error(None, str(refused))
    context = {"page": page, "order": page.order, "form": form}
    return render(request, "materials/order_receive.html", context, status=422 if form.errors else 200)
