"""Two or three ways to make one thing, side by side."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, cast

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods, require_POST

from jobs.access import does_the_work, person_of
from jobs.refusals import RefusedError
from jobs.versions import StaleError
from materials.forms.takeoff import Entry, entry_kind_of
from materials.models import TakeoffItem
from materials.queries.takeoff import get_takeoff_item_for
from materials.services import ways as services
from materials.services.takeoff import Entered
from materials.takeoff.codec import to_json
from materials.takeoff.errors import MeasureAgain
from materials.views.takeoff.entry import asks_to_save, computed_now, entry_page, tried


@require_http_methods(["GET", "POST"])
@does_the_work
def new_way(request: HttpRequest, pk: int, kind: str) -> HttpResponse:
    """A way of the item's own kind starts as a copy of what is there."""
    item = get_takeoff_item_for(person_of(request), pk)
    ways = services.ways_of(item)
    like = ways.ways[ways.chosen]
    start = _as_item(item, like.kind, f"{like.name}, other way", like.inputs) if like.kind == kind else None

    def keep(entered: Entered, version: int) -> None:
        services.add_way(item=item, entered=entered, version=version, person=person_of(request))

    return _type_way(request, item, kind, start, keep)


@require_http_methods(["GET", "POST"])
@does_the_work
def edit_way(request: HttpRequest, pk: int, number: int) -> HttpResponse:
    item = get_takeoff_item_for(person_of(request), pk)
    ways = services.ways_of(item)
    if number >= len(ways.ways):
        raise Http404("There is no such way.")
    way = ways.ways[number]

    def keep(entered: Entered, version: int) -> None:
        services.change_way(
            item=item, number=number, entered=entered, version=version, person=person_of(request)
        )

    return _type_way(request, item, way.kind, _as_item(item, way.kind, way.name, way.inputs), keep)


def _as_item(item: TakeoffItem, kind: str, name: str, inputs: dict[str, Any]) -> TakeoffItem:
    return TakeoffItem(phase=item.phase, kind=kind, title=name[:120], inputs=inputs, version=item.version)


def _type_way(
    request: HttpRequest,
    item: TakeoffItem,
    kind: str,
    start: TakeoffItem | None,
    keep: Callable[[Entered, int], None],
) -> HttpResponse:
    typed = request.POST if request.method == "POST" else None
    entry = Entry(entry_kind_of(kind), typed, start, job_id=item.phase.job_id)
    if request.method == "GET":
        return entry_page(request, item.phase, entry, computed_now(start) if start else None, item)
    result = tried(entry)
    if result and asks_to_save(request) and _kept(entry, item, keep):
        return redirect(item)
    return entry_page(request, item.phase, entry, result, item)


def _kept(entry: Entry, item: TakeoffItem, keep: Callable[[Entered, int], None]) -> bool:
    entered = Entered(entry.kind.key, entry.head.cleaned_data["title"], to_json(entry.inputs()))
    try:
        keep(entered, entry.head.cleaned_data.get("version") or item.version)
    except StaleError as stale:
        entry.stale(cast(TakeoffItem, stale.stored))
        return False
    except RefusedError as refused:
        entry.form.add_error(None, str(refused))
        return False
    return True


@require_POST
@does_the_work
def take_way(request: HttpRequest, pk: int, number: int) -> HttpResponse:
    return _step(request, pk, number, services.take_way)


@require_POST
@does_the_work
def drop_way(request: HttpRequest, pk: int, number: int) -> HttpResponse:
    return _step(request, pk, number, services.drop_way)


def _step(request: HttpRequest, pk: int, number: int, service: Callable[..., TakeoffItem]) -> HttpResponse:
    item = get_takeoff_item_for(person_of(request), pk)
    try:
        service(item=item, number=number, version=item.version, person=person_of(request))
    except (RefusedError, MeasureAgain, StaleError) as refused:
        messages.error(request, str(refused))
    return redirect(item)
