"""Prices, margins and tax against published figures, the source beside each.

Where no published figure was at hand the row says 'arithmetic': it follows from the formula named.
"""

from decimal import Decimal

import pytest

from jobs.money import minor_digits, round_half_up, round_money
from quotes.pricing import (
    Kind,
    Line,
    Overhead,
    OverheadBasis,
    Profit,
    ProfitBasis,
    Rules,
    TaxCategory,
    TaxRate,
    add_up,
    margin_from_markup,
    markup_from_margin,
    price_line,
    tax_inside,
)

TWENTY = TaxRate(TaxCategory.STANDARD, Decimal(20))
TWENTY_FIVE = TaxRate(TaxCategory.STANDARD, Decimal(25))


@pytest.mark.parametrize(
    ("markup", "margin"),
    [  # margin = m / (1 + m), any text on cost accounting
        ("10", "9.09"), ("15", "13.04"), ("20", "16.67"), ("25", "20.00"), ("33.33", "25.00"),
        ("50", "33.33"), ("100", "50.00"),
    ],
)  # fmt: skip
def test_margin_of_a_markup(markup, margin):
    assert round_half_up(margin_from_markup(Decimal(markup)), 2) == Decimal(margin)


@pytest.mark.parametrize(
    ("margin", "markup"),
    [  # markup = g / (1 - g), any text on cost accounting
        ("10", "11.11"), ("15", "17.65"), ("20", "25.00"), ("25", "33.33"), ("30", "42.86"),
        ("40", "66.67"), ("50", "100.00"),
    ],
)  # fmt: skip
def test_markup_of_a_margin(margin, markup):
    assert round_half_up(markup_from_margin(Decimal(margin)), 2) == Decimal(markup)


def test_price_for_a_margin_divides_and_does_not_add():
    # Arithmetic: 800 / (1 - 0.20) = 1000; adding 20 % would give 960.
    rules = Rules(currency="GBP", profit={Kind.MATERIAL: Profit(ProfitBasis.MARGIN, Decimal(20))})
    line = Line("1", "all", Kind.MATERIAL, Decimal(1), Decimal(800), TWENTY)
    assert price_line(line, rules).price == Decimal("1000.00")


def test_charge_rate_from_wage_overhead_and_margin():
    # Common practice: overhead 36 000 a year over 3 makers x 1600 chargeable hours is 7.50 an hour;
    # (18.00 + 7.50) / (1 - 0.20) = 31.875, half up 31.88.
    overhead = Overhead(OverheadBasis.LABOUR_HOURS, Decimal(36000) / (3 * 1600))
    rules = Rules(
        currency="GBP",
        overhead=overhead,
        profit={Kind.LABOUR: Profit(ProfitBasis.MARGIN, Decimal(20))},
    )
    hour = Line("1", "all", Kind.LABOUR, Decimal(1), Decimal(18), TWENTY, hours=Decimal(1))
    assert overhead.rate == Decimal("7.50")
    assert price_line(hour, rules).price == Decimal("31.88")


@pytest.mark.parametrize(
    ("gross", "percent", "tax"),
    [  # VAT fraction r / (100 + r), HMRC VAT Notice 700 (from memory)
        ("120.00", 20, "20.00"), ("105.00", 5, "5.00"), ("99.99", 20, "16.67"),
    ],
)  # fmt: skip
def test_tax_inside_a_gross_price(gross, percent, tax):
    assert tax_inside(Decimal(gross), Decimal(percent), "GBP") == Decimal(tax)


def test_tax_on_the_sum_is_not_the_sum_of_line_taxes():
    # Arithmetic on BR-CO-17: 3 x 0.33 at 20 % is 0.198, so 0.20; line by line it would be 3 x 0.07.
    assert add_up([(Decimal("0.33"), TWENTY)] * 3, currency="GBP").tax == Decimal("0.20")


@pytest.mark.parametrize("sign", [1, -1])
def test_half_a_cent_rounds_away_from_nothing(sign):
    # CEN/TC 434 example 2 prints 365.13 for 25 % of 1460.50; for credits the mirror is common practice.
    totals = add_up([(sign * Decimal("1460.50"), TWENTY_FIVE)], currency="NOK")
    assert totals.tax == sign * Decimal("365.13")


@pytest.mark.parametrize(("currency", "digits"), [("GBP", 2), ("EUR", 2), ("USD", 2), ("JPY", 0), ("KWD", 3)])
def test_minor_units(currency, digits):
    assert minor_digits(currency) == digits  # ISO 4217 (from memory)


def test_a_penny_and_a_bit_rounds_to_the_nearest():
    # HMRC VAT Notice 700 para 17.5.1 (from memory): 86.76p is 87p to the nearest penny.
    assert round_money(Decimal("0.8676"), "GBP") == Decimal("0.87")
