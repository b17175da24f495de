"""What of the material that a job needs is on order already, or in stock?"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from django.db.models import Count, Sum

from jobs.models import Job
from jobs.money import ZERO
from materials.enums import StockStep
from materials.models import OrderLine, SawnStock, StockMove, StockSize
from materials.purchasing.bearing import spread, together
from materials.queries.by_amount import Measured
from materials.queries.stock import stock_for
from materials.takeoff.packs import whole_packs


@dataclass(frozen=True)
class Lying:
    """The size of a piece in stock."""

    length_mm10: int | None
    width_mm10: int | None
    pack_quantity: Decimal = Decimal(1)


@dataclass
class Pile:
    """So much of one size as is there for the job and not spoken for yet; it shrinks as needs are met.

    On order it is counted in packs of a size that is `sold`, and phases bear it in the proportion of `borne`.
    In stock it is counted in pieces, or in the material's unit.
    """

    size: Measured
    packs: Decimal
    sold: StockSize | None = None
    words: str = ""
    borne: Mapping[int, Decimal] = field(default_factory=dict)

    def give(self, packs: Decimal) -> Decimal:
        """So many of it, or what there is."""
        given = max(ZERO, min(packs, self.packs))
        self.packs -= given
        return given

    def is_whole(self, sizes: Iterable[Measured]) -> bool:
        """Is it as large as a size that is sold? An offcut is not: nothing says whether it would do."""
        return any(
            (self.size.length_mm10 or 0) >= (size.length_mm10 or 0)
            and (self.size.width_mm10 or 0) >= (size.width_mm10 or 0)
            for size in sizes
        )


def on_order(job: Job) -> dict[int, Pile]:
    """By size, what is drafted, coming or here for the job, and not begun at the saw; three queries."""
    piles: dict[int, Pile] = {}
    lines = OrderLine.objects.filter(order__job=job).select_related("order", "size")
    for line in lines.prefetch_related("shares"):
        packs = line.quantity if line.order.is_draft or line.order.is_coming else line.received
        pile = piles.setdefault(line.size_id, Pile(line.size, ZERO, line.size, line.words))
        pile.packs += packs
        shares = {share.phase_id: share.amount for share in line.shares.all()}
        pile.borne = together(pile.borne, spread(packs, shares))
    sawn = SawnStock.objects.filter(plan__job=job).exclude(size=None).order_by()
    begun = sawn.values_list("size", "size__pack_quantity").annotate(pieces=Count("pk"))
    for size, pack, pieces in begun:
        if size in piles:
            piles[size].give(Decimal(whole_packs(Decimal(pieces), pack)))
    return piles


def in_stock(job: Job, material_ids: Iterable[int], from_rack: Mapping[int, int]) -> dict[int, list[Pile]]:
    """By material, what lies in stock or was taken from there for the job; two queries.

    What the plans take is left out, be it still on the rack or cut already.
    """
    ids = list(material_ids)
    piles: dict[int, list[Pile]] = defaultdict(list)
    for pk, items in stock_for(ids, job).items():
        for item in items:
            free = item.quantity - from_rack.get(item.pk, 0)
            piles[pk].append(Pile(Lying(item.length_mm10, item.width_mm10), free))
    at_the_saw = SawnStock.objects.filter(plan__job=job).exclude(taken=None).values("taken")
    moves = StockMove.objects.filter(
        phase__job=job, step__in=[StockStep.TAKEN, StockStep.BACK], item__material__in=ids
    ).exclude(pk__in=at_the_saw)
    of_item = moves.order_by().values_list("item__material", "item__length_mm10", "item__width_mm10")
    for pk, length, width, total in of_item.annotate(total=Sum("quantity")):
        piles[pk].append(Pile(Lying(length, width), -total))
    return dict(piles)
