"""How are figures written on a paper? In the currency and locale the paper was issued in."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import date
from decimal import Decimal

from babel.dates import format_date
from django import template

from jobs.money import format_money, format_number
from jobs.workshop import current_workshop
from quotes.papers.paper import Paper, PaperLine, PaperStage

register = template.Library()


@register.filter
def money_on(amount: Decimal, paper: Paper) -> str:
    """An amount as the paper writes it."""
    return format_money(amount, paper.currency, paper.locale)


@register.filter
def none_in(lines: Iterable[PaperLine], keys: Collection[str]) -> bool:
    """Whether none of these lines is among the keys chosen."""
    return all(line.key not in keys for line in lines)


@register.filter
def signed(value: Decimal | int) -> str:
    """A figure with its sign: +2, −1.5."""
    amount = format_number(abs(Decimal(value)), current_workshop().locale, 0 if value == int(value) else 1)
    return f"{'−' if value < 0 else '+'}{amount}"


@register.filter
def figure_on(value: Decimal, paper: Paper) -> str:
    """A quantity with as many decimals as it has, and no more."""
    places = max(0, -int(value.normalize().as_tuple().exponent))
    return format_number(value, paper.locale, min(places, 3))


@register.filter
def trade_unit(unit: str) -> str:
    """What a count is of: nobody writes 608 each, the trade writes 608 No."""
    return "No." if unit == "each" else unit


@register.filter
def day_on(value: date | None, paper: Paper) -> str:
    """A date in full as the paper writes it."""
    return "" if value is None else str(format_date(value, "long", locale=paper.locale.replace("-", "_")))


@register.filter
def differ_from(stages: Iterable[PaperStage], total: Decimal) -> bool:
    """Do the payment stages add up to something else? Each one's tax is rounded for itself."""
    return sum((stage.amount for stage in stages), Decimal(0)) != total
