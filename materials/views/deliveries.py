"""A delivery that was booked in by mistake is taken back, with a reason."""

from __future__ import annotations

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_http_methods

from jobs.access import person_of
from jobs.forms.sheets import ReasonForm
from jobs.models import Person
from jobs.views.editing import FormPage, form_page
from materials.models import Delivery, Order
from materials.services.taking_back import may_take_back, take_back

MEANS = (
    "The goods count as still to come, what they cost is reversed, and what was committed for them returns. "
    "A receipt logged at the bench stays among the costs, and a price kept for the catalogue stays there."
)


@require_http_methods(["GET", "HEAD", "POST"])
def delivery_take_back(request: HttpRequest, pk: int) -> HttpResponse:
    person = person_of(request)
    delivery = get_delivery_for(person, pk)
    day = f"{delivery.on_date:%-d %B %Y}"
    form = ReasonForm(request.POST or None)

    def save() -> Order:
        order = take_back(delivery=delivery, person=person, reason=form.cleaned_data["reason"])
        messages.success(request, f"Taken back: the delivery of {day} counts no longer.")
        return order

    came = "; ".join(f"{one.quantity.normalize():f} × {one.line.words}" for one in delivery.lines.all())
    page = FormPage(
        title=f"Take back the delivery of {day}",
        act="Take it back",
        back=delivery.order.get_absolute_url(),
        back_to=str(delivery.order),
        above=f"{came}. {MEANS}",
    )
    return form_page(request, form, save, page)


def get_delivery_for(person: Person, pk: int) -> Delivery:
    """The delivery, for whoever may take it back."""
    found = Delivery.objects.select_related("order").prefetch_related("lines__line")
    delivery = get_object_or_404(found, pk=pk)
    if not may_take_back(person, delivery):
        raise PermissionDenied
    return delivery
