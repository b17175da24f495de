"""Equal gaps, half gaps at the ends, and places moved to lines."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.takeoff.errors import MeasureAgain
from materials.takeoff.setting_out import SettingOut, Spacing, places, take_off
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
