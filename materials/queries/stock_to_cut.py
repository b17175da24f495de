"""What may a plan cut from: offcuts on hand, and the sizes sold with their prices of today."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from decimal import ROUND_DOWN, Decimal

from django.utils import timezone

from materials.queries.prices import Offer, PricedSize, priced_sizes

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


def on_offer(material_ids: Collection[int]) -> dict[int, OnOffer]:
    """What each material can be cut from, offcuts first, in a fixed number of queries."""
    sizes = priced_sizes(material_ids, on=timezone.localdate())
    return {pk: _offer([size for size in sizes[pk] if size.length_mm10]) for pk in material_ids}


def _offer(sizes: Iterable[PricedSize]) -> OnOffer:
    sources = tuple(_bought(size, size.best) for size in sizes if size.best)
    return OnOffer(sources, unpriced=tuple(size for size in sizes if not size.best))


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
