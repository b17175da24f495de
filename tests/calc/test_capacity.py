"""Hours still to be worked, on the weeks they are planned for."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.progress import Booking, monday, spread

WEDNESDAY = date(2026, 6, 3)
MONDAY = date(2026, 6, 1)


def hours(*bookings: Booking, weeks: int = 3) -> list[Decimal]:
    return spread(bookings, today=WEDNESDAY, weeks=weeks)


@pytest.mark.parametrize(
    ("booking", "expected"),
    [
        pytest.param(Booking(Decimal(40), date(2026, 6, 8), 5), [0, 40, 0], id="one whole week"),
        pytest.param(Booking(Decimal(40), date(2026, 6, 11), 4), [0, 20, 20], id="over a weekend"),
        pytest.param(Booking(Decimal(30), MONDAY, 5), [30, 0, 0], id="what is left falls on what is left"),
        pytest.param(Booking(Decimal(8), date(2026, 5, 4), 2), [8, 0, 0], id="a plan that is over falls now"),
        pytest.param(Booking(Decimal(8), date(2026, 6, 17), 0), [0, 0, 8], id="no days: on its first"),
        pytest.param(Booking(Decimal(8), None, 5), [0, 0, 0], id="not planned"),
        pytest.param(Booking(Decimal(0), MONDAY, 5), [0, 0, 0], id="nothing left"),
        pytest.param(Booking(Decimal(-3), MONDAY, 5), [0, 0, 0], id="less than nothing left"),
        pytest.param(Booking(Decimal(8), date(2027, 1, 4), 1), [0, 0, 0], id="beyond the last week"),
    ],
)
def test_by_week(booking: Booking, expected: list[int]) -> None:
    assert hours(booking) == expected


def test_bookings_add_up() -> None:
    one = Booking(Decimal(10), MONDAY, 5)
    assert hours(one, one) == [20, 0, 0]


@given(
    st.integers(1, 400).map(Decimal),
    st.integers(-60, 60).map(lambda ahead: WEDNESDAY + timedelta(days=ahead)),
    st.integers(0, 60),
)
def test_no_hour_is_lost_or_added(worth: Decimal, start: date, days: int) -> None:
    found = hours(Booking(worth, start, days), weeks=60)
    assert abs(sum(found) - worth) < Decimal("1e-20")


def test_a_week_starts_on_monday() -> None:
    assert monday(date(2026, 6, 7)) == MONDAY
