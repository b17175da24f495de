"""Hours a unit from finished jobs, by operation and grade; outlooks on new labour from past ratios."""

from __future__ import annotations

from decimal import Decimal
from statistics import quantiles

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.progress import AgreedWork, chance_price_holds, lessons, outlook


def line(job: str, phase: int, hours: str, quantity: str = "10", **more: str) -> AgreedWork:
    told = {"operation": "Board a wall", "unit": "m²", "grade": "seen", **more}
    return AgreedWork(job=job, phase=phase, quantity=Decimal(quantity), hours=Decimal(hours), **told)


def test_a_phase_of_one_operation_teaches_its_hours_a_unit() -> None:
    [lesson] = lessons([line("26-001", 1, "8")], {1: Decimal(12)})
    assert (lesson.agreed, lesson.median, lesson.jobs) == (0.8, 1.2, 1)
    assert lesson.ratio == pytest.approx(1.5)


def test_hours_of_a_phase_are_shared_by_the_agreed_hours() -> None:
    work = [line("26-001", 1, "6"), line("26-001", 1, "2", operation="Fit a trim")]
    found = {lesson.operation: lesson.median for lesson in lessons(work, {1: Decimal(12)})}
    assert found == {"board a wall": pytest.approx(0.9), "fit a trim": pytest.approx(0.3)}


@pytest.mark.parametrize(
    ("other_way", "median"),
    [pytest.param("2", 0.96, id="takes longer"), pytest.param("-2", 1.6, id="saves hours")],
)
def test_hours_of_another_way_have_their_share_and_teach_nothing(other_way: str, median: float) -> None:
    work = [line("26-001", 1, "8"), line("26-001", 1, other_way, operation="", quantity="1")]
    [lesson] = lessons(work, {1: Decimal(12)})
    assert (lesson.operation, lesson.median) == ("board a wall", pytest.approx(median))


@given(
    st.lists(st.tuples(st.integers(1, 400), st.integers(1, 90)), min_size=1, max_size=6), st.integers(-50, 50)
)
def test_a_phase_that_took_what_was_agreed_teaches_what_was_agreed(
    lines: list[tuple[int, int]], other_way: int
) -> None:
    work = [
        line("1", 1, str(hours), str(quantity), operation=f"Cut {at}")
        for at, (hours, quantity) in enumerate(lines)
    ]
    work.append(line("1", 1, str(other_way), operation=""))
    agreed = sum(each.hours for each in work)
    for lesson in lessons(work, {1: agreed}):
        assert lesson.median == pytest.approx(lesson.agreed)


def test_grades_and_units_are_kept_apart() -> None:
    work = [line("1", 1, "8"), line("2", 2, "8", grade="concealed"), line("3", 3, "8", unit="m")]
    assert len(lessons(work, {1: Decimal(8), 2: Decimal(8), 3: Decimal(8)})) == 3


def test_one_job_is_one_observation() -> None:
    work = [line("1", 1, "8"), line("1", 2, "8"), line("2", 3, "8")]
    [lesson] = lessons(work, {1: Decimal(8), 2: Decimal(16), 3: Decimal(8)})
    assert (lesson.jobs, lesson.median) == (2, pytest.approx(1.0))


@pytest.mark.parametrize(
    ("work", "actual"),
    [
        pytest.param([], {}, id="nothing"),
        pytest.param([line("1", 1, "8")], {}, id="no hours booked"),
        pytest.param([line("1", 1, "0")], {1: Decimal(5)}, id="no hours agreed"),
        pytest.param([line("1", 1, "8", quantity="0")], {1: Decimal(5)}, id="no quantity"),
        pytest.param(
            [line("1", 1, "8"), line("1", 1, "-8", operation="")],
            {1: Decimal(5)},
            id="all saved by another way",
        ),
    ],
)
def test_what_teaches_nothing_is_left_out(work: list[AgreedWork], actual: dict[int, Decimal]) -> None:
    assert lessons(work, actual) == []


@pytest.mark.parametrize(("jobs", "enough"), [(2, False), (3, True)])
def test_a_rate_is_suggested_from_three_jobs_on(jobs: int, enough: bool) -> None:
    work = [line(str(at), at, "8") for at in range(jobs)]
    [lesson] = lessons(work, {at: Decimal(8) for at in range(jobs)})
    assert lesson.is_enough is enough


@given(st.lists(st.integers(1, 500), min_size=2, max_size=12))
def test_quartiles_are_those_of_the_standard_library(taken: list[int]) -> None:
    """`statistics.quantiles(method="inclusive")` interpolates the same way (type 7)."""
    work = [line(str(at), at, "8") for at in range(len(taken))]
    [lesson] = lessons(work, {at: Decimal(hours) for at, hours in enumerate(taken)})
    expected = quantiles([hours / 10 for hours in taken], n=4, method="inclusive")
    assert [lesson.low, lesson.median, lesson.high] == pytest.approx(expected)


def test_an_outlook_needs_three_jobs() -> None:
    assert outlook(Decimal(40), [1.0, 1.2]) is None
    assert chance_price_holds([1.0, 1.2], 1.1) is None


def test_an_outlook_from_jobs_that_all_ended_alike() -> None:
    found = outlook(Decimal(40), [1.25] * 4)
    assert found is not None
    assert (found.low, found.likely, found.high, found.jobs) == (50, 50, 50, 4)


@given(st.lists(st.floats(0.5, 2.5), min_size=3, max_size=20))
def test_low_likely_and_high_stand_in_order_within_what_happened(ratios: list[float]) -> None:
    found = outlook(Decimal(100), ratios)
    assert found is not None
    assert found.low <= found.likely <= found.high
    assert float(found.low) >= min(ratios) * 100 - 0.1
    assert float(found.high) <= max(ratios) * 100 + 0.1


@given(st.lists(st.floats(0.5, 2.5), min_size=3, max_size=20), st.floats(0.5, 2.5), st.floats(0, 1))
def test_more_room_never_lowers_the_chance(ratios: list[float], most: float, more: float) -> None:
    assert chance_price_holds(ratios, most) <= chance_price_holds(ratios, most + more)


def test_the_same_history_gives_the_same_answer() -> None:
    assert chance_price_holds([0.8, 1.0, 1.4], 1.1) == chance_price_holds([0.8, 1.0, 1.4], 1.1)
