"""Small calculators for the desk: will it bend, and how much will it move?"""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from materials.forms.takeoff.desk import BendForm, KerfForm, MovementForm


@require_safe
def bending(request: HttpRequest) -> HttpResponse:
    asked = request.GET or None
    bend = BendForm(asked)
    kerf = KerfForm(asked if asked and "degrees" in asked else None)
    page = {"form": bend, "bend": bend.answer(), "kerf_form": kerf, "kerfs": kerf.answer()}
    return render(request, "materials/takeoff/bending.html", page)


@require_safe
def movement(request: HttpRequest) -> HttpResponse:
    form = MovementForm(request.GET or None)
    return render(request, "materials/takeoff/movement.html", {"form": form, "answer": form.answer()})
