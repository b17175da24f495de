"""Keep stock: bring in what is left over or found, take it to a phase at its value, put it back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any
from uuid import UUID, uuid5

from django.db import transaction
from django.utils import timezone

from jobs.enums import CostKind, CostSource
from jobs.models import CostEntry, Job, Person, Phase
from jobs.money import round_money
from jobs.numbering import next_number
from jobs.refusals import RefusedError
from jobs.services.costs import Spent, log_cost
from jobs.services.hours import Work
from jobs.versions import save_edit
from jobs.workshop import current_workshop
from materials.enums import StockSource, StockStep
from materials.models import Material, StockItem, StockMove

_COSTS = UUID("5b0f3c8e-6a0d-4d0a-9a55-2f6f0f7c1a2e")
"""The space in which a move's key makes its cost's key, so that neither is written twice."""


@dataclass(frozen=True)
class NewStock:
    """A thing to be brought in: pieces of a size, or an amount in the material's unit; `value` is of one."""

    material: Material
    quantity: Decimal
    length_mm10: int | None = None
    width_mm10: int | None = None
    value: Decimal = Decimal(0)
    place: str = ""
    source: str = StockSource.HAND
    source_ref: str = ""
    origin_job: Job | None = None
    notes: str = ""


@transaction.atomic
def bring_in(*, new: NewStock, person: Person, key: UUID) -> StockItem:
    """It lies in stock under a label of its own. The same key again is the same thing."""
    if same := StockMove.objects.filter(key=key).select_related("item").first():
        return same.item
    item = StockItem(label=f"K-{next_number('stock'):04d}", **vars(new))
    item.full_clean()
    item.save(force_insert=True)
    StockMove.objects.create(key=key, item=item, step=StockStep.IN, quantity=new.quantity, person=person)
    return item


@dataclass(frozen=True)
class Leftover:
    """What a sawn bar or sheet leaves. `ref` names the piece of its plan, so that it comes in once."""

    ref: str
    material: Material
    length_mm10: int
    width_mm10: int | None = None
    quantity: int = 1
    value: Decimal = Decimal(0)
    phase: Phase | None = None


@transaction.atomic
def bring_in_leftovers(
    *, job: Job, leftovers: Sequence[Leftover], person: Person, place: str = ""
) -> list[StockItem]:
    """What the maker confirms is in stock, each piece once; what came in before is passed over.

    A leftover with a value takes that off the cost of its phase, or the offcut would be paid for twice: by
    the job that bought the board, and by the job that uses it.
    """
    known = set(
        StockItem.objects.filter(source_ref__in=[one.ref for one in leftovers]).values_list(
            "source_ref", flat=True
        )
    )
    items = []
    for one in leftovers:
        if one.ref in known:
            continue
        key = uuid5(_COSTS, f"leftover {one.ref}")
        new = NewStock(
            material=one.material,
            quantity=Decimal(one.quantity),
            length_mm10=one.length_mm10,
            width_mm10=one.width_mm10,
            value=one.value,
            place=place,
            source=StockSource.LEFTOVER,
            source_ref=one.ref,
            origin_job=job,
        )
        items.append(item := bring_in(new=new, person=person, key=key))
        if one.phase:
            _log(item, one.phase, -item.value * item.quantity, key, person)
    return items


@transaction.atomic
def take(*, item: StockItem, quantity: Decimal, phase: Phase, person: Person, key: UUID) -> StockMove:
    """So many are out of stock, and the phase bears their value. The same key again is the same taking.

    Refused for more than there is, and for what is reserved for another job.
    """
    item = StockItem.objects.select_for_update().get(pk=item.pk)
    if same := StockMove.objects.filter(key=key).first():
        return same
    if quantity <= 0:
        raise RefusedError("Take more than nothing.")
    if quantity > item.quantity:
        raise RefusedError(f"There are only {item.quantity.normalize():f} of {item.label}.")
    if item.reserved_for_id not in (None, phase.job_id):
        raise RefusedError(f"{item.label} is reserved for job {item.reserved_for}.")
    cost = _log(item, phase, item.value * quantity, key, person)
    move = StockMove.objects.create(
        key=key,
        item=item,
        step=StockStep.TAKEN,
        quantity=-quantity,
        phase=phase,
        cost_entry=cost,
        person=person,
    )
    _change(item, -quantity)
    return move


@transaction.atomic
def put_back(*, move: StockMove, person: Person, key: UUID) -> StockMove:
    """What was taken lies in stock again, and the phase no longer bears it. Put back once only."""
    item = StockItem.objects.select_for_update().get(pk=move.item_id)
    if same := StockMove.objects.filter(key=key).first():
        return same
    if move.step != StockStep.TAKEN or move.phase is None:
        raise RefusedError("Only what was taken to a phase can be put back.")
    if StockMove.objects.filter(undoes=move).exists():
        raise RefusedError("That was put back already.")
    paid = move.cost_entry.net if move.cost_entry else Decimal(0)
    cost = _log(item, move.phase, -paid, key, person)
    back = StockMove.objects.create(
        key=key, item=item, step=StockStep.BACK, quantity=-move.quantity, phase=move.phase,
        cost_entry=cost, undoes=move, person=person,
    )  # fmt: skip
    _change(item, -move.quantity)
    return back


@transaction.atomic
def count_again(*, item: StockItem, quantity: Decimal, reason: str, person: Person, key: UUID) -> StockItem:
    """There are so many, as counted, whatever the book said; nothing counted means it is used up or gone."""
    item = StockItem.objects.select_for_update().get(pk=item.pk)
    if StockMove.objects.filter(key=key).exists() or quantity == item.quantity:
        return item
    if quantity < 0:
        raise RefusedError("A count is nothing or more.")
    difference = quantity - item.quantity
    StockMove.objects.create(
        key=key, item=item, step=StockStep.COUNTED, quantity=difference, reason=reason.strip(), person=person
    )
    return _change(item, difference)


@transaction.atomic
def change_item(*, item: StockItem, version: int, details: Mapping[str, Any], person: Person) -> StockItem:
    """Where it lies, for which job it is kept and what one is worth from now on.

    Refused (`StaleError`) where somebody else saved meanwhile.
    """
    return save_edit(item, version=version, details=details, person=person)


def _change(item: StockItem, by: Decimal) -> StockItem:
    item.quantity += by
    item.used_up_at = None if item.quantity else item.used_up_at or timezone.now()
    item.save(update_fields=["quantity", "used_up_at"])
    return item


def _log(item: StockItem, phase: Phase, net: Decimal, key: UUID, person: Person) -> CostEntry | None:
    """The cost of a move in the ledger of its phase; none where it is worth nothing."""
    amount = round_money(net, current_workshop().currency)
    if not amount:
        return None
    spent = Spent(
        net=amount,
        tax=Decimal(0),
        on_date=timezone.localdate(),
        kind=CostKind.MATERIAL,
        description=f"{item.material}, {item.label}"[:200],
        source=CostSource.STOCK,
        source_ref=item.label,
    )
    return log_cost(person=person, key=uuid5(_COSTS, str(key)), work=Work(phase), spent=spent).row
