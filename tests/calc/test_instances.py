"""Instance files: every number exact, trim on any side, items that nobody asks for left out."""

import json
from decimal import Decimal
from fractions import Fraction

import pytest

from materials.cutting.bar_plan import BarPlan, CutBar
from materials.cutting.instances import (
    bar_problem_of,
    bar_solution_of,
    common_scale,
    in_file,
    instance_of,
    read_instance,
    sheet_problem_of,
    sides_of,
)
from materials.cutting.sheet_problem import Trim

BARS = {
    "kind": "1d",
    "kerf": 3,
    "objective": "cost",
    "stock": [{"length": 2400, "cost": 10, "qty": None}, {"length": 1000, "cost": 0, "qty": 1}],
    "items": [{"length": 700, "qty": 0}, {"length": 798, "qty": 3}, {"length": 1000}],
    "best_known": {"objective": 10},
}


def test_bars_as_they_stand():
    problem = bar_problem_of(instance_of(BARS))
    assert [(s.length_mm10, s.cost, s.quantity) for s in problem.stock] == [(2400, 10, None), (1000, 0, 1)]
    assert [(p.length_mm10, p.quantity) for p in problem.parts] == [(798, 3), (1000, 1)]
    assert problem.kerf_mm10 == 3


def test_a_plan_names_items_by_their_place_in_the_file():
    instance = instance_of(BARS)
    plan = BarPlan(bar_problem_of(instance), (CutBar(0, (0, 0, 0)), CutBar(1, (1,), 2)))
    assert bar_solution_of(plan, instance) == {
        "bars": [
            {"stock_index": 0, "cuts": [1, 1, 1], "repeat": 1},
            {"stock_index": 1, "cuts": [2], "repeat": 2},
        ]
    }


def test_bins_count_pieces_whatever_they_cost():
    instance = instance_of({**BARS, "objective": "bins"})
    assert [s.cost for s in bar_problem_of(instance).stock] == [1, 1]


def test_decimals_are_read_exactly_and_made_whole(tmp_path):
    """0.1 + 0.2 is no trap: the file's figures never become binary fractions."""
    path = tmp_path / "decimals.json"
    path.write_text(json.dumps({**BARS, "kerf": 3.2, "items": [{"length": 0.125}, {"length": 0.3}]}))
    instance = read_instance(path)
    problem = bar_problem_of(instance)
    assert instance.scale == 40
    assert (problem.kerf_mm10, [p.length_mm10 for p in problem.parts]) == (128, [5, 12])


def test_prices_in_pounds_become_pence():
    stock = [{"length": 100, "cost": Decimal("7.25")}, {"length": 50, "cost": 4}]
    instance = instance_of({**BARS, "stock": stock})
    assert [s.cost for s in bar_problem_of(instance).stock] == [29, 16]
    assert Fraction(29, instance.money) == Fraction("7.25")


SHEET = {"width": 2440, "height": 1220, "cost": 30, "qty": 2}
TRIMS = [
    ("none", {}, {}, (0, 0, 0, 0)),
    ("all round", {"trim": 10}, {}, (10, 10, 10, 10)),
    ("the sheet's own", {"trim": 10}, {"trim": 0}, (0, 0, 0, 0)),
    ("a side", {}, {"trim": {"right": 5}}, (0, 5, 0, 0)),
    ("four sides", {"trim": {"left": 1, "right": 2, "bottom": 3, "top": 4}}, {}, (1, 2, 3, 4)),
    ("nothing said", {"trim": None}, {}, (0, 0, 0, 0)),
]


@pytest.mark.parametrize(("data", "sheet", "sides"), [pytest.param(*row[1:], id=row[0]) for row in TRIMS])
def test_trim_of_sheets(data, sheet, sides):
    assert tuple(sides_of(data, sheet)) == sides
    file = {"kind": "2d", "stock": [{**SHEET, **sheet}], "items": [{"width": 5, "height": 4}], **data}
    assert sheet_problem_of(instance_of(file)).stock[0].trim == Trim(*sides)


def test_half_a_millimetre_of_trim_scales_the_sheet_with_it():
    file = {
        "kind": "2d",
        "stock": [{**SHEET, "trim": Decimal("0.5")}],
        "items": [{"width": 5, "height": 4, "rotate": True}],
    }
    problem = sheet_problem_of(instance_of(file))
    assert (problem.stock[0].width_mm10, problem.stock[0].trim.top_mm10) == (4880, 1)
    assert (problem.parts[0].width_mm10, problem.parts[0].may_turn) == (10, True)


def test_kind_is_told_by_the_items_where_the_file_does_not_say():
    assert instance_of({"stock": [SHEET], "items": [{"width": 5, "height": 4}]}).is_sheets
    assert not instance_of({"stock": [{"length": 9}], "items": [{"length": 4}]}).is_sheets


KNOWN = [
    ("cost", {"objective": "cost", "best_known": {"objective": 12}}, 12),
    ("bins", {"objective": "bins", "best_known": {"bins": 3}}, 3),
    ("bins under the other name", {"best_known": {"objective": 3}}, 3),
    ("nothing known", {}, None),
]


@pytest.mark.parametrize(("data", "best"), [pytest.param(*row[1:], id=row[0]) for row in KNOWN])
def test_best_known(data, best):
    file = {"stock": [{"length": 9}], "items": [{"length": 4}], **data}
    assert instance_of(file).best_known == best


@pytest.mark.parametrize(("length", "scale", "number"), [(40, 1, 40), (80, 2, 40), (81, 2, 40.5)])
def test_lengths_go_back_to_the_unit_of_the_file(length, scale, number):
    assert in_file(length, scale) == number


def test_common_scale_of_whole_numbers_is_one():
    assert common_scale([3, 4]) == 1
    assert common_scale([]) == 1
