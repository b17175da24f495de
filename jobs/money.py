"""What is one amount of money, rounded, shared out and written?

Amounts are `Decimal`. Rounding is half up, away from zero, to the currency's minor unit (ISO 4217), so that
a credit is the exact mirror of the charge it undoes. Shares use the largest remainder method, so that the
parts add up to the whole to the penny.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from copy import copy
from decimal import ROUND_DOWN, ROUND_HALF_UP, Decimal
from functools import lru_cache

from babel import Locale, UnknownLocaleError
from babel.core import get_global
from babel.numbers import NumberPattern, get_currency_precision, is_currency

ZERO = Decimal(0)
MINUS = "\u2212"
_LETTER_THEN_FIGURE = re.compile(r"(?<=[A-Za-z])(?=\d)")  # CLDR parts a code from its figure by a space

# Babel's figures are those of everyday use (CLDR); where ISO 4217 says otherwise, ISO 4217 stands.
_ISO_4217_DIGITS = {"IQD": 3} | dict.fromkeys(
    ("AFN", "ALL", "IRR", "KPW", "LAK", "LBP", "MGA", "MMK", "RSD", "SOS", "SYP", "YER"), 2
)


class UnknownCurrencyError(ValueError):
    """The code is not one of ISO 4217's."""


@lru_cache
def minor_digits(currency: str) -> int:
    """Decimal places of a currency by ISO 4217.

    >>> minor_digits("GBP"), minor_digits("JPY"), minor_digits("KWD")
    (2, 0, 3)
    """
    if not is_currency(currency):
        raise UnknownCurrencyError(f"{currency!r} is not a currency code of ISO 4217")
    return _ISO_4217_DIGITS.get(currency, int(get_currency_precision(currency)))


@lru_cache
def cash_digits(currency: str) -> int:
    """Decimal places that coins still pay (CLDR); none where a single unit buys next to nothing.

    >>> cash_digits("GBP"), cash_digits("JPY"), cash_digits("IDR")
    (2, 0, 0)
    """
    fractions = get_global("currency_fractions")
    return int(fractions.get(currency, fractions["DEFAULT"])[2])


@lru_cache
def minor_unit(currency: str) -> Decimal:
    """The smallest amount that can be paid: 0.01 for GBP, 1 for JPY."""
    return Decimal(1).scaleb(-minor_digits(currency))


def round_half_up(value: Decimal, places: int) -> Decimal:
    """Round to decimal places, halves away from zero.

    >>> round_half_up(Decimal("365.125"), 2), round_half_up(Decimal("-365.125"), 2)
    (Decimal('365.13'), Decimal('-365.13'))
    """
    return value.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)


def round_money(amount: Decimal, currency: str) -> Decimal:
    """Round an amount half up, away from zero, to the currency's minor unit."""
    return amount.quantize(minor_unit(currency), rounding=ROUND_HALF_UP)


def tax_inside(gross: Decimal, percent: Decimal, currency: str) -> Decimal:
    """The tax that a price with tax holds: gross × rate / (100 + rate), rounded half up.

    >>> tax_inside(Decimal("120.00"), Decimal(20), "GBP"), tax_inside(Decimal("99.99"), Decimal(20), "GBP")
    (Decimal('20.00'), Decimal('16.67'))
    """
    return round_money(gross * percent / (100 + percent), currency)


def split_money(total: Decimal, weights: Sequence[Decimal], currency: str) -> tuple[Decimal, ...]:
    """Share a total in proportion to weights, to the minor unit, by the largest remainder method.

    The parts always add up to the rounded total. Units left over go to the largest remainders, the earlier
    first among equals. Weights that are all nothing share equally. A weight below nothing is refused.

    >>> split_money(Decimal("100.00"), [Decimal(1)] * 3, "GBP")
    (Decimal('33.34'), Decimal('33.33'), Decimal('33.33'))
    """
    if not weights:
        raise ValueError("a total cannot be shared among nobody")
    if min(weights) < 0:
        raise ValueError("a share cannot have a weight below nothing")
    unit = minor_unit(currency)
    rounded = round_money(total, currency)
    units = _split_units(int(abs(rounded) / unit), list(weights))
    sign = -1 if rounded < 0 else 1
    return tuple(sign * count * unit for count in units)


def _split_units(units: int, weights: list[Decimal]) -> list[int]:
    whole = sum(weights, ZERO)
    if whole == 0:
        weights, whole = [Decimal(1)] * len(weights), Decimal(len(weights))
    exact = [units * weight / whole for weight in weights]
    floors = [int(share.to_integral_value(rounding=ROUND_DOWN)) for share in exact]
    by_remainder = sorted(range(len(weights)), key=lambda at: (floors[at] - exact[at], at))
    for at in by_remainder[: units - sum(floors)]:
        floors[at] += 1
    return floors


@lru_cache(maxsize=8192)  # the same figures are shown again and again
def format_money(amount: Decimal, currency: str, locale: str, *, further_places: int = 0) -> str:
    """Write an amount the way the locale does, with the currency's own decimal places.

    The price of one of many may need further places: a screw at £0.0395.

    >>> format_money(Decimal("1234.5"), "GBP", "en_GB"), format_money(Decimal("1234"), "JPY", "en_GB")
    ('£1,234.50', 'JP¥1,234')
    """
    places = minor_digits(currency) + further_places
    pattern = _money_pattern(locale, places)
    rounded = round_half_up(amount, places)
    text = str(pattern.apply(rounded, _locale(locale), currency=currency, currency_digits=False))
    return _LETTER_THEN_FIGURE.sub("\u00a0", text).replace("-", MINUS)


@lru_cache(maxsize=8192)
def format_number(value: Decimal, locale: str, places: int) -> str:
    """Write a plain number the way the locale does, with exactly so many decimal places."""
    pattern = _number_pattern(locale, places)
    return str(pattern.apply(round_half_up(value, places), _locale(locale))).replace("-", MINUS)


@lru_cache
def _locale(name: str) -> Locale:
    """A locale by either spelling (`en-GB`, `en_GB`); an unknown one falls back to British English."""
    try:
        return Locale.parse(name.replace("-", "_"))
    except (UnknownLocaleError, ValueError):
        return Locale.parse("en_GB")


@lru_cache
def _money_pattern(locale: str, places: int) -> NumberPattern:
    return _with_places(_locale(locale).currency_formats["standard"], places)


@lru_cache
def _number_pattern(locale: str, places: int) -> NumberPattern:
    return _with_places(_locale(locale).decimal_formats[None], places)


def _with_places(pattern: NumberPattern, places: int) -> NumberPattern:
    """The locale's own pattern is shared by everyone, so a copy is changed."""
    own = copy(pattern)
    own.frac_prec = (places, places)
    return own
