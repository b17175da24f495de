"""Where the lines of the drawings go."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.charts.bars import Stretch, phase_bar
from jobs.charts.scale import axis_for
from jobs.charts.scatter import Pair, scatter_chart
from jobs.charts.waterfall import waterfall
from jobs.charts.weeks import LINE_GAP, Week, week_chart
from jobs.progress import Step

FIRST = date(2026, 6, 7)


@given(st.decimals(min_value="0.01", max_value=10**7, places=2))
def test_an_axis_holds_its_largest_value_and_wastes_little(largest: Decimal) -> None:
    axis = axis_for(largest, 240)
    assert largest <= axis.top <= largest * 2
    assert 3 <= len(axis.ticks) <= 8
    assert axis.at(largest) <= 240


@pytest.mark.parametrize(("largest", "top"), [("41.5", 50), ("86.3", 100), ("0", 1), ("1000", 1000)])
def test_an_axis_ends_on_a_round_figure(largest: str, top: int) -> None:
    assert axis_for(Decimal(largest), 240).top == top


def bar(agreed: int, spent: int, forecast: int) -> tuple[Stretch | None, Stretch | None, Stretch | None]:
    drawn = phase_bar(
        axis_for(Decimal(50), 100), agreed=Decimal(agreed), spent=Decimal(spent), forecast=Decimal(forecast)
    )
    return drawn.spent, drawn.forecast, drawn.beyond


@pytest.mark.parametrize(
    ("figures", "drawn"),
    [
        pytest.param((40, 10, 30), (Stretch(0, 20), Stretch(20, 40), None), id="within"),
        pytest.param((20, 10, 30), (Stretch(0, 20), Stretch(20, 20), Stretch(40, 20)), id="will be over"),
        pytest.param((20, 30, 40), (Stretch(0, 60), None, Stretch(40, 40)), id="is over"),
        pytest.param((20, 20, 20), (Stretch(0, 40), None, None), id="exact"),
        pytest.param((0, 10, 10), (Stretch(0, 20), None, None), id="nothing agreed"),
        pytest.param((0, 0, 0), (None, None, None), id="nothing at all"),
    ],
)
def test_a_phases_bar(figures: tuple[int, int, int], drawn: tuple[Stretch | None, ...]) -> None:
    assert bar(*figures) == drawn


def weeks(*rows: tuple[int, int | None, int | None]) -> list[Week]:
    def known(value: int | None) -> Decimal | None:
        return None if value is None else Decimal(value)

    return [
        Week(FIRST + timedelta(weeks=at), Decimal(planned), known(earned), known(actual))
        for at, (planned, earned, actual) in enumerate(rows)
    ]


def test_lines_to_come_stop_at_this_week() -> None:
    chart = week_chart(weeks((0, 0, 0), (10, 5, 8), (20, None, None)), today=FIRST + timedelta(days=5))
    assert chart is not None
    points = {line.name: len(line.points.split()) for line in chart.lines}
    assert points == {"planned": 3, "earned": 2, "actual": 2}


def test_names_that_end_close_together_are_moved_apart() -> None:
    chart = week_chart(weeks((0, 0, 0), (10, 10, 10)), today=FIRST)
    assert chart is not None
    places = [line.label_y for line in chart.lines]
    assert all(below - above >= LINE_GAP for above, below in pairwise(places))


def test_no_name_stands_among_the_dates() -> None:
    """A job begun with nothing done: planned and earned both end at nothing, by the foot."""
    chart = week_chart(weeks((0, 0, 0), (0, 0, 29)), today=FIRST)
    assert chart is not None
    assert [(line.name, line.label_y <= chart.foot) for line in chart.lines] == [
        ("actual", True), ("planned", True), ("earned", True)
    ]  # fmt: skip
    places = [line.label_y for line in chart.lines]
    assert all(below - above >= LINE_GAP for above, below in pairwise(places))


@pytest.mark.parametrize("rows", [(), ((5, 5, 5),), ((0, 0, 0), (0, 0, 0))])
def test_without_two_weeks_of_anything_there_is_no_chart(rows: tuple[tuple[int, int, int], ...]) -> None:
    assert week_chart(weeks(*rows), today=FIRST) is None


def test_a_mark_above_the_slant_took_longer() -> None:
    chart = scatter_chart([Pair("a", Decimal(10), Decimal(15)), Pair("b", Decimal(10), Decimal(10))])
    assert chart is not None
    assert [dot.is_over for dot in chart.dots] == [True, False]
    assert chart.dots[1].x - chart.left == chart.foot - chart.dots[1].y


def test_no_pairs_no_chart() -> None:
    assert scatter_chart([]) is None


def test_a_waterfall_hangs_together() -> None:
    steps = [
        Step("start", Decimal(100), Decimal(100)),
        Step("lost", Decimal(-150), Decimal(-50)),
        Step("won", Decimal(50), Decimal(0)),
        Step("end", Decimal(0), Decimal(0)),
    ]
    falls = waterfall(steps)
    assert [fall.style for fall in falls] == ["whole", "loss", "gain", "whole"]
    assert (falls[0].nought, falls[0].bar) == (80, Stretch(80, 160))
    assert falls[1].bar == Stretch(0, 240)
    assert falls[2].bar == Stretch(0, 80)


def test_a_waterfall_of_nothing_is_not_drawn() -> None:
    assert waterfall([Step("start", Decimal(0), Decimal(0))]) == []
