"""What holds for every quote, whatever its figures."""

from dataclasses import replace
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from jobs.money import minor_unit, round_money
from quotes.pricing import (
    Discount,
    Kind,
    Line,
    Overhead,
    OverheadBasis,
    Profit,
    ProfitBasis,
    Rules,
    Stage,
    margin_from_markup,
    markup_from_margin,
    omit,
    phase_budgets,
    price_line,
    price_quote,
    stage_amounts,
    tax_inside,
    waterfall,
)
from tests.calc.prices import REDUCED, REVERSED, STANDARD, ZERO_RATED

percents = st.decimals("0", "90", places=2)
currencies = st.sampled_from(["GBP", "JPY", "KWD"])
rates = st.sampled_from([STANDARD, REDUCED, ZERO_RATED, REVERSED])
profits = st.builds(Profit, st.sampled_from(ProfitBasis), percents)
discounts = st.one_of(st.just(Discount()), st.builds(Discount, percent=percents))
lines = st.builds(
    Line,
    key=st.uuids().map(str),
    phase=st.sampled_from(["strip", "lining", "bunk"]),
    kind=st.sampled_from(Kind),
    quantity=st.decimals("0", "500", places=3),
    unit_cost=st.decimals("0", "2000", places=4),
    hours=st.decimals("0", "80", places=2),
    tax=rates,
    discount=discounts,
    optional=st.booleans(),
    chosen=st.booleans(),
)
quotes = st.lists(lines, max_size=12)
rules = st.builds(
    Rules,
    currency=currencies,
    profit=st.dictionaries(st.sampled_from(Kind), profits),
    overhead=st.builds(Overhead, st.sampled_from(OverheadBasis), st.decimals("0", "40", places=2)),
    contingency_percent=percents,
    discount=discounts,
)


def in_units(amount, currency):
    return amount == round_money(amount, currency)


@given(quotes, rules)
def test_what_is_printed_adds_up(some, how):
    quote = price_quote(some, how)
    totals = quote.totals
    assert totals.lines == sum(line.price for line in quote.counted)
    assert sum(subtotal.taxable for subtotal in totals.subtotals) == totals.without_tax
    assert totals.without_tax + totals.tax == totals.with_tax == totals.due


@given(quotes, rules)
def test_every_printed_figure_is_whole_minor_units(some, how):
    quote = price_quote(some, how)
    figures = [
        getattr(line, part) for line in quote.lines for part in ("cost", "overhead", "markup", "price")
    ]
    figures += [quote.totals.allowances, quote.totals.tax, quote.totals.with_tax]
    assert all(in_units(figure, how.currency) for figure in figures)


@given(quotes, rules)
def test_each_line_is_the_sum_of_its_links(some, how):
    for priced in price_quote(some, how).lines:
        links = priced.cost + priced.overhead + priced.contingency + priced.markup - priced.discount
        assert links == priced.price


@given(quotes, rules, st.randoms())
def test_the_order_of_the_lines_changes_nothing(some, how, chance):
    mixed = list(some)
    chance.shuffle(mixed)
    assert price_quote(mixed, how).totals == price_quote(some, how).totals


@given(quotes, rules)
def test_the_waterfall_runs_from_nothing_to_the_total(some, how):
    quote, steps = price_quote(some, how), waterfall(price_quote(some, how))
    assert sum(step.amount for step in steps) == quote.totals.with_tax
    assert not steps or steps[-1].running == quote.totals.with_tax


@given(quotes, rules)
def test_more_discount_never_costs_the_client_more(some, how):
    cheaper = Rules(how.currency, how.profit, how.overhead, how.contingency_percent, Discount(Decimal(100)))
    assert price_quote(some, cheaper).totals.with_tax <= price_quote(some, how).totals.with_tax
    assert price_quote(some, cheaper).totals.without_tax == 0


@given(quotes, rules)
def test_lines_with_their_share_of_the_discount_add_up_to_the_totals_by_rate(some, how):
    quote = price_quote(some, how)
    by_rate = {}
    for each in quote.in_contract:
        by_rate[each.line.tax] = by_rate.get(each.line.tax, 0) + each.price
    assert by_rate == {subtotal.rate: subtotal.taxable for subtotal in quote.totals.subtotals}


@given(quotes, rules)
def test_omitting_every_line_undoes_the_quote_discount_and_all(some, how):
    quote = price_quote(some, how)
    gone = [omit(each, currency=how.currency) for each in quote.in_contract]
    effect = price_quote([], replace(how, discount=Discount()), omissions=gone)
    both = add_up_by_rate(quote, effect)
    assert set(both.values()) <= {0}
    assert quote.hours + effect.hours == 0


def add_up_by_rate(*quotes):
    together = {}
    for subtotal in (each for quote in quotes for each in quote.totals.subtotals):
        together[subtotal.rate] = together.get(subtotal.rate, 0) + subtotal.taxable
    return together


@given(quotes, rules)
def test_phase_budgets_add_up_to_the_quote(some, how):
    quote = price_quote(some, how)
    budgets = phase_budgets(quote)
    assert sum(budget.price for budget in budgets) == quote.totals.without_tax
    assert sum(budget.hours for budget in budgets) == quote.hours
    costs = sum(budget.labour_cost + budget.material_cost + budget.other_cost for budget in budgets)
    assert costs == sum(priced.cost for priced in quote.counted)


@given(quotes, rules, st.lists(st.integers(1, 100), min_size=1, max_size=6))
def test_stages_without_tax_add_up_to_the_totals(some, how, weights):
    whole = Decimal(sum(weights))
    shares = [(100 * weight / whole).quantize(Decimal("0.01")) for weight in weights]
    shares[-1] += 100 - sum(shares)
    if min(shares) <= 0:
        return
    totals = price_quote(some, how).totals
    stages = stage_amounts(totals, [Stage("", share) for share in shares], how.currency)
    assert sum(stage.without_tax for stage in stages) == totals.without_tax
    roundings = (len(stages) + 1) * len(totals.subtotals)
    assert abs(sum(stage.tax for stage in stages) - totals.tax) <= roundings * minor_unit(how.currency) / 2


@given(st.decimals("0", "99.9", places=2))
def test_markup_and_margin_are_each_others_inverse(margin):
    assert abs(margin_from_markup(markup_from_margin(margin)) - margin) < Decimal("1e-20")


@given(st.decimals("0", "1000000", places=2), st.sampled_from([Decimal(20), Decimal(5), Decimal("12.5")]))
def test_tax_inside_a_price_is_the_tax_that_was_put_on(net, percent):
    gross = net + round_money(net * percent / 100, "GBP")
    assert abs(gross - tax_inside(gross, percent, "GBP") - net) <= Decimal("0.01")


@given(st.lists(st.decimals("0", "5000", places=2), min_size=4, max_size=4), rules)
def test_a_difference_and_the_way_taken_make_the_other_way(costs, how):
    """One way quoted outright is the other with its difference on top, to the penny of rounding."""
    plain = Rules(how.currency, how.profit, how.overhead, how.contingency_percent)
    material, labour, other_material, other_labour = costs

    def way(cost, of_labour, **fields):
        hours = of_labour / 20
        return Line("", "", Kind.MATERIAL, Decimal(1), cost, STANDARD, hours, labour_cost=of_labour, **fields)

    taken, other = way(material + labour, labour), way(other_material + other_labour, other_labour)
    over = way(other.unit_cost - taken.unit_cost, other_labour - labour, difference=True)
    together = price_line(taken, plain).price + price_line(over, plain).price
    unit = Decimal(1) if how.currency == "JPY" else Decimal("0.01")
    assert abs(together - price_line(other, plain).price) <= unit


@given(st.decimals("0", "5000", places=2), st.decimals("0", "5000", places=2), rules)
def test_labour_within_a_line_bears_what_labour_bears(material, labour, how):
    """The parts priced as two lines come to the same, to the penny of rounding."""
    plain = Rules(how.currency, how.profit, how.overhead, how.contingency_percent)
    hours = labour / 20
    whole = Line("", "", Kind.MATERIAL, Decimal(1), material + labour, STANDARD, hours, labour_cost=labour)
    boards = Line("", "", Kind.MATERIAL, Decimal(1), material, STANDARD)
    work = Line("", "", Kind.LABOUR, Decimal(1), labour, STANDARD, hours)
    apart = price_line(boards, plain).price + price_line(work, plain).price
    unit = Decimal(1) if how.currency == "JPY" else Decimal("0.01")
    assert abs(apart - price_line(whole, plain).price) <= unit


@given(st.decimals("0", "5000", places=2), st.decimals("0", "5000", places=2))
def test_labour_within_a_line_is_the_phases_labour_and_leaves_with_it(material, labour):
    how = Rules("GBP", {})
    whole = Line(
        "", "bunk", Kind.MATERIAL, Decimal(1), material + labour, STANDARD, labour / 20, labour_cost=labour
    )
    (budget,) = phase_budgets(price_quote([whole], how))
    assert (budget.labour_cost, budget.material_cost) == (labour, material)
    gone = omit(price_line(whole, how), currency="GBP")
    (nothing,) = phase_budgets(price_quote([whole], how, omissions=[gone]))
    assert (nothing.labour_cost, nothing.material_cost, nothing.hours) == (0, 0, 0)
