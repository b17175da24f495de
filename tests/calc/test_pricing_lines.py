"""One line from cost to price, and the rules it follows."""

from datetime import date
from decimal import Decimal

import pytest

from quotes.pricing import (
    DatedRate,
    Discount,
    Kind,
    Overhead,
    OverheadBasis,
    PricingError,
    Profit,
    ProfitBasis,
    Rules,
    TaxCategory,
    TaxRate,
    labour_hours,
    price_line,
    rate_on,
)
from tests.calc.prices import PLAIN, STANDARD, ZERO_RATED, labour, make_line


def rules(**changes):
    return Rules(currency="GBP", **changes)


def margin(percent):
    return Profit(ProfitBasis.MARGIN, Decimal(percent))


def markup(percent):
    return Profit(ProfitBasis.MARKUP, Decimal(percent))


def test_without_rules_the_price_is_the_cost():
    priced = price_line(make_line(quantity=Decimal("2.5"), unit_cost=Decimal("3.33")), PLAIN)
    assert (priced.cost, priced.markup, priced.price) == (Decimal("8.33"), Decimal("0.00"), Decimal("8.33"))


@pytest.mark.parametrize(
    ("profit", "price"),
    [(margin(20), "125.00"), (markup(20), "120.00"), (markup(0), "100.00"), (markup(-10), "90.00")],
)
def test_margin_is_on_price_and_markup_on_cost(profit, price):
    priced = price_line(make_line(), rules(profit={Kind.MATERIAL: profit}))
    assert priced.price == Decimal(price)


def test_profit_is_set_by_kind_of_cost():
    by_kind = rules(profit={Kind.LABOUR: markup(50), Kind.MATERIAL: markup(10)})
    assert price_line(labour(2, 20), by_kind).price == Decimal("60.00")
    assert price_line(make_line(), by_kind).price == Decimal("110.00")
    assert price_line(make_line(kind=Kind.HIRE), by_kind).price == Decimal("100.00")


def test_overhead_on_labour_hours_falls_on_labour_alone():
    on_hours = rules(overhead=Overhead(OverheadBasis.LABOUR_HOURS, Decimal("7.50")))
    assert price_line(labour(10, 18), on_hours).overhead == Decimal("75.00")
    assert price_line(make_line(), on_hours).overhead == 0


def test_overhead_on_prime_cost_falls_on_every_direct_cost():
    on_cost = rules(overhead=Overhead(OverheadBasis.PRIME_COST, Decimal("12.5")))
    assert price_line(labour(10, 18), on_cost).overhead == Decimal("22.50")
    assert price_line(make_line(), on_cost).overhead == Decimal("12.50")


def test_contingency_comes_after_overhead_and_before_markup():
    chain = rules(
        overhead=Overhead(OverheadBasis.PRIME_COST, Decimal(10)),
        contingency_percent=Decimal(5),
        profit={Kind.MATERIAL: markup(20)},
    )
    priced = price_line(make_line(), chain)
    # 100 + 10 = 110; 5 % of 110 = 5.50; 20 % of 115.50 = 23.10
    assert (priced.overhead, priced.contingency, priced.markup, priced.price) == (
        Decimal("10.00"),
        Decimal("5.50"),
        Decimal("23.10"),
        Decimal("138.60"),
    )


@pytest.mark.parametrize("kind", [Kind.PRIME_COST_SUM, Kind.PROVISIONAL_SUM])
def test_sums_carry_profit_but_no_overhead_or_contingency(kind):
    chain = rules(
        overhead=Overhead(OverheadBasis.PRIME_COST, Decimal(10)),
        contingency_percent=Decimal(5),
        profit={kind: markup("2.5")},
    )
    priced = price_line(make_line(kind=kind), chain)
    assert (priced.overhead, priced.contingency, priced.price) == (0, 0, Decimal("102.50"))


def test_a_given_price_overrides_the_chain_and_shows_the_loss():
    priced = price_line(labour(3, 30, unit_price=Decimal(28)), rules(profit={Kind.LABOUR: markup(50)}))
    assert (priced.cost, priced.markup, priced.price) == (Decimal(90), Decimal(-6), Decimal(84))


@pytest.mark.parametrize(
    ("discount", "off"),
    [
        (Discount(percent=Decimal("12.5")), "12.50"),
        (Discount(amount=Decimal(7)), "7.00"),
        (Discount(percent=Decimal(100)), "100.00"),
    ],
)
def test_discount_off_a_line(discount, off):
    priced = price_line(make_line(discount=discount), PLAIN)
    assert priced.discount == Decimal(off)
    assert priced.price == 100 - Decimal(off)


@pytest.mark.parametrize(
    "build",
    [
        lambda: Discount(percent=Decimal(1), amount=Decimal(1)),
        lambda: Discount(percent=Decimal(101)),
        lambda: Discount(amount=Decimal(-1)),
        lambda: price_line(make_line(discount=Discount(amount=Decimal(101))), PLAIN),
        lambda: price_line(make_line(unit_cost=Decimal(-1)), PLAIN),
        lambda: margin(100),
        lambda: markup(-100),
        lambda: labour_hours(quantity=Decimal(1), hours_per_unit=Decimal(-1)),
        lambda: labour_hours(quantity=Decimal(1), hours_per_unit=Decimal(1), finish_factor=Decimal(0)),
    ],
)
def test_figures_that_make_no_sense_are_refused(build):
    with pytest.raises(PricingError):
        build()


@pytest.mark.parametrize(
    ("quantity", "each", "factor", "hours"),
    [
        ("12", "0.55", "1", "6.60"),
        ("12", "0.55", "0.8", "5.28"),
        ("1", "7.5", "1", "7.50"),
        ("0", "1", "1", "0"),
    ],
)
def test_hours_are_quantity_by_rate_by_finish(quantity, each, factor, hours):
    got = labour_hours(
        quantity=Decimal(quantity), hours_per_unit=Decimal(each), finish_factor=Decimal(factor)
    )
    assert got == Decimal(hours)


@pytest.mark.parametrize(
    ("category", "percent", "code"),
    [
        ("S", "0", ""),
        ("S", "-5", ""),
        ("S", "20", "VATEX-EU-O"),
        ("Z", "20", ""),
        ("Z", "0", "VATEX-EU-O"),
        ("E", "0", ""),
        ("AE", "0", ""),
        ("AE", "20", "VATEX-EU-AE"),
    ],
)
def test_a_rate_against_the_standards_rules_is_refused(category, percent, code):
    with pytest.raises(PricingError):
        TaxRate(TaxCategory(category), Decimal(percent), reason_code=code)


def test_the_rate_in_force_is_the_latest_begun():
    dated = [
        DatedRate("standard", date(2011, 1, 4), STANDARD),
        DatedRate("standard", date(2027, 1, 1), TaxRate(TaxCategory.STANDARD, Decimal(22))),
        DatedRate("zero", date(2011, 1, 4), ZERO_RATED),
    ]
    assert rate_on(dated, name="standard", day=date(2026, 12, 31)).percent == 20
    assert rate_on(dated, name="standard", day=date(2027, 1, 1)).percent == 22
    with pytest.raises(PricingError, match="2010-01-01"):
        rate_on(dated, name="standard", day=date(2010, 1, 1))
