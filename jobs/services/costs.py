"""Log what was bought, hired or driven. A cost is never changed: a mistake is reversed by its opposite."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from uuid import UUID

from django.db import transaction
from django.utils import timezone

from jobs import receipts
from jobs.enums import CostKind, CostSource, Role
from jobs.history import record, snapshot
from jobs.models import CostEntry, Person, Photo
from jobs.money import ZERO, cash_digits, minor_unit
from jobs.refusals import RefusedError
from jobs.services.hours import OLDEST, Stored, Work, check_work, hold
from jobs.workshop import current_workshop

MOST = Decimal(1_000_000)
MOST_WITHOUT_COIN = 100 * MOST
_TOLD = ("on_date", "kind", "net", "tax", "supplier", "description")


@dataclass(frozen=True)
class Spent:
    """What was spent: net and tax in the workshop's currency, on what, when, and where the paper is.

    Net and tax are as the paper says them, whatever the workshop can claim back.
    """

    net: Decimal
    tax: Decimal
    on_date: date
    kind: str = CostKind.MATERIAL
    supplier: str = ""
    description: str = ""
    photo: Photo | None = None
    source: str = CostSource.HAND
    source_ref: str = ""


@transaction.atomic
def log_cost(*, person: Person, key: UUID, work: Work, spent: Spent) -> Stored[CostEntry]:
    """The cost is in the ledger of its phase. The same key again is the same cost.

    A workshop that is not registered for tax claims none back: the tax it paid is part of what the job cost.
    """
    hold(person)
    spent = _as_borne(spent)
    if same := CostEntry.objects.filter(person=person, key=key).first():
        if (same.phase_id, same.net, same.tax) != (work.phase.pk, spent.net, spent.tax):
            raise RefusedError("This was already sent with something else in it. Open the page again.")
        return Stored(same, new=False)
    check_work(work)
    _check(spent)
    entry = CostEntry.objects.create(
        person=person,
        key=key,
        phase=work.phase,
        change=work.change,
        on_date=spent.on_date,
        kind=spent.kind,
        supplier=spent.supplier.strip(),
        description=spent.description.strip(),
        net=spent.net,
        tax=spent.tax,
        photo=spent.photo,
        source=spent.source,
        source_ref=spent.source_ref,
    )
    record(person=person, thing=entry, action="logged", job=work.phase.job, after=snapshot(entry, _TOLD))
    return Stored(entry, new=True)


def _as_borne(spent: Spent) -> Spent:
    if current_workshop().not_registered_for_tax:
        return replace(spent, net=spent.net + spent.tax, tax=ZERO)
    return spent


def may_reverse(by: Person, entry: CostEntry) -> bool:
    """Owner and bookkeeper reverse any cost typed by hand; others their own.

    What an order or the stock wrote is taken back there, so that both stay in step.
    """
    return entry.source == CostSource.HAND and (by.role != Role.MAKER or entry.person_id == by.pk)


@transaction.atomic
def reverse_cost(*, entry: CostEntry, by: Person, key: UUID, reason: str) -> Stored[CostEntry]:
    """An opposite entry stands beside it, dated today, and both add up to nothing.

    What was booked in on it as the receipt of an order is taken back with it. Refused for one reversed
    already, for a reversal itself, and without a reason.
    """
    hold(by)
    if same := CostEntry.objects.filter(person=by, key=key).first():
        return Stored(same, new=False)
    locked = CostEntry.objects.select_for_update(of=("self",))
    old = locked.select_related("phase__job").get(pk=entry.pk)
    _check_reversal(old, by, reason)
    opposite = write_opposite(old=old, by=by, key=key, reason=reason)
    receipts.reversed_here(old, by, reason)
    return Stored(opposite, new=True)


def write_opposite(*, old: CostEntry, by: Person, key: UUID, reason: str) -> CostEntry:
    """The opposite of a cost, dated today. Whether that is right is for whoever calls to say."""
    record(person=by, thing=old, action="reversed", job=old.phase.job, after={"reason": reason.strip()})
    return CostEntry.objects.create(
        person=by,
        key=key,
        phase_id=old.phase_id,
        change_id=old.change_id,
        on_date=timezone.localdate(),
        kind=old.kind,
        supplier=old.supplier,
        description=f"Reversed: {reason.strip()}"[:200],
        net=-old.net,
        tax=-old.tax,
        source=old.source,
        reverses=old,
    )


def _check(spent: Spent) -> None:
    currency = current_workshop().currency
    unit = minor_unit(currency)
    today = timezone.localdate()
    if spent.net == 0 and spent.tax == 0:
        raise RefusedError("A cost of nothing is no cost.")
    if spent.net % unit or spent.tax % unit:
        raise RefusedError(f"Amounts go to {unit}.")
    _check_size(spent, currency)
    if spent.net * spent.tax < 0 or abs(spent.tax) > abs(spent.net):
        raise RefusedError("Tax is a part of the amount, with the same sign.")
    if not today - OLDEST <= spent.on_date <= today:
        raise RefusedError("The day is not to come and not more than a year ago: look at the year.")


def _check_size(spent: Spent, currency: str) -> None:
    """A slip of the finger; goods of an order or from stock have their quantities and prices behind them."""
    most = MOST if cash_digits(currency) else MOST_WITHOUT_COIN
    if spent.source == CostSource.HAND and max(abs(spent.net), abs(spent.tax)) > most:
        raise RefusedError(f"That is more than {most:,}: look at the decimal point.")


def _check_reversal(old: CostEntry, by: Person, reason: str) -> None:
    if not may_reverse(by, old):
        raise RefusedError("That cost came from an order or the stock: take it back there.")
    if old.reverses_id:
        raise RefusedError("That is a reversal already. Log the cost again instead.")
    if CostEntry.objects.filter(reverses=old).exists():
        raise RefusedError("That cost is reversed already.")
    if not reason.strip():
        raise RefusedError("Say why it is reversed.")
