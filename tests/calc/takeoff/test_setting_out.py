"""Equal gaps, half gaps at the ends, and places moved to lines."""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from materials.takeoff.errors import MeasureAgain
from materials.takeoff.result import marks_at
from materials.takeoff.setting_out import SettingOut, Spacing, lines_of, places, take_off
from tests.calc.takeoff.hand import CATALOGUE


def middles(**more):
    return [place.running_mm10 for place in places(SettingOut("Lamps", **more))]


@pytest.mark.parametrize(
    ("more", "expected"),
    [
        ({"run_mm10": 30_000, "count": 2}, [10_000, 20_000]),
        ({"run_mm10": 30_000, "count": 2, "spacing": Spacing.HALF_ENDS}, [7_500, 22_500]),
        ({"run_mm10": 36_000, "count": 4, "size_mm10": 600}, [7_020, 14_340, 21_660, 28_980]),
        ({"run_mm10": 30_000, "count": 1}, [15_000]),
        ({"run_mm10": 30_000, "count": 2, "snap_pitch_mm10": 4_000}, [12_000, 20_000]),
        (
            {"run_mm10": 30_000, "count": 2, "snap_pitch_mm10": 1_120, "snap_first_mm10": 560},
            [9_520, 19_600],
        ),
    ],
)
def test_places(more, expected):
    assert middles(**more) == expected


def test_moved_places_say_so():
    result = take_off(SettingOut("Lamps", 30_000, 2, snap_pitch_mm10=4_000), CATALOGUE)
    assert result.cautions == ("Moved to the lines, the gaps are no longer equal: up to 200 mm off.",)


@given(st.integers(1_000, 60_000), st.integers(1, 12), st.sampled_from(Spacing))
@example(10_100, 4, Spacing.HALF_ENDS)
def test_without_lines_nothing_is_moved(run, count, spacing):
    """Four hooks over 1010 mm stand at 126.25 mm, which is shown as 126.3: rounded, not moved."""
    result = take_off(SettingOut("Hooks", run, count, spacing=spacing), CATALOGUE)
    assert result.cautions == ()
    assert not any("moved" in step.words for step in result.steps)


@pytest.mark.parametrize(
    ("more", "field"),
    [
        ({"run_mm10": 0, "count": 2}, "run"),
        ({"run_mm10": 100, "count": 0}, "count"),
        ({"run_mm10": 100, "count": 501}, "count"),
        ({"run_mm10": 100, "count": 2, "size_mm10": 51}, "size"),
        ({"run_mm10": 3_000, "count": 3, "snap_pitch_mm10": 2_900}, "snap_pitch"),
    ],
)
def test_what_does_not_fit_is_refused(more, field):
    with pytest.raises(MeasureAgain) as caught:
        middles(**more)
    assert caught.value.field == field


def test_courses_are_fixed_to_in_their_middles_and_members_in_theirs():
    marks = marks_at([("1", 480), ("2", 1_600), ("3", 2_720)])
    assert lines_of("cladding", marks) == (240, 1_040, 2_160)
    assert lines_of("framing", marks) == (480, 1_600, 2_720)
    assert lines_of("lining", marks) == ()


COURSES = {"snap_item": 7, "lines_mm10": (240, 1_040, 2_160, 3_280, 4_400), "lines_name": "courses of Wall"}


def test_fittings_move_to_the_lines_of_another_item():
    assert middles(run_mm10=4_500, count=2, **COURSES) == [1_040, 3_280]
    result = take_off(SettingOut("Lamps", 4_500, 2, **COURSES), CATALOGUE)
    assert any("Moved to the courses of Wall" in step.words for step in result.steps)
    assert len([path for path in result.drawing.paths if path.stroke == "batten"]) == 5


def test_a_run_that_starts_further_along_counts_from_its_own_datum():
    assert middles(run_mm10=3_000, count=2, snap_start_mm10=1_000, **COURSES) == [1_160, 2_280]


def test_a_run_that_no_line_crosses_is_refused():
    with pytest.raises(MeasureAgain) as caught:
        middles(run_mm10=3_000, count=2, snap_start_mm10=90_000, **COURSES)
    assert caught.value.field == "snap_start"


@given(st.lists(st.integers(0, 20_000), min_size=1, unique=True), st.integers(1_000, 20_000))
def test_a_fitting_never_moves_past_a_nearer_line(lines, run):
    setting = SettingOut("Lamp", run, 1, snap_item=1, lines_mm10=tuple(lines))
    if not setting.lines_on_run_mm10:
        return
    (place,) = places(setting)
    assert place.running_mm10 in lines
    assert all(abs(line - run / 2) >= abs(place.running_mm10 - run / 2) - 1 for line in lines if line <= run)


@given(st.integers(1_000, 100_000), st.integers(1, 20), st.sampled_from(Spacing))
def test_places_are_the_same_from_either_end(run, count, spacing):
    found = middles(run_mm10=run, count=count, spacing=spacing)
    back = [run - place for place in reversed(found)]
    assert all(abs(one - other) <= 1 for one, other in zip(found, back, strict=True))


@given(st.integers(1_000, 100_000), st.integers(1, 20), st.sampled_from(Spacing))
def test_distances_between_add_up_to_the_running_ones(run, count, spacing):
    total = 0
    for place in places(SettingOut("Lamps", run, count, 0, spacing)):
        total += place.between_mm10
        assert total == place.running_mm10
