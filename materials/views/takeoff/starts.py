"""The same cladding set out from each start, side by side."""

from __future__ import annotations

from dataclasses import replace

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from jobs.access import does_the_work, person_of
from jobs.versions import StaleError
from materials.forms.takeoff.words import STARTS
from materials.models import TakeoffItem
from materials.queries.specs import catalogue_of
from materials.queries.takeoff import get_takeoff_item_for
from materials.services import takeoff as services
from materials.services.takeoff import Entered
from materials.takeoff.cladding import Cladding, start_as_made
from materials.takeoff.codec import from_json, to_json
from materials.takeoff.costing import material_cost
from materials.takeoff.courses import Start
from materials.takeoff.errors import MeasureAgain
from materials.takeoff.registry import material_keys
from materials.takeoff.starts import compare_starts
from materials.views.takeoff.overview import writing


@require_safe
def takeoff_starts(request: HttpRequest, pk: int) -> HttpResponse:
    item = get_takeoff_item_for(person_of(request), pk)
    inputs, catalogue = _cladding(item), catalogue_of(material_keys(item.inputs))
    try:
        rows = compare_starts(inputs, catalogue)
        trouble = ""
    except MeasureAgain as again:
        rows, trouble = (), again.message
    compared = [
        (
            row,
            STARTS[start_as_made(inputs, row.start)],
            row.start is inputs.start,
            material_cost(row.result, catalogue),
        )
        for row in rows
    ]
    page = {"job": item.phase.job, "phase": item.phase, "item": item, "rows": compared, "trouble": trouble}
    return render(request, "materials/takeoff/starts.html", page | writing(request))


@require_POST
@does_the_work
def set_start(request: HttpRequest, pk: int) -> HttpResponse:
    item = get_takeoff_item_for(person_of(request), pk)
    start = request.POST.get("start", "")
    if start not in set(Start):
        messages.error(request, "Choose one of the starts.")
        return redirect("materials:takeoff-starts", item.pk)
    inputs = to_json(replace(_cladding(item), start=Start(start)))
    try:
        entered = Entered(item.kind, item.title, inputs)
        services.change_item(item=item, entered=entered, version=item.version, person=person_of(request))
    except (StaleError, MeasureAgain) as refused:
        messages.error(request, str(refused))
    return redirect("materials:takeoff-item", item.pk)


def _cladding(item: TakeoffItem) -> Cladding:
    if item.kind != "cladding":
        raise Http404("Only boards are set out from a start.")
    try:
        return from_json(item.inputs, Cladding)
    except MeasureAgain as trouble:
        raise Http404(trouble.message) from trouble
