"""How do a take-off's drawing and its figures get onto a page?"""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import template

from materials.takeoff.drawing import Drawing
from materials.takeoff.figures import plain
from materials.takeoff.mass import WEIGH_IT
from materials.takeoff.paper import lay_on_paper

register = template.Library()


@register.inclusion_tag("materials/takeoff/drawing.html")
def takeoff_drawing(drawing: Drawing | None) -> dict[str, Any]:
    """The drawing as lines on paper, or nothing where there is none."""
    return {"sheet": lay_on_paper(drawing) if drawing else None}


@register.inclusion_tag("materials/takeoff/weigh.html")
def weigh(mass_kg: Decimal | None) -> dict[str, Any]:
    """The caution that stands wherever a mass is shown."""
    return {"weigh_it": WEIGH_IT if mass_kg is not None else ""}


@register.filter
def figure(value: Decimal | int | None, places: int = 3) -> str:
    """A number with no idle zeros, as in the working."""
    return "" if value is None else plain(value, places)
