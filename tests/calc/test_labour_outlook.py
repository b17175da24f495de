"""The labour of a quote as finished jobs let it end, and the chance that the price holds."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quotes.pricing import (
    Kind,
    Line,
    PricedQuote,
    Rules,
    TaxCategory,
    TaxRate,
    labour_outlook,
    price_quote,
)

STANDARD = TaxRate(TaxCategory.STANDARD, Decimal(20))


def priced(hours: str = "100", contingency: str = "10", kind: Kind = Kind.LABOUR) -> PricedQuote:
    """Labour at 20 an hour, priced at cost with a contingency."""
    line = Line("1", "1", kind, Decimal(hours), Decimal(20), STANDARD, hours=Decimal(hours))
    return price_quote([line], Rules("GBP", contingency_percent=Decimal(contingency)))


@pytest.mark.parametrize(
    ("ratios", "holds"),
    [
        pytest.param([0.9, 1.0, 1.05], 100, id="all within the contingency of a tenth"),
        pytest.param([1.1, 1.1, 1.1], 100, id="just at the contingency"),
        pytest.param([1.2, 1.3, 1.5], 0, id="all beyond it"),
    ],
)
def test_the_price_holds_while_the_contingency_pays(ratios, holds):
    found = labour_outlook(priced(), ratios)
    assert (found.holds, found.jobs, found.contingency) == (holds, 3, Decimal(200))


def test_half_the_jobs_beyond_leave_about_half_a_chance():
    """Of draws between two equal heaps at 1.0 and 1.2, half lie at or below the middle, by symmetry."""
    found = labour_outlook(priced(), [1.0, 1.2] * 4)
    assert 45 <= found.holds <= 55


def test_low_likely_and_high_are_the_quoted_hours_times_past_ratios():
    found = labour_outlook(priced(), [1.25] * 3)
    assert (found.ends.low, found.ends.likely, found.ends.high) == (125, 125, 125)


@pytest.mark.parametrize("ratios", [[], [1.0], [0.9, 1.4]])
def test_too_few_jobs_give_their_number_and_no_figure(ratios):
    found = labour_outlook(priced(), ratios)
    assert (found.jobs, found.ends, found.holds, found.no_loss) == (len(ratios), None, None, None)


def test_no_labour_no_outlook():
    assert labour_outlook(priced(kind=Kind.MATERIAL), [1.0] * 3) is None


@given(st.lists(st.floats(0.5, 2.5), min_size=3, max_size=12), st.integers(0, 50), st.integers(0, 50))
def test_more_contingency_never_lowers_the_chance(ratios, percent, more):
    less_room = labour_outlook(priced(contingency=str(percent)), ratios)
    more_room = labour_outlook(priced(contingency=str(percent + more)), ratios)
    assert 0 <= less_room.holds <= more_room.holds <= 100
    assert less_room.holds <= less_room.no_loss
