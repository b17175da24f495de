"""The compiled search: its layouts can be cut, its books are right, and it finds what filling doesn't."""

import numpy as np
import pytest
from hypothesis import given, settings

from materials.cutting.check_panels import faults_of_plan
from materials.cutting.first_plan import steady_plans
from materials.cutting.lay_out import lay_out
from materials.cutting.panels import solve_panels
from materials.cutting.recreate.part_recreator import PartRecreator
from materials.cutting.recreate_search import compiled_search, counted_costs, searcher_for
from materials.cutting.search import Search
from materials.cutting.sheet_plan import SheetPlan
from materials.cutting.sheet_problem import SheetPart, SheetProblem, SheetStock
from materials.cutting.widened import widen

from .sheet_problems import one_size, sheet_problems


@pytest.fixture(scope="module", autouse=True)
def _ready():
    compiled_search.make_ready()
    assert compiled_search.wait(300)
    assert compiled_search.works


@given(sheet_problems())
@settings(max_examples=40, deadline=None)
def test_plans_of_the_compiled_search_can_be_cut(problem):
    plan = solve_panels(problem, Search(seconds=0.15))
    assert faults_of_plan(plan) == []
    assert plan.bound <= plan.cost


@given(sheet_problems())
@settings(max_examples=40, deadline=None)
def test_each_cheaper_layout_is_whole_and_cheaper(problem):
    widened = widen(problem)
    costs = counted_costs(widened)
    layout = next(steady_plans(widened))
    recreator = searcher_for(widened, layout, 5)
    for _ in range(4):
        found = recreator.step()
        check_books(recreator)
        if found is not None:
            assert sum(costs[f.blank] for f in found) < sum(costs[f.blank] for f in layout)
            assert faults_of_plan(SheetPlan(problem, lay_out(problem, widened, found))) == []
            layout = found
            recreator.aim_below(layout)


def check_books(recreator):
    """Sizes, caps, waiting pieces, area and cost as they follow from the trees."""
    from materials.cutting.recreate import trees as t

    state, task = recreator.trees, recreator.task
    placed = np.zeros(len(state.left), dtype=int)
    cost = 0
    for root, blank in state.sheets:
        if blank == t.CLOSED:
            continue
        cost += task.blanks[blank, 2]
        assert tuple(state.nodes[root, [t.CAP_W, t.CAP_H]]) == tuple(task.blanks[blank, :2])
        walk(state.nodes, int(root), placed)
    wanted = np.array([shape.quantity for shape in recreator.widened.shapes])
    assert (placed + state.left == wanted).all()
    assert cost == state.registers[t.COST] <= task.budget[0]
    assert state.tally[0] == pytest.approx(float((state.left * task.areas).sum()), rel=1e-6, abs=1e-3)


def walk(nodes, node, placed):
    from materials.cutting.recreate import trees as t

    row = nodes[node]
    assert row[t.WIDTH] <= row[t.CAP_W]
    assert row[t.HEIGHT] <= row[t.CAP_H]
    if row[t.KIND] == t.LEAF:
        placed[row[t.SHAPE]] += 1
        return
    children, child = [], row[t.FIRST]
    while child >= 0:
        assert nodes[child, t.PARENT] == node
        assert nodes[child, t.KIND] != row[t.KIND]
        children.append(nodes[child])
        walk(nodes, int(child), placed)
        child = nodes[child, t.NEXT]
    axis = row[t.KIND]
    assert len(children) > 1
    assert row[axis] == sum(c[axis] for c in children)
    assert row[1 - axis] == max(c[1 - axis] for c in children)


def test_a_layout_goes_into_arrays_and_back():
    from materials.cutting.recreate.convert import layout_of, make_task, trees_of

    widened = widen(one_size(200, 100, [(50, 30, 9, True), (70, 20, 5, False)], kerf_mm10=30))
    layout = next(steady_plans(widened))
    back = layout_of(trees_of(widened, make_task(widened, [1], 1.0), layout))
    assert sorted(map(pieces, back)) == sorted(map(pieces, layout))


def pieces(filled):
    from materials.cutting.blocks import leaves

    return sorted((leaf.shape, leaf.turned) for leaf in leaves(filled.block)), filled.block.width


def test_scarce_sheets_are_planned_from_nothing():
    """The two sheets hold the parts and no more: the long one must be kept for the long part."""
    stock = (SheetStock(1000, 500, quantity=1), SheetStock(1500, 400, quantity=1))
    parts = (SheetPart(1500, 200), SheetPart(500, 500), SheetPart(500, 250, 2), SheetPart(750, 200, 2))
    plan = solve_panels(SheetProblem(parts, stock), Search(seconds=3))
    assert (faults_of_plan(plan), plan.sheet_count) == ([], 2)


def test_what_was_cut_from_one_sheet_goes_back_into_one():
    parts = [
        (120, 45, 1, False),
        (75, 60, 1, False),
        (75, 55, 1, False),
        (45, 70, 1, False),
        (45, 45, 1, False),
    ]
    plan = solve_panels(one_size(120, 160, parts), Search(seconds=5))
    assert (plan.sheet_count, plan.proven) == (1, True)


def test_large_jobs_are_searched_part_after_part():
    parts = [(150 + 7 * n % 300, 100 + 11 * n % 250, 1, True) for n in range(120)]
    problem = one_size(1000, 600, parts, kerf_mm10=30)
    widened = widen(problem)
    layout = next(steady_plans(widened))
    searcher = PartRecreator(widened, counted_costs(widened), layout, 7)
    found = None
    for _ in range(2000):  # a step is so many rounds as fit its time: forty do, where nothing else runs
        found = searcher.step()
        if found is not None:
            break
    assert found is not None
    assert len(found) < len(layout)
    assert faults_of_plan(SheetPlan(problem, lay_out(problem, widened, found))) == []
