"""How do other ways to make an item get into a quote, or into a change order?

The way taken stands in the quote by its own lines. Each other way is one line that says what it costs over
(or under) that: so that nothing is counted twice, and an agreed quote is whole whatever is ticked.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.db import transaction

from jobs.history import record
from jobs.models import Job, Person
from jobs.refusals import RefusedError
from materials.models import TakeoffItem
from materials.queries.ways import way_rows
from quotes.enums import WAYS, LineKind, QuoteState
from quotes.models import Quote, QuoteLine
from quotes.queries.figures import tax_names
from quotes.queries.ways import WayCost, newest_quote, trade_rate, way_costs
from quotes.services.changes import price_change, raise_change
from quotes.services.drafting import locked_draft, put_last, revise, start_quote

FIGURES = ("unit_cost", "labour_cost", "hours", "mass_kg")


@dataclass(frozen=True)
class Offered:
    """The draft that the ways are in, how many there are, and what had to be left out."""

    quote: Quote
    count: int
    gaps: tuple[str, ...] = ()


@transaction.atomic
def offer_ways(*, item: TakeoffItem, person: Person) -> Offered:
    """The job's draft offers every other way as one extra, at its difference to the way taken.

    Offered again, a line keeps its words, tax and discount and takes the new figures; a way that is gone is
    taken off. Without a draft the quote is revised, or begun. Refused once a quote is agreed.
    """
    taken, others = _compared(item)
    draft = _draft(item.phase.job, person)
    row = locked_draft(draft)
    kept = {
        line.source_ref: line for line in row.lines.filter(source=WAYS, source_ref__startswith=f"{item.pk}:")
    }
    offered = [other for other in others if not other.trouble]
    for other in offered:
        line = kept.pop(_ref(item, other), None)
        _renew(line, taken, other) if line else _add(row, item, taken, other, optional=True)
    for gone in kept.values():
        gone.delete()
    row.version += 1
    row.save(update_fields=["version"])
    record(person=person, thing=row, action="offered other ways in", job=row.job)
    return Offered(row, len(offered), tuple(other.trouble for other in others if other.trouble))


@transaction.atomic
def change_to_way(*, item: TakeoffItem, number: int, person: Person) -> Quote:
    """A change order makes the item the other way, at its difference to the way agreed.

    Asked for again while that order is a draft, it is the same one with the figures of today. Refused before
    a quote is agreed, and for a way without figures.
    """
    taken, others = _compared(item)
    other = next((each for each in others if each.number == number), None)
    agreed = newest_quote(item.phase.job)
    if other is None or other.trouble:
        raise RefusedError(other.trouble if other else "That is the way taken already.")
    if agreed is None or agreed.state != QuoteState.ACCEPTED:
        raise RefusedError("Nothing is agreed yet: offer the ways in the quote.")
    standing = QuoteLine.objects.filter(
        source=WAYS, source_ref=_ref(item, other), quote__state=QuoteState.DRAFT, quote__change__isnull=False
    ).select_related("quote")
    line = standing.first()
    if line:
        _renew(line, taken, other)
        return line.quote
    change = raise_change(job=item.phase.job, person=person, title=_words(item, taken, other)[:120])
    order = price_change(change=change, person=person)
    _add(order, item, taken, other, optional=False)
    return order


def _compared(item: TakeoffItem) -> tuple[WayCost, list[WayCost]]:
    """The way taken and the others; refused where the taken one has no figures to compare with."""
    rows = way_rows(item) if item.kind == "ways" else ()
    if not rows:
        raise RefusedError("There is only one way to make that: add another first.")
    costs = way_costs(rows, trade_rate())
    taken = next(cost for cost, row in zip(costs, rows, strict=True) if row.compared.chosen)
    if taken.trouble:
        raise RefusedError(f"The way taken has no figures to compare with. {taken.trouble}")
    return taken, [cost for cost in costs if cost is not taken]


def _draft(job: Job, person: Person) -> Quote:
    quote = newest_quote(job)
    if quote is None:
        return start_quote(job=job, person=person)
    if quote.state == QuoteState.ACCEPTED:
        raise RefusedError("The quote is agreed: another way goes into a change order.")
    if quote.is_draft:
        return quote
    return (
        revise(quote=quote, person=person)
        if quote.state == QuoteState.ISSUED
        else start_quote(job=job, person=person)
    )


def _ref(item: TakeoffItem, way: WayCost) -> str:
    return f"{item.pk}:{way.name}"[:60]


def _words(item: TakeoffItem, taken: WayCost, other: WayCost) -> str:
    return f"{item.title}: {other.name} instead of {taken.name}"


def _figures(taken: WayCost, other: WayCost) -> dict[str, Decimal]:
    labour = other.labour - taken.labour
    return {
        "unit_cost": other.material - taken.material + labour,
        "labour_cost": labour,
        "hours": other.hours - taken.hours,
        "mass_kg": other.mass_kg - taken.mass_kg,
    }


def _renew(line: QuoteLine, taken: WayCost, other: WayCost) -> None:
    for name, value in _figures(taken, other).items():
        setattr(line, name, value)
    line.version += 1
    line.save(update_fields=[*FIGURES, "version"])


def _add(quote: Quote, item: TakeoffItem, taken: WayCost, other: WayCost, *, optional: bool) -> None:
    fields: dict[str, Any] = {
        "description": _words(item, taken, other)[:240],
        "group": item.title[:60] if optional else "",
        "tax_name": next(iter(tax_names()), ""),
        "source_ref": _ref(item, other),
    }
    line = QuoteLine(
        quote=quote,
        phase_id=item.phase_id,
        kind=LineKind.MATERIAL,
        optional=optional,
        source=WAYS,
        **fields | _figures(taken, other),
    )
    put_last(line)
