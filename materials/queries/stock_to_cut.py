"""What may a plan cut from: offcuts on hand, and the sizes sold with their prices of today."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from decimal import ROUND_DOWN, Decimal

from django.utils import timezone

from jobs.models import Job
from materials.models import StockItem
from materials.queries.prices import Offer, PricedSize, priced_sizes
from materials.queries.stock import size_of, stock_for

SMALLEST = Decimal("0.0001")


@dataclass(frozen=True)
class Source:
    """One size of stock: bought from a supplier at a price, or lying on the rack (`offcut` is its row).

    `price` is that of a pack; most boards and sheets are sold singly, in a pack of one.
    """

    length_mm10: int
    width_mm10: int
    price: Decimal
    pack: Decimal = Decimal(1)
    size: int | None = None
    supplier: int | None = None
    supplier_name: str = ""
    offcut: int | None = None
    label: str = ""
    quantity: int | None = None

    @property
    def price_of_one(self) -> Decimal:
        """One piece's share of the pack, rounded down so that a bound counted in it stays a bound."""
        return (self.price / self.pack).quantize(SMALLEST, rounding=ROUND_DOWN)


@dataclass(frozen=True)
class OnOffer:
    """All that one material can be cut from, and the sizes left out because nobody has named a price."""

    sources: tuple[Source, ...] = ()
    unpriced: tuple[PricedSize, ...] = ()


def on_offer(material_ids: Collection[int], job: Job) -> dict[int, OnOffer]:
    """What each material can be cut from for a job, offcuts first, in three queries."""
    sizes = priced_sizes(material_ids, on=timezone.localdate())
    on_hand = stock_for(material_ids, job)
    return {
        pk: _offer(on_hand.get(pk, ()), [size for size in sizes[pk] if size.length_mm10])
        for pk in material_ids
    }


def _offer(on_hand: Iterable[StockItem], sizes: Iterable[PricedSize]) -> OnOffer:
    lying = tuple(_lying(item) for item in on_hand if item.length_mm10 and item.quantity >= 1)
    bought = tuple(_bought(size, size.best) for size in sizes if size.best)
    return OnOffer((*lying, *bought), unpriced=tuple(size for size in sizes if not size.best))


def _lying(item: StockItem) -> Source:
    """What lies in stock, at what it is worth there: taking it costs the job that much."""
    return Source(
        length_mm10=item.length_mm10 or 0,
        width_mm10=item.width_mm10 or 0,
        price=item.value,
        offcut=item.pk,
        label=f"{item.label}, {size_of(item)}",
        quantity=int(item.quantity),
    )


def _bought(size: PricedSize, offer: Offer) -> Source:
    """A size at its cheapest."""
    return Source(
        length_mm10=size.length_mm10 or 0,
        width_mm10=size.width_mm10 or 0,
        price=offer.price,
        pack=size.pack_quantity,
        size=size.size_id,
        supplier=offer.supplier_id,
        supplier_name=offer.supplier,
    )
