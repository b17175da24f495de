"""Where courses fall for each start, and what happens to narrow edge boards."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.takeoff.courses import Start, lay_courses
from materials.takeoff.errors import MeasureAgain


@pytest.mark.parametrize(
    ("run", "start", "least", "count", "first", "last", "moved"),
    [
        (24_000, Start.FIRST_EDGE, 0, 22, 1_120, 480, False),
        (24_000, Start.LAST_EDGE, 0, 22, 480, 1_120, False),
        (24_000, Start.FIRST_EDGE, 560, 22, 560, 1_040, True),
        (24_000, Start.BOARD_CENTRED, 0, 23, 240, 240, False),
        (24_000, Start.BOARD_CENTRED, 400, 22, 800, 800, True),
        (24_000, Start.JOINT_CENTRED, 400, 22, 800, 800, False),
        (22_400, Start.FIRST_EDGE, 500, 20, 1_120, 1_120, False),
        (22_400, Start.JOINT_CENTRED, 0, 20, 1_120, 1_120, False),
        (1_120, Start.FIRST_EDGE, 500, 1, 1_120, 1_120, False),
        (700, Start.BOARD_CENTRED, 800, 1, 700, 700, False),
    ],
)
def test_a_cover_of_112_mm(run, start, least, count, first, last, moved):
    layout = lay_courses(run, 1_120, start, least)
    found = (layout.count, layout.first_mm10, layout.last_mm10, layout.moved_half)
    assert found == (count, first, last, moved)


def test_a_least_rip_wider_than_the_board_is_refused():
    with pytest.raises(MeasureAgain, match="wider than a whole board") as caught:
        lay_courses(24_000, 1_120, Start.FIRST_EDGE, 1_121)
    assert caught.value.field == "least_rip"


@given(st.integers(1, 100_000), st.integers(200, 3_000), st.sampled_from(Start), st.data())
def test_courses_fill_the_run_and_none_is_wider_than_the_cover(run, cover, start, data):
    layout = lay_courses(run, cover, start, data.draw(st.integers(0, cover)))
    widths = [high - low for low, high in zip(layout.lines_mm10, layout.lines_mm10[1:], strict=False)]
    assert sum(widths) == run
    assert 0 < min(widths) <= max(widths) <= cover
    assert set(widths[1:-1]) <= {cover}


@given(st.integers(3_000, 100_000), st.integers(200, 1_500), st.sampled_from(Start), st.data())
def test_up_to_half_a_board_the_least_rip_always_holds(run, cover, start, data):
    least = data.draw(st.integers(0, cover // 2))
    assert lay_courses(run, cover, start, least).narrowest_mm10 >= least - 1


@given(st.integers(3_000, 100_000), st.integers(200, 1_500), st.sampled_from(Start))
def test_centred_starts_leave_both_edges_alike(run, cover, start):
    layout = lay_courses(run, cover, start, 0)
    alike = abs(layout.first_mm10 - layout.last_mm10) <= 1
    assert alike or start in (Start.FIRST_EDGE, Start.LAST_EDGE) or layout.narrowest_mm10 <= 1
