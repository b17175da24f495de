"""What can be bought?"""

from __future__ import annotations

from collections.abc import Sequence

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.access import owner_only, person_of
from jobs.forms.versioned import Difference
from jobs.views.editing import AMISS, OVERTAKEN, FormPage, form_page
from materials.forms.catalogue import KINDS, MaterialForm, PriceForm, SizeForm
from materials.models import Material
from materials.queries.catalogue import catalogue_list, material_page
from materials.services.catalogue import add_material, archive, bring_back, change_material


@require_safe
def material_list(request: HttpRequest) -> HttpResponse:
    asked = request.GET
    found = catalogue_list(
        words=asked.get("q", "").strip(),
        kind=asked.get("kind", ""),
        archived=asked.get("archived") == "yes",
        page=asked.get("page", 1),
        on=timezone.localdate(),
    )
    return render(request, "materials/list.html", {"found": found})


@require_safe
def material_detail(request: HttpRequest, pk: int) -> HttpResponse:
    return show_material(request, get_object_or_404(Material, pk=pk))


def show_material(
    request: HttpRequest,
    material: Material,
    *,
    size_form: SizeForm | None = None,
    price_form: PriceForm | None = None,
    clash: Sequence[Difference] = (),
) -> HttpResponse:
    """The material's page, with what was typed in a form that was amiss."""
    person = person_of(request)
    page = material_page(material, on=timezone.localdate(), with_prices=person.sees_prices)
    context = {"page": page, "material": material, "clash": clash}
    if person.is_owner:
        context |= {
            "size_form": size_form or SizeForm(material=material),
            "price_form": price_form or PriceForm(material=material, size_names=page.size_names),
        }
    status = OVERTAKEN if clash else AMISS if size_form or price_form else 200
    return render(request, "materials/material.html", context, status=status)


@require_safe
@owner_only
def material_kinds(request: HttpRequest) -> HttpResponse:
    kinds = [(kind, asked.about) for kind, asked in KINDS.items()]
    return render(request, "materials/kinds.html", {"kinds": kinds})


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def material_new(request: HttpRequest, kind: str) -> HttpResponse:
    if kind not in KINDS:
        raise Http404
    form = MaterialForm(request.POST or None, kind=kind)
    page = FormPage(f"Add a {kind}", "Add it", reverse("materials:kinds"), "Kinds", above=KINDS[kind].about)
    return form_page(
        request,
        form,
        lambda: add_material(kind=kind, details=form.details, person=person_of(request)),
        page,
    )


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def material_edit(request: HttpRequest, pk: int) -> HttpResponse:
    material = get_object_or_404(Material, pk=pk)
    form = MaterialForm(request.POST or None, instance=material, kind=material.kind)
    page = FormPage(f"Edit {material.name}", "Save", material.get_absolute_url(), material.code)
    return form_page(
        request,
        form,
        lambda: change_material(
            material=material, version=form.opened_on, details=form.details, person=person_of(request)
        ),
        page,
    )


@require_POST
@owner_only
def material_archive(request: HttpRequest, pk: int) -> HttpResponse:
    material = get_object_or_404(Material, pk=pk)
    archive(thing=material, person=person_of(request))
    messages.success(request, f"{material.name} is put away; “Bring back” undoes it.")
    return redirect(material)


@require_POST
@owner_only
def material_bring_back(request: HttpRequest, pk: int) -> HttpResponse:
    material = get_object_or_404(Material, pk=pk)
    bring_back(thing=material, person=person_of(request))
    return redirect(material)
