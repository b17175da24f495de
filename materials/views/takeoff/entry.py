"""Type a take-off and see it computed and drawn as you type."""

from __future__ import annotations

from typing import cast

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from jobs.access import does_the_work, person_of
from jobs.models import Person, Phase
from jobs.versions import StaleError
from materials.forms.takeoff import Entry, entry_kind_of
from materials.models import TakeoffItem
from materials.queries.rates import labour_rates
from materials.queries.takeoff import get_takeoff_item_for, get_takeoff_phase_for, stored_result
from materials.services import takeoff as services
from materials.services.takeoff import Entered
from materials.takeoff.codec import to_json
from materials.takeoff.errors import MeasureAgain
from materials.takeoff.labour import Grade, hours_for
from materials.takeoff.result import Result
from materials.views.takeoff.overview import writing

SAVE = "save"


@require_http_methods(["GET", "POST"])
@does_the_work
def add_takeoff(request: HttpRequest, pk: int, kind: str) -> HttpResponse:
    phase = get_takeoff_phase_for(person_of(request), pk)
    typed = request.POST if request.method == "POST" else None
    entry = Entry(entry_kind_of(kind), typed, job_id=phase.job_id)
    result = tried(entry) if request.method == "POST" else None
    if result and asks_to_save(request):
        item = services.add_item(phase=phase, entered=_entered(entry), person=person_of(request))
        return redirect("materials:takeoff-item", item.pk)
    return entry_page(request, phase, entry, result)


@require_http_methods(["GET", "POST"])
@does_the_work
def edit_takeoff(request: HttpRequest, pk: int) -> HttpResponse:
    item = get_takeoff_item_for(person_of(request), pk)
    typed = request.POST if request.method == "POST" else None
    entry = Entry(entry_kind_of(item.kind), typed, item, job_id=item.phase.job_id)
    result = tried(entry) if request.method == "POST" else stored_result(item)
    if result and asks_to_save(request) and _saved(entry, item, person_of(request)):
        return redirect("materials:takeoff-item", item.pk)
    return entry_page(request, item.phase, entry, result, item)


def asks_to_save(request: HttpRequest) -> bool:
    """A look while typing never saves, whatever it sends."""
    return request.POST.get("act") == SAVE and not getattr(request, "htmx", False)


def tried(entry: Entry) -> Result | None:
    """The result of what was typed so far; None with every message beside its field where there is none."""
    if not entry.is_valid() or entry.asks_more:
        return None
    try:
        return services.computed(entry.kind.key, to_json(entry.inputs()))
    except MeasureAgain as trouble:
        entry.answer(trouble)
        return None


def _entered(entry: Entry) -> Entered:
    return Entered(entry.kind.key, entry.head.cleaned_data["title"], to_json(entry.inputs()))


def computed_now(item: TakeoffItem) -> Result | None:
    """The result of what is kept, by today's catalogue; None where it can't be built any more."""
    try:
        return services.computed(item.kind, item.inputs)
    except MeasureAgain:
        return None


def _saved(entry: Entry, item: TakeoffItem, person: Person) -> bool:
    """True once the change is kept; a save over somebody else's is refused in words."""
    version = entry.head.cleaned_data.get("version") or 0
    try:
        services.change_item(item=item, entered=_entered(entry), version=version, person=person)
    except StaleError as stale:
        entry.stale(cast(TakeoffItem, stale.stored))
        return False
    return True


def entry_page(
    request: HttpRequest, phase: Phase, entry: Entry, result: Result | None, item: TakeoffItem | None = None
) -> HttpResponse:
    work = result.work if result else ()
    page = {
        "job": phase.job,
        "phase": phase,
        "item": item,
        "entry": entry,
        "result": result,
        "hours": hours_for(work, Grade(phase.grade), labour_rates()),
    }
    template = "answer" if getattr(request, "htmx", False) else "entry"
    return render(request, f"materials/takeoff/{template}.html", page | writing(request))
