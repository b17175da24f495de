"""What can be bought?"""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from materials.models import Material


@require_safe
def material_list(request: HttpRequest) -> HttpResponse:
    return render(request, "materials/list.html", {"materials": Material.objects.filter(archived_at=None)})


@require_safe
def material_detail(request: HttpRequest, pk: int) -> HttpResponse:
    return render(request, "materials/material.html", {"material": get_object_or_404(Material, pk=pk)})
