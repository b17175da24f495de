"""What does one supplier sell, at which price today?"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from decimal import Decimal

from django.utils import timezone

from materials.models import Material
from materials.queries.catalogue import words_of
from materials.queries.prices import priced_sizes


@dataclass(frozen=True)
class Sold:
    """A size with its name, and the supplier's code and price."""

    words: str
    price: Decimal
    supplier_code: str


def sold_by(supplier_id: int, *, but_not: Collection[int] = ()) -> dict[int, Sold]:
    """By size, what the supplier has a price for, in three queries, ordered by kind and name."""
    materials = Material.objects.filter(archived_at=None, sizes__prices__supplier=supplier_id).distinct()
    prices = priced_sizes(None, on=timezone.localdate(), supplier_id=supplier_id)
    return {
        size.size_id: Sold(
            f"{material.name}, {words_of(material, size)}", size.best.price, size.best.supplier_code
        )
        for material in materials
        for size in prices.get(material.pk, ())
        if size.best and size.size_id not in but_not
    }
