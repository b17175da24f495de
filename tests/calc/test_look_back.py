"""Where a job parted from its quote, and what that did to the margin."""

from __future__ import annotations

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from jobs.progress import Amounts, Parting, PhaseProgress, PhaseRow, margin_steps, measure, part, together

money = st.decimals(min_value=0, max_value=100_000, places=2)


def finished(agreed: Amounts, actual: Amounts, on_order: int = 0) -> PhaseProgress:
    row = PhaseRow("1", "Lining", original=agreed, actual=actual, committed=Amounts(other=Decimal(on_order)))
    return measure(row, currency="GBP", finished=True)


def parted(agreed: tuple[int, int, int], actual: tuple[int, int, int]) -> Parting:
    return part(finished(Amounts(*map(Decimal, agreed)), Amounts(*map(Decimal, actual))), currency="GBP")


def test_hours_and_their_cost_are_told_apart() -> None:
    """Agreed 10 h at 20; taken 12 h at 25: 2 h at 20 are 40 over, and 12 h at 5 more are 60 over."""
    found = parted((10, 200, 100), (12, 300, 90))
    assert (found.hours, found.by_hours, found.by_rate, found.by_other) == (-2, -40, -60, 10)
    assert found.hours_percent == -20


def test_without_agreed_hours_all_labour_counts_as_hours() -> None:
    found = parted((0, 0, 0), (3, 60, 0))
    assert (found.by_hours, found.by_rate, found.hours_percent) == (-60, 0, None)


@given(st.tuples(money, money, money), st.tuples(money, money, money))
def test_the_parts_add_up_to_the_difference(agreed: tuple[Decimal, ...], actual: tuple[Decimal, ...]) -> None:
    found = part(finished(Amounts(*agreed), Amounts(*actual)), currency="GBP")
    assert found.by_hours + found.by_rate + found.by_other == found.cost


@given(money, money, money, money, st.lists(st.tuples(money, money, money, money, money, money), max_size=4))
def test_the_steps_lead_from_the_quoted_margin_to_the_last(
    quoted: Decimal, changes: Decimal, cost: Decimal, more: Decimal, phases: list[tuple[Decimal, ...]]
) -> None:
    parts = [part(finished(Amounts(*phase[:3]), Amounts(*phase[3:])), currency="GBP") for phase in phases]
    steps = margin_steps(quoted=quoted, changes=changes, cost_quoted=cost, cost_changes=more, parts=parts)
    assert steps[0].amount + sum(step.amount for step in steps[1:-1]) == steps[-1].level
    assert steps[-1].level == quoted + changes - cost - more + together(parts).cost


@given(st.tuples(money, money, money), st.tuples(money, money, money), st.integers(0, 5_000))
def test_the_variance_is_that_of_the_progress(
    agreed: tuple[Decimal, ...], actual: tuple[Decimal, ...], on_order: int
) -> None:
    """One sign and one figure: agreed less what was spent and is on order."""
    measured = finished(Amounts(*agreed), Amounts(*actual), on_order)
    found = part(measured, currency="GBP")
    assert (found.hours, found.cost) == (measured.variance.hours, measured.variance.cost)


def test_all_phases_together() -> None:
    whole = together([parted((10, 200, 100), (12, 300, 90)), parted((5, 100, 0), (4, 80, 0))])
    assert (whole.hours, whole.cost) == (-1, -70)
    assert whole.by_hours + whole.by_rate + whole.by_other == whole.cost
    assert together([]).cost == 0
