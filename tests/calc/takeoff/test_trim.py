"""Lengths of trim: long points, scribes, scarfs."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.takeoff.errors import MeasureAgain
from materials.takeoff.result import Operation
from materials.takeoff.trim import End, Run, Taken, Trim, split_to_stock, take_off
from tests.calc.takeoff.hand import CATALOGUE


@pytest.mark.parametrize(
    ("ends", "taken", "expected_mm10"),
    [
        ((End.SQUARE, End.SQUARE), Taken.LONG_POINT, 12_000),
        ((End.MITRE, End.MITRE), Taken.LONG_POINT, 12_000),
        ((End.MITRE, End.SQUARE), Taken.SHORT_POINT, 12_380),
        ((End.MITRE, End.MITRE), Taken.SHORT_POINT, 12_760),
        ((End.SCRIBE, End.SCRIBE), Taken.LONG_POINT, 12_200),
    ],
)
def test_a_run_of_1200_in_38_mm_trim(ends, taken, expected_mm10):
    result = take_off(Trim("batten", (Run("Rail", 12_000, 1, *ends),), taken), CATALOGUE)
    assert result.pieces[0].length_mm10 == expected_mm10


def test_a_run_longer_than_stock_is_scarfed():
    result = take_off(Trim("batten", (Run("Cornice", 50_000, 2),)), CATALOGUE)
    assert [(piece.length_mm10, piece.quantity) for piece in result.pieces] == [(36_000, 2), (14_190, 2)]


def test_work_is_the_run_and_each_mitre():
    result = take_off(Trim("batten", (Run("Rail", 10_000, 4, End.MITRE, End.MITRE),)), CATALOGUE)
    amounts = {work.operation: work.amount for work in result.work}
    assert amounts == {Operation.TRIM: Decimal(4), Operation.MITRE: Decimal(8)}


@pytest.mark.parametrize("runs", [(), (Run("Rail", 0),), (Run("Rail", 10, 0),)])
def test_a_run_of_nothing_is_refused(runs):
    with pytest.raises(MeasureAgain):
        take_off(Trim("batten", runs), CATALOGUE)


def test_stock_too_short_to_scarf_is_refused():
    with pytest.raises(MeasureAgain, match="too short to be scarfed"):
        split_to_stock(10_000, 3_100, 190)


@given(st.integers(1, 300_000), st.integers(6_500, 60_000), st.integers(0, 300))
def test_scarfed_lengths_make_up_the_run_and_come_out_of_stock(length, longest, scarf):
    parts = split_to_stock(length, longest, scarf)
    assert sum(parts) - scarf * (len(parts) - 1) == length
    assert len(parts) == 1 or max(parts) <= longest
    assert len(parts) == 1 or min(parts) >= 3_000 - scarf
