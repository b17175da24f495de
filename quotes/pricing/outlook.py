"""Where may the labour of a quote end, and will its price hold, by what finished jobs took?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.money import ZERO
from jobs.progress import Outlook, chance_price_holds, outlook
from quotes.pricing.quote import PricedQuote
from quotes.pricing.rules import Kind


@dataclass(frozen=True)
class LabourOutlook:
    """Labour as quoted, and as it may end. With too few jobs there are no figures beside their number.

    `holds` is the chance that more labour than quoted costs no more than the contingency; `no_loss` that it
    costs no more than contingency and profit together. Only labour is looked at, at its cost alone.
    """

    hours: Decimal
    labour_cost: Decimal
    contingency: Decimal
    profit: Decimal
    jobs: int
    ends: Outlook | None
    holds: Decimal | None
    no_loss: Decimal | None


def labour_outlook(priced: PricedQuote, ratios: Sequence[float]) -> LabourOutlook | None:
    """The outlook of a priced quote, by the ratios of actual to agreed hours of finished jobs.

    None where there is no labour to look at, as in a change order that only leaves something out.
    """
    labour = [each for each in priced.counted if each.line.kind is Kind.LABOUR]
    hours = sum((each.line.hours for each in labour), ZERO)
    cost = sum((each.cost for each in labour), ZERO)
    if hours <= 0 or cost <= 0:
        return None
    contingency = sum((each.contingency for each in priced.counted), ZERO)
    return LabourOutlook(
        hours=hours,
        labour_cost=cost,
        contingency=contingency,
        profit=priced.profit,
        jobs=len(ratios),
        ends=outlook(hours, ratios),
        holds=_percent(chance_price_holds(ratios, _most(cost, contingency))),
        no_loss=_percent(chance_price_holds(ratios, _most(cost, contingency + priced.profit))),
    )


def _most(cost: Decimal, room: Decimal) -> float:
    """How many times the quoted labour there is money for."""
    return float((cost + room) / cost)


def _percent(share: float | None) -> Decimal | None:
    return None if share is None else round(100 * Decimal(str(share)), 0)
