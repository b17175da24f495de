"""Hours and estimates against published figures, the source beside each."""

from datetime import datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest

from jobs.progress import (
    ThreePoint,
    average_week,
    chargeable_hours,
    cumulative_average_hours,
    elapsed_minutes,
    hours_from_minutes,
    learning_exponent,
    nearest_quarter,
    path_deviation,
    path_mean,
    unit_hours,
)

LONDON = ZoneInfo("Europe/London")


@pytest.mark.parametrize(
    ("minutes", "hours"), [([440], "7.33"), ([37], "0.62"), ([20] * 5, "1.67"), ([], "0.00")]
)
def test_minutes_are_summed_before_they_are_hours(minutes, hours):
    assert hours_from_minutes(minutes) == Decimal(hours)  # arithmetic


@pytest.mark.parametrize(("minutes", "rounded"), [(7, 0), (8, 15), (22, 15), (23, 30)])
def test_nearest_quarter_of_an_hour(minutes, rounded):
    assert nearest_quarter(minutes) == rounded  # common practice


@pytest.mark.parametrize(
    ("start", "end", "hours"),
    [  # IANA time zone data: the clocks in London go back on 25 October 2026
        (datetime(2026, 6, 1, 22, tzinfo=LONDON), datetime(2026, 6, 2, 2, tzinfo=LONDON), 4),
        (datetime(2026, 10, 25, 0, 30, tzinfo=LONDON), datetime(2026, 10, 25, 2, 30, tzinfo=LONDON), 3),
    ],
)
def test_over_midnight_and_the_change_of_the_clocks(start, end, hours):
    assert elapsed_minutes(start, end) == hours * 60


def test_average_week_over_the_reference_period():
    # UK Working Time Regulations 1998 (SI 1998/1833) reg. 4(6): 816 hours in 17 weeks is 48.
    assert average_week(worked=Decimal(816), made_up=Decimal(0), weeks=17) == 48
    with pytest.raises(ValueError, match="week"):
        average_week(worked=Decimal(1), made_up=Decimal(0), weeks=0)


def test_chargeable_hours_of_a_year():
    # Common practice: 260 days less 28 leave and 5 sick, 8 hours, three quarters of it on jobs.
    hours = chargeable_hours(days=260, leave=28, sick=5, hours_a_day=Decimal(8), percent_on_jobs=Decimal(75))
    assert hours == 1362


def test_three_point_estimate():
    # Worked example in the manual of a charting library, after PMBOK.
    estimate = ThreePoint(Decimal(5), Decimal(8), Decimal(14))
    assert (estimate.mean, estimate.deviation) == (Decimal("8.5"), Decimal("1.5"))


def test_estimates_along_a_path():
    # The same worked example: means 3.17, 8.5, 4.17, 2 and deviations 0.5, 1.5, 0.5, 0.33.
    points = [(2, 3, 5), (5, 8, 14), (3, 4, 6), (1, 2, 3)]
    path = [ThreePoint(*(Decimal(figure) for figure in three)) for three in points]
    assert abs(path_mean(path) - Decimal("17.83")) <= Decimal("0.005")
    assert abs(path_deviation(path) - Decimal("1.69")) <= Decimal("0.005")


def test_estimate_out_of_order_is_refused_and_a_certain_one_has_no_deviation():
    with pytest.raises(ValueError, match="between"):
        ThreePoint(Decimal(5), Decimal(4), Decimal(6))
    assert ThreePoint(Decimal(4), Decimal(4), Decimal(4)).deviation == 0


def test_learning_exponent_of_80_per_cent():
    assert abs(learning_exponent(0.8) + 0.321928) < 1e-6  # ln 0.8 / ln 2
    with pytest.raises(ValueError, match="rate"):
        learning_exponent(0)


@pytest.mark.parametrize(
    ("unit", "time"), [(2, 80_000), (4, 64_000), (8, 51_200), (16, 40_960), (32, 32_768)]
)
def test_unit_model(unit, time):
    # Operations-management textbook supplement on learning curves, Exhibit 4A.2.
    assert abs(unit_hours(first=100_000, rate=0.8, unit=unit) - time) <= 1


@pytest.mark.parametrize(("units", "total"), [(4, 314_210), (8, 534_591), (16, 892_014)])
def test_unit_model_added_up(units, total):
    # The same exhibit.
    assert abs(sum(unit_hours(first=100_000, rate=0.8, unit=at) for at in range(1, units + 1)) - total) <= 1


@pytest.mark.parametrize(("units", "average"), [(2, 80), (4, 64), (8, 51.2)])
def test_cumulative_average_model(units, average):
    # Wright 1936 (definition at second hand).
    assert abs(cumulative_average_hours(first=100, rate=0.8, units=units) - average) <= 0.01
