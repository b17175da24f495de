"""Lengths of work: how they are written, rounded, added up, and where two share time."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.progress.stretches import (
    HOUR,
    Stretch,
    elapsed_seconds,
    long_days,
    overlapping,
    read_hours,
    rounded_seconds,
    seconds_by_day,
)

NINE = datetime(2026, 6, 3, 9, tzinfo=UTC)
DAY = date(2026, 6, 3)


def stretch(name, start, end):
    return Stretch(name, DAY, 0, NINE + timedelta(minutes=start), NINE + timedelta(minutes=end))


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("7", 420),
        ("7.5", 450),
        ("7,25", 435),
        (".5", 30),
        ("7:20", 440),
        ("7h20", 440),
        ("7 h 20 min", 440),
        ("45 min", 45),
        ("90m", 90),
        ("8 hours", 480),
        ("0.3333", 20),
        ("0:05", 5),
    ],
)
def test_hours_as_makers_write_them(text, minutes):
    assert read_hours(text) == minutes * 60


@pytest.mark.parametrize("text", ["", "all day", "7:60", "7.", "-3", "7:5", "1e3", "٣.٥.٥"])
def test_what_is_no_length_of_time_is_said_so(text):
    with pytest.raises(ValueError, match=r"write 7\.5, 7:20 or 45 min"):
        read_hours(text)


@pytest.mark.parametrize(("step", "seconds", "kept"), [(0, 29, 0), (0, 30, 60), (6, 179, 0), (6, 180, 360)])
def test_the_half_of_a_step_goes_up(step, seconds, kept):
    assert rounded_seconds(seconds, step) == kept


@given(seconds=st.integers(0, 10**6), step=st.integers(0, 60))
def test_rounding_is_to_a_step_and_off_by_half_of_it_at_most(seconds, step):
    kept = rounded_seconds(seconds, step)
    size = (step or 1) * 60
    assert kept % size == 0
    assert 2 * abs(kept - seconds) <= size


def test_a_time_without_a_zone_is_refused():
    with pytest.raises(ValueError, match="time zone"):
        elapsed_seconds(NINE.replace(tzinfo=None), NINE)


@pytest.mark.parametrize(
    ("stretches", "found"),
    [
        ([], set()),
        ([(1, 0, 60), (2, 60, 90)], set()),
        ([(1, 0, 60), (2, 59, 90)], {1, 2}),
        ([(1, 0, 240), (2, 10, 20), (3, 100, 110)], {1, 2, 3}),
        ([(1, 0, 60), (2, 0, 60)], {1, 2}),
        ([(1, 0, 60), (2, 30, 30)], set()),
    ],
    ids=["none", "touching", "a minute", "one over two", "the same", "of no length"],
)
def test_which_share_time(stretches, found):
    assert overlapping([stretch(*one) for one in stretches]) == found


def test_hours_without_instants_share_time_with_nothing():
    assert overlapping([Stretch(1, DAY, HOUR), stretch(2, 0, 60)]) == set()


def test_a_day_over_twelve_hours_is_long():
    rows = [Stretch(1, DAY, 7 * HOUR), Stretch(2, DAY, 5 * HOUR), Stretch(3, DAY + timedelta(1), 60)]
    assert seconds_by_day(rows) == {DAY: 12 * HOUR, DAY + timedelta(1): 60}
    assert long_days(rows) == {}
    assert long_days([*rows, Stretch(4, DAY, 1)]) == {DAY: 12 * HOUR + 1}


@given(
    st.lists(st.tuples(st.integers(0, 500), st.integers(1, 100)), max_size=8),
)
def test_shared_time_is_what_comparing_every_two_finds(rows):
    stretches = [stretch(name, start, start + length) for name, (start, length) in enumerate(rows)]
    every_two = {
        one.name
        for one in stretches
        for other in stretches
        if one is not other and one.start < other.end and other.start < one.end
    }
    assert overlapping(stretches) == every_two
