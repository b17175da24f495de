"""The whole quote: options, discount, tax, stages, waterfall, sums and changes."""

from decimal import Decimal

import pytest

from quotes.pricing import (
    Discount,
    Kind,
    PricingError,
    Profit,
    ProfitBasis,
    Rules,
    Stage,
    at_margin,
    choose,
    days_of,
    omit,
    price_quote,
    stage_amounts,
    waterfall,
)
from tests.calc.prices import PLAIN, REDUCED, REVERSED, STANDARD, ZERO_RATED, labour, make_line

MARKUP_25 = Profit(ProfitBasis.MARKUP, Decimal(25))


def test_an_option_is_priced_but_not_in_the_total_until_chosen():
    lines = [make_line(key="1"), make_line(key="2", optional=True, unit_cost=Decimal(40))]
    assert price_quote(lines, PLAIN).totals.with_tax == Decimal("120.00")
    assert [option.price for option in price_quote(lines, PLAIN).options] == [Decimal(40)]
    assert price_quote(choose(lines, {"2"}), PLAIN).totals.with_tax == Decimal("168.00")


def test_of_alternatives_only_one_can_be_chosen():
    lines = [make_line(key=key, optional=True, group="worktop") for key in ("oak", "ash")]
    assert price_quote(choose(lines, {"ash"}), PLAIN).totals.lines == 100
    with pytest.raises(PricingError, match="worktop"):
        choose(lines, {"oak", "ash"})


def test_an_extra_that_is_not_offered_is_refused():
    with pytest.raises(PricingError, match="not offered"):
        choose([make_line(key="1")], {"1"})


def test_tax_is_worked_out_once_a_rate_on_the_sum():
    lines = [make_line(key=str(at), unit_cost=Decimal("0.33")) for at in range(3)]
    assert price_quote(lines, PLAIN).totals.tax == Decimal("0.20")  # line by line it would be 0.21


def test_each_rate_has_its_subtotal_and_reason():
    lines = [
        make_line(tax=STANDARD),
        make_line(tax=REDUCED),
        make_line(tax=ZERO_RATED),
        make_line(tax=REVERSED),
    ]
    subtotals = price_quote(lines, PLAIN).totals.subtotals
    assert [subtotal.tax for subtotal in subtotals] == [Decimal(20), Decimal(5), 0, 0]
    assert subtotals[-1].rate.reason_code == "VATEX-EU-AE"


def test_discount_on_the_whole_is_shared_over_the_rates():
    lines = [make_line(tax=STANDARD, unit_cost=Decimal(200)), make_line(tax=REDUCED)]
    totals = price_quote(lines, Rules(currency="GBP", discount=Discount(amount=Decimal(10)))).totals
    assert (totals.lines, totals.allowances, totals.without_tax) == (300, 10, 290)
    assert [subtotal.taxable for subtotal in totals.subtotals] == [Decimal("193.33"), Decimal("96.67")]


def test_discount_of_more_than_the_whole_is_refused():
    with pytest.raises(PricingError, match="more than the price"):
        price_quote([make_line()], Rules(currency="GBP", discount=Discount(amount=Decimal(101))))


def test_an_empty_quote_comes_to_nothing():
    empty = price_quote([], PLAIN)
    assert (empty.totals.with_tax, empty.margin_percent, empty.markup_percent) == (0, None, None)
    assert waterfall(empty) == ()


def test_margin_and_markup_of_the_whole():
    quote = price_quote([make_line()], Rules(currency="GBP", profit={Kind.MATERIAL: MARKUP_25}))
    assert (quote.profit, quote.margin_percent, quote.markup_percent) == (25, 20, 25)


def test_price_at_another_margin_leaves_the_sums_alone():
    lines = [
        make_line(key="1", unit_cost=Decimal(800)),
        make_line(key="2", kind=Kind.PROVISIONAL_SUM, unit_cost=Decimal(50)),
        labour(1, 80, key="3", unit_price=Decimal(81)),
    ]
    assert at_margin(lines, PLAIN, Decimal(20)).totals.lines == Decimal("1150.00")


def test_waterfall_ends_at_the_total_with_tax():
    lines = [make_line(key="1", discount=Discount(amount=Decimal(5))), labour(2, 20, key="2")]
    quote = price_quote(lines, Rules(currency="GBP", profit={Kind.MATERIAL: MARKUP_25}))
    steps = waterfall(quote)
    assert [step.name for step in steps] == ["labour", "material", "markup", "discount", "tax"]
    assert steps[-1].running == quote.totals.with_tax == Decimal("192.00")


def test_stages_add_up_though_they_do_not_divide():
    totals = price_quote([make_line(unit_cost=Decimal("1000.01"))], PLAIN).totals
    thirds = [
        Stage("Deposit", Decimal("33.3")),
        Stage("Lining", Decimal("33.3")),
        Stage("Handover", Decimal("33.4")),
    ]
    stages = stage_amounts(totals, thirds, "GBP")
    assert sum(stage.without_tax for stage in stages) == totals.without_tax


def test_a_stage_is_what_its_invoice_will_ask_for():
    """By hand: 40, 40 and 20 % of 1267.38 are 506.95, 506.95 and 253.48; 20 % tax 101.39, 101.39 and 50.70.

    So they come to 1520.86, though 40 % of that would be 608.34 and a fraction.
    """
    totals = price_quote([make_line(unit_cost=Decimal("1267.38"))], PLAIN).totals
    shares = [Stage("Deposit", Decimal(40)), Stage("Lining", Decimal(40)), Stage("Handover", Decimal(20))]
    asked = [stage.with_tax for stage in stage_amounts(totals, shares, "GBP")]
    assert asked == [Decimal("608.34"), Decimal("608.34"), Decimal("304.18")]


@pytest.mark.parametrize("percents", [["50", "49"], ["110", "-10"], ["100", "0"]])
def test_stages_that_do_not_make_the_whole_are_refused(percents):
    totals = price_quote([make_line()], PLAIN).totals
    with pytest.raises(PricingError):
        stage_amounts(totals, [Stage("", Decimal(percent)) for percent in percents], "GBP")


def test_no_stages_is_no_amounts():
    assert stage_amounts(price_quote([make_line()], PLAIN).totals, [], "GBP") == ()


def test_change_order_adds_and_omits_with_tax_on_the_difference():
    quoted = price_quote([make_line(unit_cost=Decimal(300), mass_kg=Decimal(12))], PLAIN).lines[0]
    added = [labour(6, 50, tax=STANDARD), make_line(unit_cost=Decimal(120))]
    effect = price_quote(added, PLAIN, omissions=[omit(quoted, share=Decimal("0.5"), currency="GBP")])
    assert effect.omissions == Decimal(-150)
    assert (effect.totals.without_tax, effect.totals.tax) == (Decimal(270), Decimal(54))
    assert (effect.hours, effect.mass_kg, days_of(effect.hours, Decimal(8))) == (6, -6, Decimal("0.75"))


@pytest.mark.parametrize("share", ["0", "-0.5", "1.01"])
def test_more_than_was_quoted_cannot_be_omitted(share):
    (quoted,) = price_quote([make_line()], PLAIN).lines
    with pytest.raises(PricingError):
        omit(quoted, share=Decimal(share), currency="GBP")


def test_a_day_without_hours_is_refused():
    with pytest.raises(PricingError):
        days_of(Decimal(1), Decimal(0))
