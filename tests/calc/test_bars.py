"""Boards: bad input said plainly, small plans by hand, and every plan one that a saw can carry out."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.cutting.bar_plan import CutBar, cuts_of, leftover_mm10
from materials.cutting.bar_problem import BarPart, BarProblem, BarStock
from materials.cutting.bars import solve_bars
from materials.cutting.check_bars import faults_of
from materials.cutting.faults import CannotCut
from materials.cutting.search import Search


def bars(stock, parts, **saw):
    """A problem from (length, cost, quantity) and (length, quantity)."""
    return BarProblem(
        stock=tuple(BarStock(length_mm10=length, cost=cost, quantity=count) for length, cost, count in stock),
        parts=tuple(BarPart(length_mm10=length, quantity=count) for length, count in parts),
        **saw,
    )


def rows(table):
    """The rows of a table as test cases, each named by its first column."""
    return [pytest.param(*row[1:], id=row[0]) for row in table]


BY_HAND = [
    ("nothing to cut", [(100, 1, None)], [], {}, 0),
    ("one piece", [(100, 7, None)], [(100, 1)], {}, 7),
    ("exact fit with kerf", [(106, 7, None)], [(34, 3)], {"kerf_mm10": 2}, 7),
    ("one tenth short for the kerf", [(105, 7, None)], [(34, 3)], {"kerf_mm10": 2}, 14),
    ("last cut runs off the end", [(71, 7, None)], [(34, 2)], {"kerf_mm10": 2}, 7),
    ("trim off both ends", [(106, 7, None)], [(34, 3)], {"trim_mm10": 2}, 7),
    ("a tenth too much trim", [(105, 7, None)], [(34, 3)], {"trim_mm10": 2}, 14),
    ("the short bar is enough", [(100, 7, None), (50, 4, None)], [(50, 1)], {}, 4),
    ("two short bars beat one long", [(100, 7, None), (50, 3, None)], [(50, 2)], {}, 6),
    ("an offcut costs nothing", [(100, 7, None), (60, 0, 1)], [(60, 2)], {}, 7),
    ("reclaimed only", [(40, 0, 1), (55, 0, 1)], [(40, 1), (50, 1)], {}, 0),
]


@pytest.mark.parametrize(("stock", "parts", "saw", "cost"), rows(BY_HAND))
def test_small_plans_by_hand(stock, parts, saw, cost):
    problem = bars(stock, parts, **saw)
    plan = solve_bars(problem, Search(seconds=1))
    assert faults_of(plan, problem) == []
    assert plan.cost == cost


def test_keep_value_counts_against_an_offcut():
    """An offcut worth 5 on the rack is left there when a new bar costs 4."""
    problem = BarProblem(
        stock=(BarStock(100, cost=4), BarStock(60, quantity=1, keep_value=5)), parts=(BarPart(50),)
    )
    plan = solve_bars(problem, Search(seconds=0.2))
    assert [bar.stock for bar in plan.bars] == [0]
    assert (plan.cost, plan.to_pay) == (4, 4)


BAD = [
    ("part too long", bars([(24000, 1, None)], [(24001, 1)]), "parts", "2400.1 mm is longer than any stock"),
    ("says what would fit", bars([(24000, 1, None)], [(24000, 1)], trim_mm10=50), "parts", "at most 2390 mm"),
    (
        "says what bar would do",
        bars([(24000, 1, None)], [(24000, 1)], trim_mm10=50),
        "parts",
        "a bar of 2410 mm",
    ),
    ("no pieces", bars([(24000, 1, None)], [(100, 0)]), "parts", "asks for 0 pieces"),
    ("no length", bars([(24000, 1, None)], [(0, 1)]), "parts", "no length"),
    ("kerf wider than bar", bars([(30, 1, None)], [(20, 1)], kerf_mm10=30), "stock", "wider than the bar"),
    ("kerf below nothing", bars([(30, 1, None)], [(20, 1)], kerf_mm10=-1), "kerf", "below nothing"),
    ("all trim", bars([(30, 1, None)], [(20, 1)], trim_mm10=15), "stock", "nothing but end trim"),
    ("no stock", bars([], [(20, 1)]), "stock", "nothing to cut from"),
    ("stock used up", bars([(30, 1, 0)], [(20, 1)]), "stock", "nothing to cut from"),
    ("negative price", bars([(30, -1, None)], [(20, 1)]), "stock", "below nothing"),
    ("too many", bars([(30, 1, None)], [(20, 100_001)]), "parts", "more than one plan takes"),
    ("not enough", bars([(30, 1, 2)], [(20, 3)]), "stock", "does not suffice: nothing is left for 1 × 2 mm"),
]


@pytest.mark.parametrize(("problem", "where", "words"), rows(BAD))
def test_bad_input_is_answered_plainly(problem, where, words):
    with pytest.raises(CannotCut) as caught:
        solve_bars(problem, Search(seconds=0.2))
    assert caught.value.faults[0].where == where
    assert words in str(caught.value)


def test_every_part_that_is_too_long_is_named():
    problem = bars([(100, 1, None)], [(101, 1), (50, 1), (200, 1)])
    with pytest.raises(CannotCut) as caught:
        solve_bars(problem)
    assert [fault.index for fault in caught.value.faults] == [0, 2]


LEFT = [
    ("flush: no last cut", 106, 0, 0, 2),
    ("last cut runs off", 108, 0, 0, 3),
    ("a tenth beyond the kerf", 109, 0, 1, 3),
    ("trim adds a cut and keeps the far end off", 113, 2, 1, 4),
    ("flush against the trim: still cut free", 110, 2, 0, 4),
]


@pytest.mark.parametrize(("length", "trim", "left", "cuts"), rows(LEFT))
def test_what_is_left_and_how_often_the_saw_runs(length, trim, left, cuts):
    """Three parts of 34 with a kerf of 2 take 106; what is kept costs a third kerf."""
    problem = bars([(length, 1, None)], [(34, 3)], kerf_mm10=2, trim_mm10=trim)
    bar = CutBar(stock=0, parts=(0, 0, 0))
    assert leftover_mm10(problem, bar) == left
    assert cuts_of(problem, bar) == cuts


def test_plan_figures_add_up():
    problem = bars([(100, 3, None)], [(40, 3)], kerf_mm10=2, least_offcut_mm10=20)
    plan = solve_bars(problem, Search(seconds=0.2))
    assert (plan.bar_count, plan.cost, plan.used_mm10, plan.taken_mm10) == (2, 6, 120, 200)
    assert plan.yield_permille == 600
    assert plan.longest_leftover_mm10 == 58
    kept = [left.length_mm10 * left.repeat for left in plan.leftovers() if left.kept]
    assert sum(kept) == 58  # 16 of the other bar is too short to keep


def test_better_plans_are_told_of_and_only_better_ones():
    told = []
    problem = bars([(1000, 1, None)], [(n, 1) for n in range(200, 500, 3)])
    plan = solve_bars(problem, Search(seconds=0.5, on_better=told.append))
    assert told
    assert [p.rank()[:2] for p in told] == sorted({p.rank()[:2] for p in told}, reverse=True)
    assert plan.rank() <= told[-1].rank()
    assert all(faults_of(better, problem) == [] for better in told)


def test_stops_when_asked():
    problem = bars([(1000, 1, None)], [(n, 1) for n in range(200, 500, 3)])
    plan = solve_bars(problem, Search(seconds=60, should_stop=lambda: True))
    assert faults_of(plan, problem) == []
    assert plan.seconds < 1


lengths = st.integers(1, 300)


@st.composite
def problems(draw):
    """Any mix of bars with prices, offcuts on hand, kerf and trim; one endless bar takes every part."""
    parts = draw(st.lists(st.tuples(lengths, st.integers(1, 6)), min_size=1, max_size=12))
    trim = draw(st.integers(0, 10))
    kerf = draw(st.integers(0, 12))
    longest = max(length for length, _ in parts)
    first = (longest + 2 * trim + kerf + draw(st.integers(0, 600)), draw(st.integers(0, 40)), None)
    others = draw(
        st.lists(
            st.tuples(
                st.integers(2 * trim + kerf + 1, 900), st.integers(0, 40), st.none() | st.integers(0, 3)
            ),
            max_size=4,
        )
    )
    return bars([first, *others], parts, kerf_mm10=kerf, trim_mm10=trim)


@settings(max_examples=60, deadline=None)
@given(problems())
def test_every_plan_can_be_cut(problem):
    plan = solve_bars(problem, Search(seconds=0.15))
    assert faults_of(plan, problem) == []
    assert plan.bound <= plan.cost
    assert sum(bar.repeat * len(bar.parts) for bar in plan.bars) == problem.pieces()


@settings(max_examples=25, deadline=None)
@given(problems(), st.integers(1, 20))
def test_a_wider_kerf_never_lowers_the_bound_below_a_proven_cost(problem, more):
    """More waste never costs less: a proven cost at the thin kerf is a floor for the thick one."""
    thin = solve_bars(problem, Search(seconds=0.1))
    thick = BarProblem(problem.stock, problem.parts, problem.kerf_mm10 + more, problem.trim_mm10)
    try:
        plan = solve_bars(thick, Search(seconds=0.1))
    except CannotCut:
        return
    if thin.proven:
        assert plan.cost >= thin.cost
