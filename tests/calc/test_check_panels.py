"""The judge of sheet plans: good plans pass, and each way to spoil one is found out."""

from dataclasses import replace

import pytest

from materials.cutting.check_panels import faults_of_plan, faults_of_sheet, is_guillotine
from materials.cutting.panels import solve_panels
from materials.cutting.search import Search
from materials.cutting.sheet_plan import CutDirection, CutSheet, Piece, Placement, SheetPlan
from materials.cutting.sheet_problem import SheetPart, SheetProblem, SheetStock, Trim

PROBLEM = SheetProblem((SheetPart(1000, 480, 4),), (SheetStock(2240, 1200, trim=Trim.all_round(100)),), 40)


def good_plan():
    return solve_panels(PROBLEM, Search(seconds=0.01))


def placed(*rows):
    return tuple(Placement(0, x, y, w, h) for x, y, w, h in rows)


def with_placement(plan, index, **changes):
    sheet = plan.sheets[0]
    places = list(sheet.placements)
    places[index] = replace(places[index], **changes)
    return replace(plan, sheets=(replace(sheet, placements=tuple(places)),))


def test_the_good_plan_is_good():
    assert faults_of_plan(good_plan()) == []


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"x_mm10": 1130}, "edge-to-edge"),
        ({"x_mm10": 90}, "trim"),
        ({"x_mm10": 1141}, "trim"),
        ({"y_mm10": 621}, "trim"),
        ({"width_mm10": 990}, "lies there as"),
        ({"width_mm10": 480, "height_mm10": 1000, "turned": True}, "across its grain"),
        ({"part": 1}, "no part 1"),
    ],
)
def test_a_spoilt_placement_is_found(changes, says):
    plan = good_plan()
    faults = [faults_of_plan(with_placement(plan, index, **changes)) for index in range(4)]
    assert any(says in fault for found in faults for fault in found)


def test_too_few_and_too_many_are_found():
    plan = good_plan()
    assert any("0 made" in fault for fault in faults_of_plan(replace(plan, sheets=())))
    twice = replace(plan, sheets=(replace(plan.sheets[0], repeat=2),))
    assert any("8 made, 4 wanted" in fault for fault in faults_of_plan(twice))


def test_more_sheets_than_on_hand_are_found():
    plan = good_plan()
    scarce = replace(PROBLEM, stock=(replace(PROBLEM.stock[0], quantity=0),))
    assert "stock 0: 1 taken, 0 on hand" in faults_of_plan(replace(plan, problem=scarce))


def test_a_tree_that_frees_something_else_is_found():
    plan = good_plan()
    sheet = plan.sheets[0]
    bare = Piece(100, 100, 2040, 1000)
    assert "the cuts free other parts than the drawing shows" in faults_of_sheet(
        PROBLEM, replace(sheet, root=bare)
    )
    child = sheet.root.children[0]
    moved = replace(sheet.root, children=(replace(child, x_mm10=child.x_mm10 + 1), *sheet.root.children[1:]))
    assert any("frees" in fault for fault in faults_of_sheet(PROBLEM, replace(sheet, root=moved)))


def test_a_leftover_not_accounted_for_is_found():
    problem = SheetProblem((SheetPart(100, 100),), (SheetStock(200, 100),))
    root = Piece(0, 0, 200, 100, cut=CutDirection.CROSSCUT, children=(Piece(0, 0, 100, 100, part=0),))
    sheet = CutSheet(0, root, (Placement(0, 0, 0, 100, 100),))
    assert faults_of_sheet(problem, sheet) == ["a leftover that the cuts don't account for"]


def test_a_family_scattered_over_strips_is_found():
    parts = (SheetPart(100, 50, 2, family="doors"), SheetPart(100, 50, 2))
    problem = SheetProblem(parts, (SheetStock(200, 100),))
    good = solve_panels(problem, Search(seconds=0.01))
    assert faults_of_plan(good) == []
    swapped = [
        replace(p, part=n % 2)
        for n, p in enumerate(sorted(good.sheets[0].placements, key=lambda p: p.y_mm10))
    ]
    bad = SheetPlan(problem, (replace(good.sheets[0], placements=tuple(swapped)),))
    assert "family doors: lies in 2 strips, 1 would do" in faults_of_plan(bad)


PINWHEEL = placed((0, 0, 20, 10), (20, 0, 10, 20), (10, 20, 20, 10), (0, 10, 10, 20))


@pytest.mark.parametrize(
    ("placements", "kerf", "separable"),
    [
        (placed((0, 0, 10, 10)), 5, True),
        (placed((0, 0, 10, 10), (10, 0, 10, 10)), 0, True),
        (placed((0, 0, 10, 10), (13, 0, 10, 10)), 4, False),
        (placed((0, 0, 10, 10), (14, 0, 10, 10)), 4, True),
        (placed((0, 0, 10, 10), (9, 0, 10, 10)), 0, False),
        (placed((0, 0, 10, 10), (0, 0, 10, 10)), 0, False),
        (PINWHEEL, 0, False),
        (PINWHEEL[:3], 0, True),
        ((*PINWHEEL, *placed((30, 0, 30, 30))), 0, False),
        (placed((0, 0, 50, 20), (52, 0, 50, 20), (0, 22, 60, 20), (62, 22, 40, 20)), 2, True),
        (placed((0, 0, 50, 20), (52, 0, 50, 20), (0, 22, 60, 20), (62, 21, 40, 20)), 2, False),
    ],
)
def test_guillotine(placements, kerf, separable):
    assert is_guillotine(placements, kerf) is separable
    mirrored = [
        replace(p, x_mm10=p.y_mm10, y_mm10=p.x_mm10, width_mm10=p.height_mm10, height_mm10=p.width_mm10)
        for p in placements
    ]
    assert is_guillotine(mirrored, kerf) is separable


def test_deep_and_long_groups_are_quick():
    assert is_guillotine(placed(*((i * 10, 0, 10, 5) for i in range(5000))), 0)
    assert is_guillotine(placed(*((i, i, 1, 1000 - i) for i in range(500))), 0)
