"""One press: other ways to make an item, into the quote or a change order."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from jobs.access import owner_only, person_of
from jobs.refusals import RefusedError
from materials.queries.takeoff import get_takeoff_item_for
from quotes.services import offering_ways


@require_POST
@owner_only
def offer_ways(request: HttpRequest, item_pk: int) -> HttpResponse:
    item = get_takeoff_item_for(person_of(request), item_pk)
    try:
        offered = offering_ways.offer_ways(item=item, person=person_of(request))
    except RefusedError as error:
        messages.error(request, str(error))
        return redirect(item)
    for gap in offered.gaps:
        messages.warning(request, gap)
    one = offered.count == 1
    messages.success(
        request,
        f"{offered.count} other way{'' if one else 's'} to make “{item.title}” offered as "
        f"{'an extra' if one else 'extras'}, priced over the way taken; material is before offcuts.",
    )
    return redirect(offered.quote)


@require_POST
@owner_only
def change_to_way(request: HttpRequest, item_pk: int, number: int) -> HttpResponse:
    item = get_takeoff_item_for(person_of(request), item_pk)
    try:
        order = offering_ways.change_to_way(item=item, number=number, person=person_of(request))
    except RefusedError as error:
        messages.error(request, str(error))
        return redirect(item)
    messages.success(
        request, "Drawn up at the difference to what is agreed. Take the other way once it is agreed."
    )
    return redirect(order)
