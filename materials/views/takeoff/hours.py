"""How long does the workshop take for one of each?"""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from jobs.access import owner_only, person_of
from materials.forms.takeoff.hours import OperationHoursForm
from materials.queries.rates import labour_rates, learnt_hours
from materials.services.rates import set_rates


@require_http_methods(["GET", "POST"])
@owner_only
def operation_hours(request: HttpRequest) -> HttpResponse:
    form = OperationHoursForm(request.POST or None, rates=labour_rates(), learnt=learnt_hours())
    if request.method == "POST" and form.is_valid():
        hours, factors = form.rates()
        set_rates(hours=hours, factors=factors, person=person_of(request))
        messages.success(request, "The workshop reckons by these hours now.")
        return redirect("materials:operation-hours")
    return render(request, "materials/takeoff/hours.html", {"form": form})
