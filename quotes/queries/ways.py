"""What does each way to make an item cost and fetch, and where can it be put?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.urls import reverse
from django.utils import timezone

from jobs.models import Job, LabourRate, Person
from jobs.money import ZERO, round_money
from jobs.workshop import current_workshop
from materials.models import TakeoffItem
from materials.queries.ways import WayRow
from materials.ways_in_quote import Act, WayInQuote, WaysInQuote
from quotes.enums import LineKind, QuoteState
from quotes.models import Quote
from quotes.pricing import Kind, Line, Rules, TaxCategory, TaxRate, price_line
from quotes.queries.figures import rules_of
from quotes.services.drafting import workshop_rules


@dataclass(frozen=True)
class WayCost:
    """What a way costs the workshop: material before offcuts, labour at the trade's rate of today.

    `trouble` says in words why there is no figure for it.
    """

    number: int
    name: str
    material: Decimal = ZERO
    labour: Decimal = ZERO
    hours: Decimal = ZERO
    mass_kg: Decimal = ZERO
    trouble: str = ""


def trade_rate() -> LabourRate | None:
    """The first trade's rate that holds today."""
    holding = LabourRate.objects.filter(from_date__lte=timezone.localdate())
    return holding.order_by("name", "-from_date").first()


def way_costs(rows: Sequence[WayRow], rate: LabourRate | None) -> tuple[WayCost, ...]:
    """Every way in figures."""
    return tuple(_cost(row, rate) for row in rows)


def _cost(row: WayRow, rate: LabourRate | None) -> WayCost:
    name, result = row.compared.way.name, row.compared.result
    if result is None or row.cost is None:
        return WayCost(row.number, name, trouble=f"{name} can't be built as it is entered.")
    if row.cost.unpriced:
        return WayCost(row.number, name, trouble=f"{name}: no price for {', '.join(row.cost.unpriced)}.")
    if row.hours and rate is None:
        return WayCost(row.number, name, trouble="There is no trade rate yet: set one in the workshop.")
    labour = round_money(row.hours * rate.cost_rate, current_workshop().currency) if rate else ZERO
    return WayCost(row.number, name, row.cost.amount, labour, row.hours, result.mass_kg or ZERO)


def newest_quote(job: Job) -> Quote | None:
    """The quote that the job stands on: what is agreed, else the newest."""
    found = list(job.quotes.filter(change=None).defer("snapshot").order_by("-pk"))
    agreed = (quote for quote in found if quote.state == QuoteState.ACCEPTED)
    return next(agreed, found[0] if found else None)


def ways_priced(item: TakeoffItem, rows: Sequence[WayRow], person: Person) -> WaysInQuote:
    """Prices by the rules of the job's quote, or the workshop's own; two queries."""
    job = item.phase.job
    quote = newest_quote(job)
    agreed = quote is not None and quote.state == QuoteState.ACCEPTED
    rules = rules_of(quote or Quote(**workshop_rules(current_workshop())))
    costs = way_costs(rows, trade_rate())
    taken = next((cost for cost, row in zip(costs, rows, strict=True) if row.compared.chosen), None)
    ways = {}
    for cost, row in zip(costs, rows, strict=True):
        act = _change_act(item, row) if agreed and person.is_owner and not row.compared.chosen else None
        ways[row.number] = WayInQuote(_price(cost, rules), _over(cost, taken, rules), act)
    offer = Act("Offer the other ways in the quote", reverse("quotes:offer_ways", args=[item.pk]))
    return WaysInQuote(ways, offer if person.is_owner and not agreed else None)


def _change_act(item: TakeoffItem, row: WayRow) -> Act:
    return Act("Into a change order", reverse("quotes:change_to_way", args=[item.pk, row.number]))


def _price(cost: WayCost, rules: Rules) -> Decimal | None:
    return None if cost.trouble else _priced(cost.material, cost.labour, cost.hours, rules)


def _over(cost: WayCost, taken: WayCost | None, rules: Rules) -> Decimal | None:
    """What the way costs over the way taken, rounded once, as the line in the quote is."""
    if taken is None or taken.trouble or cost.trouble:
        return None
    labour, hours = cost.labour - taken.labour, cost.hours - taken.hours
    return _priced(cost.material - taken.material, labour, hours, rules)


def _priced(material: Decimal, labour: Decimal, hours: Decimal, rules: Rules) -> Decimal:
    line = Line(
        key="",
        phase="",
        kind=Kind(LineKind.MATERIAL.value),
        quantity=Decimal(1),
        unit_cost=material + labour,
        tax=TaxRate(TaxCategory.ZERO),
        hours=hours,
        labour_cost=labour,
        difference=True,
    )
    return price_line(line, rules).price
