"""One item as computed, and what can be done with it."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.template.loader import render_to_string
from django.views.decorators.http import require_POST, require_safe

from jobs.access import does_the_work, person_of
from jobs.paper_pdf import draw_pdf, logo_address
from jobs.refusals import RefusedError
from materials.forms.takeoff import ENTRY_KINDS
from materials.models import TakeoffItem
from materials.queries.rates import labour_rates
from materials.queries.takeoff import (
    get_takeoff_item_for,
    get_takeoff_phase_for,
    item_row,
    stored_result,
)
from materials.queries.ways import way_rows
from materials.services import takeoff as services
from materials.takeoff.errors import MeasureAgain
from materials.views.takeoff.overview import writing
from materials.ways_in_quote import NOTHING, beside, ways_in_quote


@require_safe
def takeoff_item(request: HttpRequest, pk: int) -> HttpResponse:
    item = get_takeoff_item_for(person_of(request), pk)
    row = item_row(item, item.phase.grade, labour_rates())
    page = {
        "job": item.phase.job,
        "phase": item.phase,
        "item": item,
        "row": row,
        "result": row.result,
        "hours": row.hours,
        "has_outline": "outline" in item.inputs,
        "can_be_typed": item.kind in ENTRY_KINDS,
        **_ways(request, item),
        "kinds": list(ENTRY_KINDS.values()),
    }
    return render(request, "materials/takeoff/item.html", page | writing(request))


def _ways(request: HttpRequest, item: TakeoffItem) -> dict[str, Any]:
    """Each way with its price, and what brings them into a quote."""
    rows = way_rows(item) if item.kind == "ways" else ()
    offered = ways_in_quote(item, rows, person_of(request)) if rows else NOTHING
    return {"ways": beside(rows, offered), "offer": offered.act}


@require_POST
@does_the_work
def remove_takeoff(request: HttpRequest, pk: int) -> HttpResponse:
    """A second press finds it gone, which is what was wanted: no page of "not found" for that."""
    item = TakeoffItem.objects.filter(pk=pk).first()
    if item is None:
        messages.info(request, "That item is gone already.")
        return redirect("jobs:list")
    kept = services.remove_item(item=item, person=person_of(request))
    request.session["removed_takeoff"] = kept or request.session.get("removed_takeoff")
    return redirect("materials:phase-takeoff", item.phase_id)


@require_POST
@does_the_work
def put_back_takeoff(request: HttpRequest) -> HttpResponse:
    kept = request.session.pop("removed_takeoff", None)
    if not kept:
        messages.info(request, "There is nothing to put back.")
        return redirect("jobs:list")
    try:
        item = services.put_back(kept=kept, person=person_of(request))
    except (RefusedError, MeasureAgain) as refused:
        messages.error(request, str(refused))
        return redirect("jobs:list")
    return redirect("materials:phase-takeoff", item.phase_id)


@require_POST
@does_the_work
def turn_takeoff(request: HttpRequest, pk: int) -> HttpResponse:
    item = get_takeoff_item_for(person_of(request), pk)
    try:
        made = services.other_hand(item=item, person=person_of(request))
    except (RefusedError, MeasureAgain) as refused:
        messages.error(request, str(refused))
        return redirect("materials:takeoff-item", item.pk)
    return redirect("materials:takeoff-item", made.pk)


@require_POST
@does_the_work
def compute_takeoff_again(request: HttpRequest, pk: int) -> HttpResponse:
    phase = get_takeoff_phase_for(person_of(request), pk)
    try:
        changed = services.compute_again(phase=phase, person=person_of(request))
        messages.success(request, f"Computed by today's catalogue: {changed or 'none'} came out differently.")
    except MeasureAgain as trouble:
        messages.error(request, f"One item can't be computed by today's catalogue: {trouble.message}")
    return redirect("materials:phase-takeoff", phase.pk)


@require_safe
def setting_out_sheet(request: HttpRequest, pk: int) -> HttpResponse:
    item = get_takeoff_item_for(person_of(request), pk)
    page = {"item": item, "phase": item.phase, "job": item.phase.job, "result": stored_result(item)}
    html = render_to_string("papers/setting_out.html", page | {"logo": logo_address()}, request)
    answer = HttpResponse(draw_pdf(html), content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="setting-out-{item.pk}.pdf"'
    return answer
