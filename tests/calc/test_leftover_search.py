"""A larger leftover at the same cost, and never from a sheet that isn't there."""

from materials.cutting.blocks import FilledBlank, Leaf
from materials.cutting.check_panels import faults_of_plan
from materials.cutting.leftover_search import larger_leftovers
from materials.cutting.panels import solve_panels, wait_until_ready
from materials.cutting.search import Search, never_stop
from materials.cutting.widened import Blank, Shape, Widened

from .sheet_problems import one_size


def test_a_scarce_sheet_is_not_taken_twice_for_its_leftover():
    """Two parts on two kinds of sheet at one price; of the larger kind there is but one."""
    assert wait_until_ready()
    blanks = (Blank(0, 100, 100, 5, 1), Blank(1, 80, 80, 5, 9))
    shapes = (Shape(100, 80, 1, False), Shape(30, 30, 1, False))
    widened = Widened(shapes, blanks, (((0,),), ((1,),)), 0)
    layout = [FilledBlank(0, Leaf(0, False, 100, 80)), FilledBlank(1, Leaf(1, False, 30, 30))]
    for better in larger_leftovers(widened, layout, lambda: 100, never_stop):
        assert sum(filled.blank == 0 for filled in better) <= 1


def test_what_is_left_lies_together():
    """Five quarters of a sheet: half of the second sheet is left whole."""
    assert wait_until_ready()
    plan = solve_panels(one_size(100, 100, [(50, 50, 5, False)]), Search(seconds=3))
    assert faults_of_plan(plan) == []
    assert (plan.sheet_count, plan.proven) == (2, True)
    assert plan.largest_leftover == 1000 * 500
