"""How do a take-off's drawing and its figures get onto a page?"""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import template

from materials.takeoff.drawing import Drawing
from materials.takeoff.figures import plain
from materials.takeoff.paper import lay_on_paper

register = template.Library()


@register.inclusion_tag("materials/takeoff/drawing.html")
def takeoff_drawing(drawing: Drawing | None) -> dict[str, Any]:
    """The drawing as lines on paper, or nothing where there is none."""
    return {"sheet": lay_on_paper(drawing) if drawing else None}


@register.filter
def figure(value: Decimal | int | None, places: int = 3) -> str:
    """A number with no idle zeros, as in the working."""
    return "" if value is None else plain(value, places)
