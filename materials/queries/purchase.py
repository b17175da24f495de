"""What is still to be bought for a job: its buy list, less what is ordered and what lies in stock."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from django.utils import timezone

from jobs.models import Job
from jobs.money import ZERO, round_money
from jobs.workshop import current_workshop
from materials.enums import CUT_AS
from materials.models import StockSize
from materials.purchasing.bearing import lacking, spread, together
from materials.queries.already_there import Pile, in_stock, on_order
from materials.queries.by_amount import Asked
from materials.queries.catalogue import words_of
from materials.queries.material_lines import BuyLine, JobMaterials
from materials.queries.plans import material_of_job
from materials.queries.prices import PricedSize, priced_sizes
from materials.takeoff.figures import plain, with_unit
from materials.takeoff.result import Unit


@dataclass(frozen=True)
class Wanted:
    """So many packs of one size to order. `weights` says in which proportion the phases bear it.

    `said` is how an amount was turned into so many pieces, `in_stock` what stock gives towards it.
    """

    material_id: int
    name: str
    size_id: int
    size: str
    count: Decimal
    price: Decimal
    supplier_id: int
    supplier: str
    supplier_code: str
    weights: Mapping[int, Decimal]
    needed: Decimal
    ordered: Decimal
    in_stock: str = ""
    said: str = ""

    @property
    def cost(self) -> Decimal:
        return round_money(self.price * self.count, current_workshop().currency)

    @property
    def covered_by(self) -> str:
        """What makes buying more of it needless."""
        ordered = f"{plain(self.ordered)} ordered" if self.ordered else ""
        return ", ".join(filter(None, (ordered, self.in_stock)))


@dataclass(frozen=True)
class SupplierList:
    """What is to be ordered at one supplier."""

    supplier_id: int
    supplier: str
    lines: tuple[Wanted, ...]

    @property
    def cost(self) -> Decimal:
        return sum((line.cost for line in self.lines), ZERO)


@dataclass(frozen=True)
class Idle:
    """So many packs that are drafted, coming or here for the job, which its cutting plan does not use."""

    words: str
    packs: Decimal


@dataclass(frozen=True)
class PurchaseList:
    """The purchase list of a job. `covered` names what is ordered or in stock, `idle` what is too much."""

    job: Job
    suppliers: tuple[SupplierList, ...]
    covered: tuple[Wanted, ...]
    idle: tuple[Idle, ...]
    gaps: tuple[str, ...]

    @property
    def cost(self) -> Decimal:
        return sum((one.cost for one in self.suppliers), ZERO)

    def at(self, supplier_id: int) -> tuple[Wanted, ...]:
        """What is to be ordered at one supplier; nothing where all is covered."""
        return next((one.lines for one in self.suppliers if one.supplier_id == supplier_id), ())


def purchase_list(job: Job) -> PurchaseList:
    """What is to be bought, in a fixed number of queries."""
    found = material_of_job(job)
    prices = priced_sizes({line.material.pk for line in found.to_buy}, on=timezone.localdate())
    orders = on_order(job)
    needs = [_planned(line, orders) for line in found.planned]
    asked = [one for one in found.asked if one.choose(one.total, prices.get(one.material.pk, ()))]
    stock = in_stock(job, {one.material.pk for one in asked}, found.from_rack)
    for one in sorted(asked, key=lambda one: one.unit == Unit.EACH):  # any piece serves what is counted
        needs += _by_amount(one, stock.get(one.material.pk, []), orders, prices[one.material.pk])
    wanted = [_wanted(need, prices) for need in _by_size(needs)]
    by_supplier: dict[int, list[Wanted]] = defaultdict(list)
    for row in sorted(wanted, key=lambda row: (row.supplier, row.name, row.size)):
        if row.count > 0:
            by_supplier[row.supplier_id].append(row)
    return PurchaseList(
        job=job,
        suppliers=tuple(SupplierList(pk, of[0].supplier, tuple(of)) for pk, of in by_supplier.items()),
        covered=tuple(row for row in wanted if row.count <= 0),
        idle=tuple(_idle(found, orders)),
        gaps=found.gaps,
    )


def _idle(found: JobMaterials, orders: Mapping[int, Pile]) -> Iterable[Idle]:
    """What is left on order of the boards and sheets that have a plan, once every need has taken its own."""
    planned = {line.material.pk for line in found.lines if line.is_cut and line.cost is not None}
    for pile in orders.values():
        if pile.sold and pile.sold.material_id in planned and pile.packs > 0:
            yield Idle(pile.words, pile.packs)


@dataclass(frozen=True)
class _Need:
    """So many packs of a size, of which some are on order; what stock gives is in neither, but said."""

    line: BuyLine
    packs: Decimal
    ordered: Decimal
    in_stock: str = ""

    @property
    def count(self) -> Decimal:
        """Packs still to be ordered, which the phases bear in the proportion of the line's shares."""
        return self.packs - self.ordered

    def joined(self, other: _Need) -> _Need:
        """Both needs of one size, at the other's supplier and price where it has them."""
        shares = together(spread(self.count, self.line.shares), spread(other.count, other.line.shares))
        line = other.line if other.line.supplier_id else self.line
        line = replace(line, shares=shares, said=other.line.said or self.line.said)
        said = ", ".join(filter(None, dict.fromkeys((self.in_stock, other.in_stock))))
        return _Need(line, self.packs + other.packs, self.ordered + other.ordered, said)


def _by_size(needs: Iterable[_Need]) -> Iterable[_Need]:
    """One need of each size, also of one that is planned and counted besides.

    What is planned comes first, at the price of when it was planned; so the later one has today's.
    """
    found: dict[tuple[int, int], _Need] = {}
    for need in needs:
        size = (need.line.material.pk, need.line.size_id)
        found[size] = found[size].joined(need) if size in found else need
    return found.values()


def _planned(line: BuyLine, orders: Mapping[int, Pile]) -> _Need:
    """Boards and sheets are planned from stock already; on order, only their very size serves a plan."""
    count, there = Decimal(line.count), orders.get(line.size_id)
    if not there:
        return _Need(line, count, ZERO)
    given = there.give(count)
    shares = lacking(spread(count, line.shares), spread(given, there.borne))
    return _Need(replace(line, shares=shares), count, given)


def _by_amount(
    asked: Asked, stock: Sequence[Pile], orders: Mapping[int, Pile], sizes: Sequence[PricedSize]
) -> list[_Need]:
    """What neither stock nor orders of any size hold is bought in the packs that are cheapest for that."""
    is_cut = asked.material.kind in CUT_AS
    poured = ZERO if is_cut else _poured(asked, stock)
    piles = [pile for pile in stock if is_cut and pile.is_whole(sizes)]
    piles += [pile for pile in orders.values() if pile.sold and pile.sold.material_id == asked.material.pk]
    taken = _gathered(asked, asked.total - poured, piles)
    short = asked.total - poured - sum((one.amount for one in taken), ZERO)
    ordered = [spread(one.amount, one.pile.borne) for one in taken if one.pile.sold]
    shares = lacking(asked.by_phase, together(*ordered))
    pieces = sum((one.packs for one in taken if not one.pile.sold), ZERO)
    said = f"{plain(pieces)} in stock" if pieces else ""
    said = f"{with_unit(plain(poured), asked.material.unit)} in stock" if poured else said
    needs = [_Need(_line(asked, one.pile.sold), one.packs, one.packs, said) for one in taken if one.pile.sold]
    for size, count in asked.choose(short, sizes):
        line = replace(_line(asked, size), shares=shares, said=asked.said(sizes))
        needs.append(_Need(line, Decimal(count), ZERO, said))
    return needs or [_Need(_line(asked), ZERO, ZERO, said)]


def _poured(asked: Asked, stock: Iterable[Pile]) -> Decimal:
    """What stock gives of a thing that is not cut."""
    there = sum((pile.packs for pile in stock), ZERO) if asked.is_own_unit else ZERO
    return min(max(there, ZERO), asked.total)


@dataclass(frozen=True)
class _Taken:
    """So many packs of a pile, and how much of what is asked for they hold."""

    pile: Pile
    packs: Decimal
    amount: Decimal


def _gathered(asked: Asked, short: Decimal, piles: Iterable[Pile]) -> list[_Taken]:
    """What there is towards what is short.

    It is of as few packs as can be, so that most are left for what else is asked for: of the smallest that
    holds all that is short, or as many as go into it of the largest.
    """
    taken = []
    held = [(asked.held_by(pile.size) or ZERO, pile) for pile in piles]
    there = sorted([one for one in held if one[0] and one[1].packs > 0], key=lambda one: one[0])
    while short > 0 and there:
        holds, pile = next((one for one in there if one[0] >= short), there[-1])
        packs = pile.give(max(Decimal(1), short // holds))
        taken.append(_Taken(pile, packs, holds * packs))
        short -= holds * packs
        there = [one for one in there if one[1].packs > 0]
    return taken


def _line(asked: Asked, size: PricedSize | StockSize | None = None) -> BuyLine:
    """The need in one size; what needs no more buying has no price, and in stock no size either."""
    offer = size.best if isinstance(size, PricedSize) else None
    return BuyLine(
        material=asked.material,
        size_id=(size.size_id if isinstance(size, PricedSize) else size.pk) if size else 0,
        words=words_of(asked.material, size) if size else "",
        count=0,
        price=offer.price if offer else ZERO,
        cost=ZERO,
        supplier_id=offer.supplier_id if offer else 0,
        supplier=offer.supplier if offer else "",
        shares=asked.by_phase,
    )


def _wanted(need: _Need, prices: Mapping[int, Sequence[PricedSize]]) -> Wanted:
    line = need.line
    sizes = {size.size_id: size.offers for size in prices.get(line.material.pk, ())}
    offers = sizes.get(line.size_id, ())
    code = next((offer.supplier_code for offer in offers if offer.supplier_id == line.supplier_id), "")
    return Wanted(
        material_id=line.material.pk,
        name=line.material.name,
        size_id=line.size_id,
        size=line.words,
        count=need.count,
        price=line.price,
        supplier_id=line.supplier_id,
        supplier=line.supplier,
        supplier_code=code,
        weights=line.shares,
        needed=need.packs,
        ordered=need.ordered,
        in_stock=need.in_stock,
        said=line.said,
    )
