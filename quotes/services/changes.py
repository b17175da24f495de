"""How is a change written down, priced, and taken out of or put into the contract?"""

from __future__ import annotations

from collections.abc import Collection
from datetime import date
from decimal import Decimal
from uuid import UUID

from django.db import transaction
from django.db.models import Max, Sum
from django.utils import timezone

from jobs.enums import ChangeState
from jobs.history import record, snapshot
from jobs.models import Change, Job, Person
from jobs.money import ZERO, round_money
from jobs.photos import Picture, keep_photo
from jobs.refusals import RefusedError
from jobs.services.jobs import check_not_closed
from jobs.workshop import current_workshop
from quotes.enums import SUM_KINDS, QuoteState
from quotes.models import ChangeNote, Quote, QuoteLine
from quotes.pricing import price_line
from quotes.queries.figures import figures_of, line_of, rules_of
from quotes.services.drafting import locked_draft, workshop_rules
from quotes.services.states import step_change

CARRIED_OVER = (
    "currency",
    "overhead_on",
    "overhead_rate",
    "contingency_percent",
    "profit",
    "terms",
    "days_valid",
    "detail",
)
WHOLE = Decimal(100)
OUT_OR_AGREED = frozenset({QuoteState.ISSUED, QuoteState.ACCEPTED})


@transaction.atomic
def raise_change(
    *,
    job: Job,
    person: Person,
    title: str,
    reason: str = "",
    rough_hours: Decimal = ZERO,
    picture: Picture | None = None,
    shows_photo: bool = False,
    given_by: str = "",
    given_on: date | None = None,
    words: str = "",
    key: UUID | None = None,
) -> Change:
    """Write a change into the job's register under its next number. It is not agreed by that.

    The same key twice is one change. Refused for a closed job.
    """
    held = Job.objects.select_for_update().get(pk=job.pk)
    same = ChangeNote.objects.filter(key=key).select_related("change").first() if key else None
    if same:
        return same.change
    check_not_closed(held)
    last = job.changes.aggregate(last=Max("number"))["last"] or 0
    change = Change.objects.create(job=job, number=last + 1, title=title, reason=reason, raised_by=person)
    ChangeNote.objects.create(
        change=change,
        key=key,
        rough_hours=rough_hours,
        photo=keep_photo(picture, person=person) if picture else None,
        shows_photo=shows_photo,
        given_by=given_by,
        given_on=given_on,
        words=words,
        taken_by=person,
    )
    record(person=person, thing=change, action="wrote down", job=job)
    return change


@transaction.atomic
def set_picture(
    *, change: Change, person: Person, picture: Picture | None = None, shows_photo: bool = False
) -> ChangeNote:
    """Put a picture with a change, or another in its place, and say whether the client may see it.

    A change order that is out keeps the picture it went out with.
    """
    Change.objects.select_for_update().get(pk=change.pk)
    note, _ = ChangeNote.objects.get_or_create(change=change, defaults={"taken_by": person})
    if picture:
        note.photo = keep_photo(picture, person=person)
    note.shows_photo = shows_photo
    note.save(update_fields=["photo", "shows_photo"])
    record(
        person=person,
        thing=change,
        action="picture",
        job=change.job,
        after={"client sees it": str(shows_photo)},
    )
    return note


@transaction.atomic
def withdraw_change(*, change: Change, person: Person) -> Change:
    """A change that came to nothing before it was priced stands as withdrawn, under its number."""
    row = Change.objects.select_for_update(of=("self",)).select_related("job").get(pk=change.pk)
    if row.state == ChangeState.WITHDRAWN:
        return row
    if row.quotes.exists():
        raise RefusedError("It is priced. Withdraw its change order.")
    step_change(row.pk, ChangeState.WITHDRAWN, person=person)
    row.refresh_from_db()
    return row


@transaction.atomic
def price_change(*, change: Change, person: Person) -> Quote:
    """A change order for a change, at the price rules of the contract; asked for twice it is the same."""
    row = Change.objects.select_for_update().get(pk=change.pk)
    earlier = change.quotes.order_by("-revision").first()
    if earlier:
        return earlier
    if row.state == ChangeState.WITHDRAWN:
        raise RefusedError("It was withdrawn. Write a new change down.")
    job = change.job
    agreed = job.quotes.filter(state=QuoteState.ACCEPTED, change=None).order_by("-pk").first()
    rules = workshop_rules(current_workshop())
    if agreed:
        rules |= {name: getattr(agreed, name) for name in CARRIED_OVER}
    order = Quote.objects.create(
        job=job,
        change=change,
        number=f"CO{job.number}-{change.number}",
        title=change.title,
        created_by=person,
        **rules | {"payment_stages": [], "exclusions": ""},
    )
    record(person=person, thing=order, action="drew up", job=job)
    return order


@transaction.atomic
def omit_line(
    *, order: Quote, line: QuoteLine, percent: Decimal, person: Person, actual_cost: Decimal | None = None
) -> QuoteLine:
    """Leave an agreed line, or a share of it, out of the contract by a change order.

    A prime cost or provisional sum may be settled at once: the sum goes and its actual cost comes in its
    place. Refused for a line that is not agreed, and for more than is left of it.
    """
    row = locked_draft(order)
    if not row.is_change_order or line.quote.job_id != row.job_id or line.omits_id:
        raise RefusedError("Only an agreed line of the same job can be left out, and by a change order.")
    if line.quote.state != QuoteState.ACCEPTED or (line.optional and not line.chosen):
        raise RefusedError("That line is not agreed, so there is nothing to leave out.")
    gone = _already_left_out(line, row)
    if not 0 < percent <= WHOLE - gone:
        raise RefusedError(f"Of that line {(WHOLE - gone).normalize():f} % is left to leave out.")
    omission = QuoteLine(
        quote=row,
        phase=line.phase,
        position=line.position,
        kind=line.kind,
        description=line.description,
        quantity=line.quantity,
        unit=line.unit,
        unit_cost=line.unit_cost,
        whole_cost=line.whole_cost,
        tax_name=line.tax_name,
        omits=line,
        omitted_percent=percent,
    )
    omission.full_clean()
    omission.save()
    _tell_omission(omission, person, actual_cost)
    if actual_cost is not None:
        _put_actual(omission, actual_cost)
    row.version += 1
    row.save(update_fields=["version"])
    return omission


def _tell_omission(omission: QuoteLine, person: Person, actual_cost: Decimal | None) -> None:
    after = snapshot(omission, ("phase", "description", "omitted_percent"))
    if actual_cost is not None:
        after["actual_cost"] = str(actual_cost)
    record(person=person, thing=omission, action="left out", job=omission.quote.job, after=after)


def _put_actual(omission: QuoteLine, actual_cost: Decimal) -> None:
    if omission.kind not in SUM_KINDS:
        raise RefusedError("Only a prime cost sum or a provisional sum is settled at its actual cost.")
    actual = QuoteLine(
        quote=omission.quote,
        phase=omission.phase,
        position=omission.position,
        kind=omission.kind,
        description=f"{omission.description}: actual cost"[:240],
        unit_cost=actual_cost,
        tax_name=omission.tax_name,
    )
    actual.unit_price = _less_discount(actual, omission)
    actual.full_clean()
    actual.save()


def _less_discount(actual: QuoteLine, omission: QuoteLine) -> Decimal | None:
    """A discount on the whole was given on the sum too: what comes in its place bears the same share of it,
    so that a sum settled at its own amount changes nothing. None where there was none.
    """
    line, order = omission.omits, omission.quote
    assert line is not None
    agreed = figures_of(line.quote, on=timezone.localdate())
    listed = agreed.of_row(line).price
    (kept,) = (each.price for each in agreed.priced.in_contract if each.line.key == str(line.pk))
    if kept == listed:
        return None
    priced = price_line(line_of(actual, agreed.rates), rules_of(order)).price
    return round_money(priced * kept / listed, order.currency)


def refuse_left_out_twice(order: Quote, beside: Collection[QuoteState] = OUT_OR_AGREED) -> None:
    """Refused where a change order and those in the states `beside` leave out more than there is of a line.

    Asked again whenever an order goes out or is agreed, as two may have been drawn up side by side.
    """
    kept = QuoteLine.objects.select_for_update().filter(
        pk__in=order.lines.exclude(omits=None).values("omits")
    )
    for line in kept.order_by("pk"):
        here = order.lines.filter(omits=line).aggregate(share=Sum("omitted_percent"))["share"]
        left = WHOLE - _left_out_beside(line, order, beside)
        if here > left:
            raise RefusedError(
                f"Of “{line}” {left.normalize():f} % is left: another change order leaves the rest out."
            )


def _already_left_out(line: QuoteLine, order: Quote) -> Decimal:
    """The share of a line that this order, and those that are out or agreed, already leave out."""
    here = order.lines.filter(omits=line).aggregate(share=Sum("omitted_percent"))["share"] or ZERO
    return here + _left_out_beside(line, order, OUT_OR_AGREED)


def _left_out_beside(line: QuoteLine, order: Quote, states: Collection[QuoteState]) -> Decimal:
    beside = line.omissions.filter(quote__state__in=states).exclude(quote__number=order.number)
    return beside.aggregate(share=Sum("omitted_percent"))["share"] or ZERO
