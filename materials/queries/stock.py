"""What lies in stock, and what of it may a job use?"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.core.paginator import Page, Paginator
from django.db.models import Q, QuerySet

from jobs.lengths import System
from jobs.matching import answering
from jobs.models import Job
from jobs.money import ZERO
from jobs.workshop import current_workshop
from materials.enums import MaterialKind, StockStep
from materials.models import StockItem, StockMove
from materials.size_words import size_words

A_PAGE = 100


@dataclass(frozen=True)
class ShownItem:
    """One line of the stock list."""

    item: StockItem
    size: str
    value: Decimal


@dataclass(frozen=True)
class StockList:
    """A page of the stock as sifted; `value` is that of the page's lines."""

    rows: tuple[ShownItem, ...]
    page: Page[StockItem]
    words: str
    kind: str
    used_up: bool
    value: Decimal


@dataclass(frozen=True)
class ItemPage:
    """One thing in stock with all that came and went, and which of that can be put back."""

    item: StockItem
    size: str
    value: Decimal
    moves: Sequence[StockMove]
    can_go_back: frozenset[int]


def stock_list(*, words: str, kind: str, used_up: bool, page: str | int) -> StockList:
    """A page of the stock, in two queries."""
    kind = kind if kind in MaterialKind.values else ""
    found = Paginator(_sifted(words, kind, used_up), A_PAGE).get_page(page)
    rows = tuple(ShownItem(item, size_of(item), item.value * item.quantity) for item in found.object_list)
    return StockList(rows, found, words, kind, used_up, sum((row.value for row in rows), ZERO))


def _sifted(words: str, kind: str, used_up: bool) -> QuerySet[StockItem]:
    items = StockItem.objects.filter(used_up_at__isnull=not used_up)
    if kind:
        items = items.filter(material__kind=kind)
    items = answering(items, words, "material__name", "label", "place", "material__code")
    items = items.select_related("material", "origin_job", "reserved_for")
    return items.order_by("material__kind", "material__name", "-length_mm10", "-width_mm10", "pk")


def size_of(item: StockItem) -> str:
    """The size of one; what is only counted has none."""
    if not item.length_mm10:
        return ""
    system = System(current_workshop().measurement)
    return size_words(item.length_mm10, item.width_mm10, Decimal(1), unit="each", system=system)


def item_page(item: StockItem) -> ItemPage:
    """The thing with its moves, in two queries."""
    moves = list(item.moves.select_related("phase__job", "person"))
    undone = {move.undoes_id for move in moves}
    can_go_back = frozenset(m.pk for m in moves if m.step == StockStep.TAKEN and m.pk not in undone)
    return ItemPage(item, size_of(item), item.value * item.quantity, moves, can_go_back)


def stock_for(material_ids: Collection[int], job: Job) -> dict[int, list[StockItem]]:
    """What a job may use of each material, in one query: not used up, and not kept for another job.

    What is kept for this very job comes first, then the smallest, so that small offcuts go before large.
    """
    items = StockItem.objects.filter(
        Q(reserved_for=None) | Q(reserved_for=job), material__in=material_ids, used_up_at=None
    )
    found: dict[int, list[StockItem]] = defaultdict(list)
    for item in items:
        found[item.material_id].append(item)
    for of_material in found.values():
        of_material.sort(
            key=lambda item: (
                item.reserved_for_id is None,
                item.length_mm10 or 0,
                item.width_mm10 or 0,
                item.pk,
            )
        )
    return dict(found)
