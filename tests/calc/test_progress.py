"""Where a phase and a job will end."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs import progress
from jobs.progress import Amounts, Basis, PhaseRow, planned_fraction


def amounts(hours, labour, other):
    return Amounts(Decimal(hours), Decimal(labour), Decimal(other))


def measure(phase):
    return progress.measure(phase, currency="GBP")


def measure_job(phases):
    return progress.measure_job(phases, currency="GBP")


def row(**changes):
    fields = {"key": "1", "title": "Lining", "original": amounts(32, 800, 600)}
    return PhaseRow(**(fields | changes))


def test_changes_revise_the_original():
    assert row(changes=amounts(-2, -50, 120)).revised == amounts(30, 750, 720)


def test_under_way_hours_end_at_the_rate_so_far():
    got = measure(row(actual=amounts(29, 725, 0), percent_done=Decimal(70)))
    assert got.basis is Basis.RATE_SO_FAR
    assert (got.forecast.hours, got.forecast.labour) == (Decimal("41.43"), Decimal("1035.71"))
    assert got.is_over


def test_material_bought_ahead_does_not_scale_with_percent_done():
    got = measure(row(actual=amounts(8, 200, 580), committed=amounts(0, 0, 90), percent_done=Decimal(25)))
    assert got.forecast == amounts(32, 800, 670)
    assert got.variance == amounts(0, 0, -70)
    assert got.to_complete == amounts(24, 600, 90)


def test_not_begun_ends_at_budget():
    got = measure(row())
    assert (got.forecast, got.basis, got.is_over) == (got.row.revised, Basis.BUDGET, False)


def test_hours_spent_say_nothing_of_percent_done():
    got = measure(row(actual=amounts(31, 775, 0)))
    assert (got.basis, got.forecast.hours, got.earned.hours) == (Basis.BUDGET, 32, 0)


def test_no_percent_given_but_already_over_ends_at_the_actual():
    assert measure(row(actual=amounts(40, 1000, 0))).forecast == amounts(40, 1000, 600)


def test_done_ends_at_the_actual_and_what_is_on_order():
    got = measure(row(actual=amounts(30, 750, 500), committed=amounts(0, 0, 20), percent_done=Decimal(100)))
    assert (got.forecast, got.basis) == (amounts(30, 750, 520), Basis.DONE)


def test_the_makers_own_cost_to_complete_stands_before_any_rule():
    got = measure(row(actual=amounts(29, 725, 0), percent_done=Decimal(70), to_complete=amounts(5, 125, 40)))
    assert (got.forecast, got.basis) == (amounts(34, 850, 40), Basis.ENTERED)


@pytest.mark.parametrize("percent", ["-1", "100.5"])
def test_percent_done_is_between_nothing_and_all(percent):
    with pytest.raises(ValueError, match="between"):
        row(percent_done=Decimal(percent))


def test_the_job_is_done_by_the_hours_of_its_phases():
    job = measure_job(
        [
            row(original=amounts(14, 350, 0), percent_done=Decimal(100)),
            row(original=amounts(32, 800, 0), percent_done=Decimal(70)),
            row(original=amounts(41.5, 1000, 0), percent_done=Decimal(15)),
        ]
    )
    assert round(job.total.row.percent_done, 1) == Decimal("48.7")


def test_a_job_without_hours_is_done_by_its_cost_and_without_budget_not_at_all():
    costs = [row(original=amounts(0, 0, 300), percent_done=Decimal(50)), row(original=amounts(0, 0, 100))]
    assert measure_job(costs).total.row.percent_done == Decimal("37.5")
    assert measure_job([]).total.row.percent_done is None


figures = st.builds(Amounts, *[st.decimals("0", "5000", places=2)] * 3)
rows = st.builds(
    PhaseRow,
    key=st.just(""),
    title=st.just(""),
    original=figures,
    committed=figures,
    actual=figures,
    percent_done=st.one_of(st.none(), st.decimals("0", "100", places=1)),
    to_complete=st.one_of(st.none(), figures),
)


@given(st.lists(rows, max_size=8))
def test_the_job_is_the_sum_of_its_phases(some):
    job = measure_job(some)
    for part in ("hours", "labour", "other", "cost"):
        whole = sum(getattr(phase.forecast, part) for phase in job.phases)
        assert whole == getattr(job.total.forecast, part)


@given(rows)
def test_no_phase_ends_below_what_is_already_spent(some):
    left = measure(some).to_complete
    assert min(left.hours, left.labour, left.other) >= 0


@pytest.mark.parametrize(
    ("on", "fraction"),
    [  # Wednesday 4 to Tuesday 10 March 2026 is five working days
        (date(2026, 3, 3), "0"),
        (date(2026, 3, 4), "0.2"),
        (date(2026, 3, 8), "0.6"),
        (date(2026, 3, 10), "1"),
        (date(2026, 4, 1), "1"),
    ],
)
def test_planned_by_working_days(on, fraction):
    assert planned_fraction(start=date(2026, 3, 4), days=Decimal(5), on=on) == Decimal(fraction)


def test_a_day_that_starts_on_a_saturday_is_worked_on_monday():
    planned = [
        planned_fraction(start=date(2026, 3, 7), days=Decimal(1), on=date(2026, 3, on)) for on in (7, 8, 9)
    ]
    assert planned == [0, 0, 1]


def test_a_phase_without_start_is_not_planned_and_one_without_days_is_done_at_once():
    assert planned_fraction(start=None, days=Decimal(5), on=date(2026, 3, 4)) == 0
    assert planned_fraction(start=date(2026, 3, 4), days=Decimal(0), on=date(2026, 3, 4)) == 1
