"""How are money, hours, lengths and shares written on a page?"""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal

from babel.dates import format_date, format_skeleton
from django import template

from jobs import money as money_rules
from jobs.lengths import System, format_length
from jobs.workshop import current_workshop

register = template.Library()
NOTHING = "–"


def is_blank(value: object) -> bool:
    """Whether it is the "" that a template gives for a part of what is not there."""
    return value == ""


@register.filter
def money(amount: Decimal | int | None) -> str:
    """An amount in the workshop's currency and locale: £1,234.50."""
    if amount is None or is_blank(amount):
        return NOTHING
    workshop = current_workshop()
    return money_rules.format_money(Decimal(amount), workshop.currency, workshop.locale)


@register.filter
def number(value: Decimal | int | None, places: int = 1) -> str:
    """A plain number with so many decimals: 7.5."""
    if value is None or is_blank(value):
        return NOTHING
    return money_rules.format_number(Decimal(value), current_workshop().locale, places)


@register.filter
def hours(value: Decimal | None, places: int = 2) -> str:
    """Hours with two decimals, as they are budgeted, so that a column adds up by pencil."""
    return number(value, places)


@register.filter
def seconds_as_hours(seconds: int | None) -> str:
    """Seconds as hours and minutes: 7:20."""
    if seconds is None or is_blank(seconds):
        return NOTHING
    minutes = round(seconds / 60)
    return f"{minutes // 60}:{minutes % 60:02d}"


@register.filter
def percent(value: Decimal | int | None, places: int = 0) -> str:
    """A share in per cent with a thin space: 46 %."""
    return NOTHING if value is None or is_blank(value) else f"{number(value, places)}\u202f%"


@register.filter
def kg(value: Decimal | None, places: int = 1) -> str:
    """Mass in kilograms."""
    return NOTHING if value is None or is_blank(value) else f"{number(value, places)}\u202fkg"


@register.filter
def day(value: date | datetime | None) -> str:
    """A date as the locale writes it: 25 Nov 2026."""
    if value is None or is_blank(value):
        return NOTHING
    return str(format_date(value, "medium", locale=current_workshop().locale))


@register.filter
def as_length(length_mm10: int | None) -> str:
    """A length in the workshop's system: 2400 mm, or 7' 10 1/2"."""
    if length_mm10 is None or is_blank(length_mm10):
        return NOTHING
    return format_length(length_mm10, System(current_workshop().measurement))


@register.filter
def short_day(value: date | None) -> str:
    """A date under an axis, without its year: 25 Nov."""
    if value is None or is_blank(value):
        return NOTHING
    return str(format_skeleton("MMMd", value, locale=current_workshop().locale))


@register.filter
def unit_price(amount: Decimal | None) -> str:
    """What one of many costs: to the penny, or to a hundredth of it where a penny says too little."""
    if amount is None or is_blank(amount):
        return NOTHING
    workshop = current_workshop()
    further = 2 if 0 < amount < 1 else 0
    return money_rules.format_money(amount, workshop.currency, workshop.locale, further_places=further)


@register.filter
def amount(value: Decimal | None) -> str:
    """A quantity with as many decimals as it has: 200, 2.5."""
    if value is None or is_blank(value):
        return NOTHING
    places = -int(value.normalize().as_tuple().exponent)
    return number(value, max(0, places))
