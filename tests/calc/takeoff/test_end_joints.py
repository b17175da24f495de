"""Where boards of one course meet: on battens, within reach, staggered."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.takeoff.end_joints import JointRule, place_joints
from materials.takeoff.errors import MeasureAgain

BATTENS = tuple(range(0, 60_001, 6_000))


def test_a_run_within_reach_needs_none():
    assert place_joints(0, 30_000, JointRule(30_000), ()).places_mm10 == ()


def test_a_tenth_over_needs_one():
    assert len(place_joints(0, 30_001, JointRule(30_000), ()).places_mm10) == 1


def test_joints_land_on_battens():
    found = place_joints(0, 45_000, JointRule(30_000, battens_mm10=BATTENS), ())
    assert set(found.places_mm10) <= set(BATTENS)


def test_neighbours_are_staggered():
    rule = JointRule(30_000, battens_mm10=BATTENS, stagger_mm10=6_000)
    first = place_joints(0, 45_000, rule, ())
    second = place_joints(0, 45_000, rule, first.places_mm10)
    assert second.staggered
    assert second.places_mm10 != first.places_mm10


def test_where_only_one_batten_serves_the_stagger_is_given_up_and_said():
    rule = JointRule(30_000, least_mm10=25_000, battens_mm10=(30_000,), stagger_mm10=3_000)
    found = place_joints(0, 60_000, rule, (30_000,))
    assert (found.places_mm10, found.staggered) == ((30_000,), False)


def test_joints_keep_from_the_middle_at_the_eye_line():
    rule = JointRule(30_000, battens_mm10=BATTENS, keep_from_mm10=21_000)
    assert place_joints(0, 42_000, rule, ()).places_mm10 in ((12_000,), (30_000,))


def test_battens_out_of_reach_are_refused():
    with pytest.raises(MeasureAgain, match="batten to batten"):
        place_joints(0, 90_000, JointRule(30_000, battens_mm10=(40_000, 80_000)), ())


@given(st.integers(1, 200_000), st.integers(8_000, 60_000), st.lists(st.integers(0, 200_000), max_size=3))
def test_every_board_is_within_reach_and_worth_fixing(run, reach, before):
    rule = JointRule(reach)
    places = place_joints(0, run, rule, before).places_mm10
    ends = [0, *places, run]
    boards = [right - left for left, right in itertools.pairwise(ends)]
    assert sum(boards) == run
    assert max(boards) <= reach
    assert len(boards) == 1 or min(boards) >= rule.least_mm10
