"""Sheet plans against what the literature and plain geometry say."""

from materials.cutting.check_panels import is_guillotine
from materials.cutting.panels import solve_panels
from materials.cutting.search import Search
from materials.cutting.sheet_plan import Placement

from ..calc.sheet_problems import one_size

# The textbook packing that no edge-to-edge cuts can free (from memory): four 20 × 10, two of them upright,
# around one 10 × 10.
PINWHEEL = [
    Placement(0, 0, 0, 200, 100),
    Placement(1, 200, 0, 100, 200),
    Placement(0, 100, 200, 200, 100),
    Placement(1, 0, 100, 100, 200),
    Placement(2, 100, 100, 100, 100),
]


def test_the_pinwheel_covers_its_sheet_and_still_takes_two():
    problem = one_size(30, 30, [(20, 10, 2, False), (10, 20, 2, False), (10, 10, 1, False)])
    plan = solve_panels(problem, Search(seconds=0.3))
    assert plan.used_area == 300 * 300
    assert plan.sheet_count == 2
    assert not is_guillotine(PINWHEEL, 0)
