"""Order material for a job: draft, place, cancel. What is ordered is committed to phases, to the penny."""

from __future__ import annotations

import hashlib
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from jobs.history import record, snapshot
from jobs.models import CommitmentEntry, Job, Person, Phase
from jobs.money import round_money
from jobs.numbering import next_number
from jobs.refusals import RefusedError
from jobs.services.hours import Work, check_work
from jobs.services.outbox import Attachment, queue_letter
from jobs.versions import StaleError
from jobs.workshop import current_workshop
from materials.enums import ORDER_STEPS, OrderState
from materials.models import Order, OrderLine, OrderShare, StockSize, Supplier
from materials.order_paper import order_pdf
from materials.purchasing.bearing import spread, together
from materials.purchasing.delivery import commit
from materials.queries.purchase import Wanted, purchase_list


@transaction.atomic
def draft_order(*, job: Job, supplier: Supplier, person: Person) -> Order:
    """All that the job still wants of that supplier is on a draft: on the one there is, or on a new one.

    What is wanted is read while the job is locked, less what is drafted, so that pressing twice orders once.
    """
    order = start_order(job=job, supplier=supplier, person=person)
    have = {line.size_id: line for line in order.lines.all()}
    before = _told(order)
    for at, wanted in enumerate(purchase_list(job).at(supplier.pk), start=len(have)):
        _put(order, wanted, at, have.get(wanted.size_id))
    _tell_change(order, before, person)
    return _next_version(order)


@transaction.atomic
def start_order(*, job: Job, supplier: Supplier, person: Person) -> Order:
    """There is a draft for the job at that supplier; a new one has nothing on it. Both stay locked."""
    Job.objects.select_for_update().get(pk=job.pk)
    drafts = Order.objects.select_for_update().filter(job=job, supplier=supplier, state=OrderState.DRAFT)
    order = drafts.first()
    if order is None:
        order = Order.objects.create(
            number=f"P-{next_number('order'):04d}",
            job=job,
            supplier=supplier,
            deliver_to=current_workshop().address,
            expected_on=_usually_comes(supplier),
            made_by=person,
        )
        record(person=person, thing=order, action="drafted", job=job)
    return order


def _usually_comes(supplier: Supplier) -> date | None:
    """When an order of today comes, where it is known how long the supplier takes."""
    return timezone.localdate() + timedelta(days=supplier.lead_days) if supplier.lead_days else None


def _put(order: Order, wanted: Wanted, position: int, there: OrderLine | None) -> None:
    more = spread(wanted.count, wanted.weights)
    if there:
        borne = spread(there.quantity, {share.phase_id: share.amount for share in there.shares.all()})
        there.quantity += wanted.count
        there.save(update_fields=["quantity"])
        there.shares.all().delete()
        _share(there, together(borne, more))
        return
    line = OrderLine.objects.create(
        order=order,
        position=position,
        material_id=wanted.material_id,
        size_id=wanted.size_id,
        words=f"{wanted.name}, {wanted.size}"[:240],
        supplier_code=wanted.supplier_code,
        quantity=wanted.count,
        price=wanted.price,
    )
    _share(line, more)


def _share(line: OrderLine, packs: Mapping[int, Decimal]) -> None:
    """The phases bear so many packs each of a line of a draft, written as about their worth."""
    worth = max(line.price, Decimal(1))
    OrderShare.objects.bulk_create(
        OrderShare(line=line, phase_id=phase, amount=worth * count) for phase, count in packs.items()
    )


@transaction.atomic
def add_line(
    *,
    order: Order,
    size: StockSize,
    words: str,
    quantity: Decimal,
    price: Decimal,
    phase: Phase,
    person: Person,
    supplier_code: str = "",
) -> OrderLine:
    """A draft has one more line, borne by one phase. Refused for a size that is on it already."""
    order = _locked(order)
    _refuse_unless_draft(order)
    if phase.job_id != order.job_id:
        raise RefusedError(f"{phase} is not a phase of job {order.job.number}.")
    if order.lines.filter(size=size).exists():
        raise RefusedError("That size is on the order already: change how many.")
    line = OrderLine.objects.create(
        order=order,
        position=order.lines.count(),
        material=size.material,
        size=size,
        words=words[:240],
        supplier_code=supplier_code,
        quantity=quantity,
        price=price,
    )
    OrderShare.objects.create(line=line, phase=phase, amount=max(price * quantity, Decimal(1)))
    record(person=person, thing=order, action="put on", job=order.job, after={line.words: _line(line)})
    _next_version(order)
    return line


@dataclass(frozen=True)
class LineEdit:
    """A line of a draft as typed; no quantity takes it off."""

    line_id: int
    quantity: Decimal
    price: Decimal


@transaction.atomic
def change_draft(
    *,
    order: Order,
    lines: Iterable[LineEdit],
    expected_on: date | None,
    deliver_to: str,
    note: str,
    version: int,
    person: Person,
) -> Order:
    """The draft says what was typed; lines of nothing are gone.

    Refused (`StaleError`) when somebody else saved first, unless it says the same already.
    """
    order = _locked(order)
    _refuse_unless_draft(order)
    before = _told(order)
    own = {line.pk: line for line in order.lines.all()}
    for edit in lines:
        line = own.get(edit.line_id)
        if line and not edit.quantity:
            line.delete()
        elif line:
            line.quantity, line.price = edit.quantity, edit.price
            line.save(update_fields=["quantity", "price"])
    order.expected_on, order.deliver_to, order.note = expected_on, deliver_to, note
    order.save(update_fields=["expected_on", "deliver_to", "note"])
    if _told(order) == before:
        return order
    if order.version != version:
        raise StaleError(Order.objects.get(pk=order.pk))
    _tell_change(order, before, person)
    return _next_version(order)


def _told(order: Order) -> dict[str, str]:
    """What stands on a draft, as the history tells it."""
    lines = {line.words: _line(line) for line in order.lines.order_by("position")}
    return snapshot(order, ("expected_on", "deliver_to", "note")) | lines


def _line(line: OrderLine) -> str:
    return f"{line.quantity.normalize():f} at {line.price.normalize():f}"


def _tell_change(order: Order, before: dict[str, str], person: Person) -> None:
    after = _told(order)
    if before != after:
        record(person=person, thing=order, action="edited", job=order.job, before=before, after=after)


def _next_version(order: Order) -> Order:
    """A paper drawn before this change is no longer the order's."""
    order.version += 1
    order.save(update_fields=["version"])
    return order


def place(*, order: Order, send: bool, person: Person) -> Order:
    """The order stands: its paper is kept, its phases are committed, and its letter waits to go if asked.

    The paper is drawn before the transaction; refused where the draft was changed meanwhile. Placed already:
    nothing changes.
    """
    fresh = Order.objects.select_related("job__client", "supplier").get(pk=order.pk)
    if not fresh.is_draft:
        return fresh
    if send and not fresh.supplier.email:
        raise RefusedError(f"{fresh.supplier} has no e-mail address. Add it, or send the PDF yourself.")
    if not fresh.lines.exists():
        raise RefusedError("There is nothing on it.")
    return _place(fresh, order_pdf(fresh), send, person)


@transaction.atomic
def _place(drawn: Order, pdf: bytes, send: bool, person: Person) -> Order:
    order = _locked(drawn)
    if not order.is_draft:
        return order
    if order.version != drawn.version:
        raise RefusedError(
            "The draft was changed while its paper was drawn. Look it over and place it again."
        )
    _commit(order)
    order.pdf, order.pdf_sha256 = pdf, hashlib.sha256(pdf).hexdigest()
    order.placed_on = timezone.localdate()
    step_order(order, OrderState.PLACED, person=person, also=["pdf", "pdf_sha256", "placed_on"])
    if send:
        _send(order, pdf)
    return order


def _commit(order: Order) -> None:
    currency = current_workshop().currency
    committed: dict[Phase, Decimal] = defaultdict(Decimal)
    for line in order.lines.prefetch_related("shares__phase__job"):
        shares = list(line.shares.all())
        total = round_money(line.price * line.quantity, currency)
        amounts = commit(total=total, weights={one.pk: one.amount for one in shares}, currency=currency)
        for share in shares:
            check_work(Work(share.phase))
            share.amount = amounts[share.pk]
            share.save(update_fields=["amount"])
            committed[share.phase] += share.amount
    write_commitments(order, committed)


def write_commitments(order: Order, by_phase: Mapping[Phase, Decimal]) -> None:
    """Plus when ordered, minus when received or cancelled."""
    CommitmentEntry.objects.bulk_create(
        CommitmentEntry(
            phase=phase,
            on_date=timezone.localdate(),
            order_ref=order.number,
            supplier=order.supplier.name,
            net=net,
        )
        for phase, net in by_phase.items()
        if net
    )


def _send(order: Order, pdf: bytes) -> None:
    workshop = current_workshop()
    queue_letter(
        key=f"order {order.number}",
        to=order.supplier.email,
        subject=f"{order} from {workshop.name}",
        text=(
            f"Good day,\n\nplease find our order {order.number} attached."
            + (f" We hope for delivery by {order.expected_on:%-d %B %Y}." if order.expected_on else "")
            + f"\n\n{order.note}\n\n{workshop.name}".replace("\n\n\n", "\n")
        ),
        job=order.job,
        attachments=[Attachment(f"order-{order.number}.pdf", "application/pdf", pdf)],
    )


@transaction.atomic
def cancel(*, order: Order, person: Person) -> Order:
    """What has not come will not come: nothing of the order stays committed.

    An order of which a part came counts as received, short of the rest. Cancelled already: nothing changes.
    """
    order = _locked(order)
    if order.state in (OrderState.CANCELLED, OrderState.RECEIVED):
        return order
    let_go: dict[Phase, Decimal] = defaultdict(Decimal)
    if order.is_coming:
        for share in OrderShare.objects.filter(line__order=order).select_related("phase"):
            let_go[share.phase] -= share.amount - share.let_go
            share.let_go = share.amount
            share.save(update_fields=["let_go"])
    write_commitments(order, let_go)
    to = OrderState.RECEIVED if order.state == OrderState.PART else OrderState.CANCELLED
    return step_order(order, to, person=person)


def step_order(order: Order, to: str, *, person: Person, also: Sequence[str] = ()) -> Order:
    """The one place where an order changes its state. The order is locked by whoever calls."""
    if to not in ORDER_STEPS[order.state]:
        raise RefusedError(f"{order} is {order.get_state_display()}: it can’t be {OrderState(to).label} now.")
    before, order.state = order.state, to
    order.save(update_fields=["state", *also])
    if before != to:
        record(
            person=person,
            thing=order,
            action=OrderState(to).label,
            job=order.job,
            before={"state": before},
            after={"state": to},
        )
    return order


def _locked(order: Order) -> Order:
    return Order.objects.select_for_update().select_related("job", "supplier").get(pk=order.pk)


def _refuse_unless_draft(order: Order) -> None:
    if not order.is_draft:
        raise RefusedError(f"{order} is placed: what is on it stands. Order what is missing anew.")
