"""What is still to be bought for a job: its buy list, less what is ordered and what lies in stock."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from django.db.models import Count, Sum
from django.utils import timezone

from jobs.models import Job
from jobs.money import ZERO, round_money
from jobs.workshop import current_workshop
from materials.enums import CUT_AS, StockStep
from materials.models import OrderLine, SawnStock, StockMove
from materials.queries.catalogue import words_of
from materials.queries.material_lines import BuyLine, JobMaterials
from materials.queries.plans import material_of_job
from materials.queries.prices import PricedSize, priced_sizes
from materials.queries.stock import stock_for
from materials.takeoff.packs import choose_packs, whole_packs
from materials.takeoff.specs import PackSize


@dataclass(frozen=True)
class Wanted:
    """So many packs of one size to order. `weights` says in which proportion the phases bear it."""

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

    @property
    def cost(self) -> Decimal:
        return round_money(self.price * self.count, current_workshop().currency)


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
class PurchaseList:
    """The purchase list of a job. `covered` names what is ordered or in stock already."""

    job: Job
    suppliers: tuple[SupplierList, ...]
    covered: tuple[Wanted, ...]
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
    sizes = {size.size_id: size for of_material in prices.values() for size in of_material}
    needs = _by_size(_less_stock(job, found, prices))
    ordered = _available_of_orders(job, sizes)
    wanted = [_wanted(line, ordered.get(line.size_id, ZERO), sizes.get(line.size_id)) for line in needs]
    by_supplier: dict[int, list[Wanted]] = defaultdict(list)
    for one in sorted(wanted, key=lambda one: (one.supplier, one.name, one.size)):
        if one.count > 0:
            by_supplier[one.supplier_id].append(one)
    return PurchaseList(
        job=job,
        suppliers=tuple(SupplierList(pk, of[0].supplier, tuple(of)) for pk, of in by_supplier.items()),
        covered=tuple(one for one in wanted if one.count <= 0),
        gaps=found.gaps,
    )


@dataclass(frozen=True)
class _Need:
    """A buy line after stock; `in_stock` says what stock gave."""

    line: BuyLine
    count: Decimal
    in_stock: str = ""

    @property
    def size_id(self) -> int:
        return self.line.size_id

    def joined(self, other: _Need) -> _Need:
        """Both needs of one size, at the other's supplier and price."""
        mine, theirs = self.line.shares, other.line.shares
        shares = {pk: mine.get(pk, ZERO) + theirs.get(pk, ZERO) for pk in {**mine, **theirs}}
        said = ", ".join(words for words in (self.in_stock, other.in_stock) if words)
        return _Need(replace(other.line, shares=shares), self.count + other.count, said)


def _by_size(needs: Iterable[_Need]) -> Iterable[_Need]:
    """One need of each size, also of one that is planned and counted besides: what is on order serves once.

    What is planned comes first, at the price of when it was planned; so the later one has today's.
    """
    found: dict[int, _Need] = {}
    for need in needs:
        there = found.get(need.size_id)
        found[need.size_id] = there.joined(need) if there else need
    return found.values()


def _less_stock(job: Job, found: JobMaterials, prices: Mapping[int, tuple[PricedSize, ...]]) -> list[_Need]:
    """Boards and sheets are planned from stock already; packs are bought for what stock does not hold."""
    needs = [_Need(line, Decimal(line.count)) for line in found.to_buy if line.material.kind in CUT_AS]
    by_pack: dict[int, list[BuyLine]] = defaultdict(list)
    for line in found.to_buy:
        if line.material.kind not in CUT_AS:
            by_pack[line.material.pk].append(line)
    used: dict[int, Decimal] = defaultdict(Decimal)
    for use in found.lines:
        used[use.material.pk] += use.quantity
    stock = _amounts_in_stock(job, by_pack)
    for pk, lines in by_pack.items():
        needs += _packs(lines, used[pk], stock.get(pk, ZERO), prices[pk])
    return needs


def _amounts_in_stock(job: Job, material_ids: Iterable[int]) -> dict[int, Decimal]:
    """How much of each material lies in stock for the job, with what it has taken from there already."""
    amounts: dict[int, Decimal] = defaultdict(Decimal)
    for pk, items in stock_for(list(material_ids), job).items():
        amounts[pk] += sum((item.quantity for item in items), ZERO)
    moves = StockMove.objects.filter(
        phase__job=job, step__in=[StockStep.TAKEN, StockStep.BACK], item__material__in=list(material_ids)
    )
    for row in moves.values("item__material").annotate(total=Sum("quantity")):
        amounts[row["item__material"]] -= row["total"]
    return amounts


def _packs(
    lines: list[BuyLine], needed: Decimal, in_stock: Decimal, sizes: tuple[PricedSize, ...]
) -> list[_Need]:
    if in_stock <= 0:
        return [_Need(line, Decimal(line.count)) for line in lines]
    first = lines[0]
    said = f"{min(in_stock, needed).normalize():f} {first.material.unit} in stock"
    if in_stock >= needed:
        return [_Need(line, ZERO, said) for line in lines]
    priced = {PackSize(size.pack_quantity, size.price): size for size in sizes if size.best}
    chosen = choose_packs(needed - in_stock, tuple(priced))
    return [_Need(_of_size(first, priced[pack]), Decimal(count), said) for pack, count in chosen]


def _of_size(line: BuyLine, size: PricedSize) -> BuyLine:
    """The same need in another size of the material."""
    assert size.best is not None
    return BuyLine(
        material=line.material,
        size_id=size.size_id,
        words=words_of(line.material, size),
        count=1,
        price=size.best.price,
        cost=size.best.price,
        supplier_id=size.best.supplier_id,
        supplier=size.best.supplier,
        shares=line.shares,
    )


def _available_of_orders(job: Job, sizes: Mapping[int, PricedSize]) -> dict[int, Decimal]:
    """Packs of each size that are ordered or received for the job and not yet begun at the saw."""
    available: dict[int, Decimal] = defaultdict(Decimal)
    for line in OrderLine.objects.filter(order__job=job).select_related("order"):
        open_order = line.order.is_draft or line.order.is_coming
        available[line.size_id] += line.quantity if open_order else line.received
    sawn = SawnStock.objects.filter(plan__job=job).exclude(size=None)
    for row in sawn.values("size").annotate(pieces=Count("pk")):
        pack = sizes[row["size"]].pack_quantity if row["size"] in sizes else Decimal(1)
        begun = whole_packs(Decimal(row["pieces"]), pack)
        available[row["size"]] = max(ZERO, available[row["size"]] - begun)
    return dict(available)


def _wanted(need: _Need, ordered: Decimal, size: PricedSize | None) -> Wanted:
    line = need.line
    offers = size.offers if size else ()
    code = next((offer.supplier_code for offer in offers if offer.supplier_id == line.supplier_id), "")
    return Wanted(
        material_id=line.material.pk,
        name=line.material.name,
        size_id=line.size_id,
        size=line.words,
        count=max(ZERO, need.count - ordered),
        price=line.price,
        supplier_id=line.supplier_id,
        supplier=line.supplier,
        supplier_code=code,
        weights=line.shares,
        needed=need.count,
        ordered=min(ordered, need.count),
        in_stock=need.in_stock,
    )
