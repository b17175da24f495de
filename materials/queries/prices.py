"""What does each size of a material cost today, and at whom?"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import F, Window
from django.db.models.functions import RowNumber

from materials.models import Price, StockSize


@dataclass(frozen=True)
class Offer:
    """What one supplier asks for one size, without tax."""

    supplier_id: int
    supplier: str
    supplier_code: str
    price: Decimal
    from_date: date


@dataclass(frozen=True)
class PricedSize:
    """A stock size with the offers that hold on the day, the cheapest first."""

    size_id: int
    material_id: int
    length_mm10: int | None
    width_mm10: int | None
    pack_quantity: Decimal
    offers: tuple[Offer, ...]

    @property
    def best(self) -> Offer | None:
        """The cheapest offer; among equals the supplier first by name."""
        return self.offers[0] if self.offers else None

    @property
    def price(self) -> Decimal | None:
        """What the whole pack costs at its best."""
        return self.offers[0].price if self.offers else None

    @property
    def price_of_one(self) -> Decimal | None:
        """What one unit of the pack costs, not rounded."""
        return self.offers[0].price / self.pack_quantity if self.offers else None


def priced_sizes(
    material_ids: Iterable[int] | None, *, on: date, supplier_id: int | None = None
) -> dict[int, tuple[PricedSize, ...]]:
    """The sizes in use of each material with the prices that hold on a day, in two queries.

    A supplier's newest price up to that day holds. Archived sizes and archived suppliers are left out; with
    `supplier_id` only that supplier's prices count. A named material without a size has an empty entry;
    None stands for the whole catalogue.
    """
    wanted = None if material_ids is None else set(material_ids)
    if wanted is not None and not wanted:
        return {}
    offers = _offers_by_size(wanted, on, supplier_id)
    sizes = StockSize.objects.filter(archived_at=None)
    found: dict[int, list[PricedSize]] = {pk: [] for pk in wanted or ()}
    for size in sizes if wanted is None else sizes.filter(material__in=wanted):
        found.setdefault(size.material_id, []).append(
            PricedSize(
                size_id=size.pk,
                material_id=size.material_id,
                length_mm10=size.length_mm10,
                width_mm10=size.width_mm10,
                pack_quantity=size.pack_quantity,
                offers=tuple(offers.get(size.pk, ())),
            )
        )
    return {pk: tuple(sizes) for pk, sizes in found.items()}


def _offers_by_size(wanted: set[int] | None, on: date, supplier_id: int | None) -> dict[int, list[Offer]]:
    prices = Price.objects.filter(from_date__lte=on, supplier__archived_at=None)
    if wanted is not None:
        prices = prices.filter(size__material__in=wanted)
    if supplier_id is not None:
        prices = prices.filter(supplier=supplier_id)
    newest_first = Window(
        RowNumber(), partition_by=[F("size"), F("supplier")], order_by=F("from_date").desc()
    )
    offers: dict[int, list[Offer]] = defaultdict(list)
    for price in prices.annotate(age=newest_first).filter(age=1).select_related("supplier").order_by():
        offers[price.size_id].append(
            Offer(price.supplier_id, price.supplier.name, price.supplier_code, price.price, price.from_date)
        )
    for of_size in offers.values():
        of_size.sort(key=lambda offer: (offer.price, offer.supplier))
    return offers
