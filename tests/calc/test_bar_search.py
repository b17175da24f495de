"""The ways to a plan, each by itself: sets of stock, dives, lots, bars filled anew, one long leftover."""

import pytest
from hypothesis import given, settings

from materials.cutting.bar_attempt import Attempt
from materials.cutting.bar_dive import dives
from materials.cutting.bar_fill import (
    bar_by_bar,
    best_fit_decreasing,
    fullest_fill,
    greedy_fill,
    quick_fillings,
)
from materials.cutting.bar_lots import PIECES_A_LOT, fill_in_lots
from materials.cutting.bar_master import Master
from materials.cutting.bar_ruin import ruin_and_recreate
from materials.cutting.bar_search import search_patterns
from materials.cutting.bar_sets import StockSets
from materials.cutting.bar_tidy import with_longest_leftover
from materials.cutting.cut_model import Filling

from .bar_models import is_whole, least_cost_by_trying_all, model, size, small_models


def never():
    return False


@settings(max_examples=60, deadline=None)
@given(small_models())
def test_quick_fillings_are_whole(model):
    plans = list(quick_fillings(model, never))
    assert plans
    assert all(is_whole(model, plan) for plan in plans)


@settings(max_examples=60, deadline=None)
@given(small_models())
def test_bars_filled_anew_are_whole_and_never_dearer(model):
    start = best_fit_decreasing(model, 0)
    costs = [model.cost_of(start)]
    asked = iter(range(100))
    for plan in ruin_and_recreate(model, start, lambda: next(asked, None) is None):
        assert is_whole(model, plan)
        costs.append(model.cost_of(plan))
    assert costs == sorted(costs, reverse=True)


def test_a_full_bar_is_repeated_at_once():
    """Ten of 60 and ten of 40 are one bar ten times, not ten decisions."""
    pairs = model([60, 40], [10, 10], [(100, 1, None)])
    assert bar_by_bar(pairs, pairs.demand, fullest_fill, never) == [Filling(0, (0, 1), 10)]


def test_the_fullest_bar_where_greed_leaves_a_gap():
    """60 + 30 leaves 10; 60 + 20 + 20 leaves nothing."""
    odd = model([60, 30, 20], [1, 1, 2], [(100, 1, None)])
    assert bar_by_bar(odd, odd.demand, greedy_fill, never)[0].lengths == (0, 1)
    assert bar_by_bar(odd, odd.demand, fullest_fill, never)[0].lengths == (0, 2, 2)


def sets_of(model):
    root = Master(model)
    return StockSets(root, root.relax(never).duals, 1000)


def test_the_cheapest_set_that_holds_the_length():
    """Six of 50 take 300: three bars at 7 against two at 9 and one at 5."""
    sets = sets_of(model([50], [6], [(100, 7, None), (150, 9, None), (50, 5, None)]))
    counts = sets.next_set(sets.model.charges, 1000)
    assert sets.cost_of(counts) == 18
    assert sets.is_too_small(counts, never) is False
    assert is_whole(sets.model, sets.cut(counts, never, 1, 1))


def test_a_refused_set_is_not_offered_again():
    sets = sets_of(model([50], [2], [(100, 7, None), (50, 4, None)]))
    first = sets.next_set(sets.model.charges, 1000)
    sets.refused.append(first)
    second = sets.next_set(sets.model.charges, 1000)
    assert sets.cost_of(first) == 7
    assert sets.cost_of(second) == 8


def test_no_set_within_too_low_a_cost():
    sets = sets_of(model([50], [2], [(100, 7, None)]))
    assert sets.next_set(sets.model.charges, 6) is None
    assert sets.next_set(sets.model.charges, 7, 0) is None


def test_a_set_with_the_length_but_not_the_room_is_shown_too_small():
    """Two of 60 and two of 61 cannot share bars of 120, though two such hold their length nearly."""
    pieces = model([61, 59], [2, 2], [(119, 7, None)])
    sets = sets_of(pieces)
    assert sets.is_too_small((2,), never)
    assert sets.next_set(pieces.charges, 1000) == (3,)


@settings(max_examples=40, deadline=None)
@given(small_models())
def test_no_plan_undercuts_the_cheapest_set(model):
    sets = sets_of(model)
    counts = sets.next_set(model.charges, 1000)
    assert sets.cost_of(counts) <= least_cost_by_trying_all(model)[0]


def test_dives_reach_a_target_or_say_nothing():
    pieces = model([45, 36, 31, 14], [7, 10, 9, 11], [(100, 1, None)])
    master = Master(pieces)

    def plans(target):
        return list(dives(master, target=lambda: target, is_over=never, seed=1, limits=[], most_dives=3))

    assert plans(11) == []
    assert all(is_whole(pieces, plan) and pieces.cost_of(plan) <= 12 for plan in plans(12))
    assert plans(12)


@pytest.mark.parametrize("over_after", [0, 2, 99])
def test_lots_make_a_whole_plan_whenever_the_time_is_over(over_after):
    kinds = 2 * PIECES_A_LOT + 40
    pieces = model(range(300 + kinds, 300, -1), [1] * kinds, [(2000, 7, None), (1500, 0, 3)])
    calls = []

    def solve(part):
        calls.append(part)
        return next(iter(quick_fillings(part, never)))

    plan = fill_in_lots(pieces, solve, lambda: len(calls) >= over_after)
    assert is_whole(pieces, plan)
    assert len(calls) == min(over_after + 1, 3)


def test_a_thousand_odd_lengths_stay_within_their_time():
    pieces = model(range(1900, 900, -1), [1] * 1000, [(4800, 1330, None), (3000, 870, None)])
    calls = iter(range(100_000))
    attempt = Attempt(pieces, lambda: next(calls) > 50, lambda: 0.2)
    attempt.offer(best_fit_decreasing(pieces, 0), "")
    search_patterns(attempt)
    assert is_whole(pieces, attempt.best)


def test_leftovers_gathered_in_one_bar():
    """70 + 20 and 50 + 30 leave 10 and 20; 70 + 30 and 50 + 20 leave 30 in one piece."""
    pieces = model([70, 50, 30, 20], [1, 1, 1, 1], [(100, 1, None)])
    tidy = with_longest_leftover(pieces, [Filling(0, (0, 3)), Filling(0, (1, 2))], never)
    assert sorted(filling.lengths for filling in tidy) == [(0, 2), (1, 3)]


@settings(max_examples=60, deadline=None)
@given(small_models())
def test_tidying_changes_no_bar_and_never_shortens_the_longest(model):
    plan = next(iter(quick_fillings(model, never)))
    tidy = with_longest_leftover(model, plan, never)
    assert is_whole(model, tidy)
    assert model.cost_of(tidy) == model.cost_of(plan)

    def longest(fillings):
        return max(model.rooms[f.stock] - size(model, f) for f in fillings)

    assert longest(tidy) >= longest(plan)
