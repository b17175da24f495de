"""What does a kept quote come to? From rows to the pricing rules and back."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from functools import cached_property
from typing import Any

from jobs.models import TaxRate as TaxRateRow
from quotes.enums import WAYS, OverheadOn
from quotes.models import Quote, QuoteLine
from quotes.pricing import (
    DatedRate,
    Discount,
    Kind,
    Line,
    Overhead,
    OverheadBasis,
    PricedLine,
    PricedQuote,
    PricingError,
    Profit,
    ProfitBasis,
    Rules,
    TaxCategory,
    TaxRate,
    choose,
    omit,
    price_quote,
    rate_on,
)

# VATEX codes of the CEF list, for categories whose reason is always the same.
REASON_CODES = {"AE": "VATEX-EU-AE", "K": "VATEX-EU-IC", "G": "VATEX-EU-G", "O": "VATEX-EU-O"}
Rates = dict[str, TaxRate]


@dataclass(frozen=True)
class QuoteFigures:
    """A quote with its lines as rows and as priced."""

    quote: Quote
    rows: tuple[QuoteLine, ...]
    rates: Rates
    lines: tuple[Line, ...]
    priced: PricedQuote

    @property
    def rates_used(self) -> tuple[TaxRate, ...]:
        """The rate of tax of each line, options too."""
        return tuple(each.line.tax for each in self.priced.lines)

    @cached_property
    def _by_key(self) -> dict[str, PricedLine]:
        return {each.line.key: each for each in self.priced.lines}

    def of_row(self, row: QuoteLine) -> PricedLine:
        """The priced line of a row."""
        return self._by_key[str(row.pk)]


def tax_rate(row: TaxRateRow) -> TaxRate:
    """A kept rate as the rules of tax know it."""
    category = TaxCategory(row.category)
    exempt = category not in (TaxCategory.STANDARD, TaxCategory.ZERO)
    return TaxRate(
        category=category,
        percent=row.percent,
        reason_code=REASON_CODES.get(row.category, ""),
        reason=(row.reason or row.name) if exempt else "",
    )


def tax_names() -> tuple[str, ...]:
    """The workshop's rates by name, its default first."""
    names = TaxRateRow.objects.order_by("-is_default", "name", "-from_date").values_list("name", flat=True)
    return tuple(dict.fromkeys(names))


def rates_of_day(day: date) -> Rates:
    """Every named rate of tax as it stands on a day; one query. A rate not yet begun is left out."""
    dated = [DatedRate(row.name, row.from_date, tax_rate(row)) for row in TaxRateRow.objects.all()]
    begun = {each.name for each in dated if each.valid_from <= day}
    return {name: rate_on(dated, name=name, day=day) for name in sorted(begun)}


def rates_to_keep(rates: Rates) -> dict[str, dict[str, str]]:
    """The rates as an issued quote keeps them, so that a later change of rate leaves it alone."""
    return {name: _rate_to_keep(rate) for name, rate in rates.items()}


def _rate_to_keep(rate: TaxRate) -> dict[str, str]:
    return {
        "category": rate.category.value,
        "percent": str(rate.percent),
        "reason_code": rate.reason_code,
        "reason": rate.reason,
    }


def kept_rates(kept: dict[str, dict[str, str]]) -> Rates:
    """The other way round."""
    return {name: kept_rate(rate) for name, rate in kept.items()}


def kept_rate(kept: dict[str, str]) -> TaxRate:
    """One kept rate."""
    return TaxRate(
        TaxCategory(kept["category"]), Decimal(kept["percent"]), kept["reason_code"], kept["reason"]
    )


def rules_of(quote: Quote) -> Rules:
    """The price rules that a quote was given."""
    return Rules(
        currency=quote.currency,
        profit={Kind(kind): profit_of(entry) for kind, entry in quote.profit.items()},
        overhead=Overhead(OverheadBasis(quote.overhead_on), quote.overhead_rate)
        if quote.overhead_on != OverheadOn.NONE
        else Overhead(),
        contingency_percent=quote.contingency_percent,
        discount=Discount(quote.discount_percent, quote.discount_amount),
    )


def profit_of(entry: dict[str, str]) -> Profit:
    """A kept rule of profit: {"basis": "margin", "percent": "20"}."""
    return Profit(ProfitBasis(entry["basis"]), Decimal(entry["percent"]))


def line_of(row: QuoteLine, rates: Rates) -> Line:
    """A row as the rules of price know it. Labour is priced by its hours, all else by its quantity.

    A whole cost from a cutting plan is priced as one, so that not a penny of it is lost to a rounded unit.
    """
    if row.tax_name not in rates:
        raise PricingError(f"The tax rate “{row.tax_name}” of “{row.description}” is not in force.")
    quantity, unit_cost, unit_price = row.quantity, row.unit_cost, row.unit_price
    if row.kind == Kind.LABOUR.value:
        quantity = row.hours
    elif row.whole_cost is not None:
        unit_price = None if unit_price is None else quantity * unit_price
        quantity, unit_cost = Decimal(1), row.whole_cost
    return Line(
        key=str(row.pk),
        phase=str(row.phase_id),
        kind=Kind(row.kind),
        quantity=quantity,
        unit_cost=unit_cost,
        tax=rates[row.tax_name],
        hours=row.hours,
        unit_price=unit_price,
        discount=Discount(percent=row.discount_percent),
        optional=row.optional,
        chosen=row.chosen,
        group=row.group,
        mass_kg=row.mass_kg,
        labour_cost=row.labour_cost,
        difference=row.source == WAYS,
    )


def figures_of(quote: Quote, *, on: date, chosen: Collection[str] | None = None) -> QuoteFigures:
    """Price a quote at the rates of a day, or at its own once it is issued; two or three queries.

    `chosen` are the keys of the optional lines to count, in place of those kept as chosen.
    """
    rows = tuple(
        quote.lines.select_related("phase", "labour_rate", "person", "omits", "omits__quote", "omits__phase")
    )
    rates = kept_rates(quote.snapshot["rates"]) if quote.snapshot else rates_of_day(on)
    lines: Sequence[Line] = [line_of(row, rates) for row in rows if row.omits_id is None]
    if chosen is not None:
        lines = choose(lines, chosen)
    priced = price_quote(lines, rules_of(quote), omissions=_omissions(rows, quote, on))
    return QuoteFigures(quote, rows, rates, tuple(lines), priced)


def _omissions(rows: Iterable[QuoteLine], order: Quote, day: date) -> list[PricedLine]:
    """What a change order takes out: each line at what it put into the contract, which is its price at the
    rules and rates of the quote it was agreed in, less its share of a discount on the whole.
    """
    leaving = [(row, row.omits) for row in rows if row.omits]
    quotes = {line.quote_id: line.quote for _, line in leaving}
    agreed = {
        each.line.key: each
        for quote in quotes.values()
        for each in figures_of(quote, on=day).priced.in_contract
    }
    omitted = []
    for row, line in leaving:
        gone = omit(agreed[str(line.pk)], share=row.omitted_percent / 100, currency=order.currency)
        omitted.append(replace(gone, line=replace(gone.line, key=str(row.pk))))
    return omitted


def totals_to_keep(priced: PricedQuote) -> dict[str, Any]:
    """The totals of an answer, as text; by rate of tax as well, since that is how they are invoiced."""
    totals = priced.totals
    return {
        "without_tax": str(totals.without_tax),
        "tax": str(totals.tax),
        "with_tax": str(totals.with_tax),
        "by_rate": [{**_rate_to_keep(each.rate), "taxable": str(each.taxable)} for each in totals.subtotals],
    }
