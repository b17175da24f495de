"""Where a job parted from its quote, and what that did to the margin."""

from __future__ import annotations

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from jobs.progress import Amounts, Parting, PhaseRow, margin_steps, part

money = st.decimals(min_value=0, max_value=100_000, places=2)


def row(agreed: Amounts, actual: Amounts) -> PhaseRow:
    return PhaseRow("1", "Lining", original=agreed, actual=actual)


def parted(agreed: tuple[int, int, int], actual: tuple[int, int, int]) -> Parting:
    return part(row(Amounts(*map(Decimal, agreed)), Amounts(*map(Decimal, actual))), currency="GBP")


def test_hours_and_their_cost_are_told_apart() -> None:
    """Agreed 10 h at 20; taken 12 h at 25: 2 h at 20 are 40, and 12 h at 5 more are 60."""
    found = parted((10, 200, 100), (12, 300, 90))
    assert (found.hours, found.by_hours, found.by_rate, found.by_other) == (2, 40, 60, -10)
    assert found.hours_percent == 20


def test_without_agreed_hours_all_labour_counts_as_hours() -> None:
    found = parted((0, 0, 0), (3, 60, 0))
    assert (found.by_hours, found.by_rate, found.hours_percent) == (60, 0, None)


@given(st.tuples(money, money, money), st.tuples(money, money, money))
def test_the_parts_add_up_to_the_difference(agreed: tuple[Decimal, ...], actual: tuple[Decimal, ...]) -> None:
    found = part(row(Amounts(*agreed), Amounts(*actual)), currency="GBP")
    assert found.by_hours + found.by_rate + found.by_other == found.cost


@given(money, money, money, money, st.lists(st.tuples(money, money, money, money, money, money), max_size=4))
def test_the_steps_lead_from_the_quoted_margin_to_the_last(
    quoted: Decimal, changes: Decimal, cost: Decimal, more: Decimal, phases: list[tuple[Decimal, ...]]
) -> None:
    parts = [part(row(Amounts(*phase[:3]), Amounts(*phase[3:])), currency="GBP") for phase in phases]
    steps = margin_steps(quoted=quoted, changes=changes, cost_quoted=cost, cost_changes=more, parts=parts)
    assert steps[0].amount + sum(step.amount for step in steps[1:-1]) == steps[-1].level
    overspent = sum((phase.cost for phase in parts), Decimal(0))
    assert steps[-1].level == quoted + changes - cost - more - overspent
