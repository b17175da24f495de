"""Sheet plans against what the literature and plain geometry say.

The orders of a furniture maker are from Macedo, Alves, Valerio de Carvalho, Computers & Operations Research
37 (2010) 991-1001, as carried by 2DPackLib (Iori, de Lima, Martello, Monaci, Optimization Letters 16 (2022)
471-480).
That none takes fewer sheets is proven here by the linear program over all cuttings of a sheet.
"""

import pytest

from materials.cutting.check_panels import faults_of_plan, is_guillotine
from materials.cutting.panels import solve_panels, wait_until_ready
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
    assert is_guillotine(PINWHEEL[:3], 0)


FURNITURE = {
    "12": (
        2550,
        2100,
        14,
        [
            (481, 961, 8, False),
            (1121, 977, 16, False),
            (1940, 952, 20, False),
        ],
    ),
    "42": (
        2750,
        1220,
        8,
        [
            (703, 486, 1, False),
            (706, 516, 2, False),
            (1120, 486, 1, False),
            (1120, 986, 3, False),
            (1940, 320, 1, False),
            (2117, 775, 2, False),
            (2117, 875, 1, False),
            (2357, 875, 2, False),
        ],
    ),
}


@pytest.mark.parametrize("name", FURNITURE)
def test_orders_of_a_furniture_maker(name):
    assert wait_until_ready()
    width, height, sheets, parts = FURNITURE[name]
    plan = solve_panels(one_size(width, height, parts), Search(seconds=20))
    assert faults_of_plan(plan) == []
    assert (plan.sheet_count, plan.bound, plan.proven) == (sheets, sheets, True)
