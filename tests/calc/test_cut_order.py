"""The cuts of a sheet: each frees what the tree says, trims first, the fence moved seldom."""

from hypothesis import given, settings

from materials.cutting.cut_order import cut_order
from materials.cutting.panels import solve_panels
from materials.cutting.search import Search
from materials.cutting.sheet_plan import CutDirection
from materials.cutting.sheet_problem import Trim

from .sheet_problems import one_size, sheet_problems

RIP, CROSS = CutDirection.RIP, CutDirection.CROSSCUT


def first_sheet_cuts(problem):
    plan = solve_panels(problem, Search(seconds=0.02))
    return cut_order(problem, plan.sheets[0])


def test_a_sheet_of_one_part_its_own_size_needs_no_cut():
    assert first_sheet_cuts(one_size(100, 50, [(100, 50, 1, False)])) == ()


def test_rips_then_crosscuts_with_two_fence_settings():
    cuts = first_sheet_cuts(one_size(300, 100, [(100, 48, 6, False)], kerf_mm10=0))
    assert [(cut.number, cut.direction, cut.fence_mm10) for cut in cuts] == [
        (1, RIP, 480),
        (2, RIP, 480),
        (3, CROSS, 1000),
        (4, CROSS, 1000),
        (5, CROSS, 1000),
        (6, CROSS, 1000),
    ]
    assert [cut.moves_fence for cut in cuts] == [True, False, True, False, False, False]


def test_trims_come_first_and_leave_the_usable_sheet():
    cuts = first_sheet_cuts(one_size(120, 70, [(100, 50, 1, False)], kerf_mm10=30, trim=Trim.all_round(100)))
    assert [(cut.direction, cut.fence_mm10, cut.stage) for cut in cuts] == [
        (RIP, 600, 0),
        (RIP, 500, 0),
        (CROSS, 1100, 0),
        (CROSS, 1000, 0),
    ]


def test_an_offcut_thinner_than_the_blade_still_takes_a_cut():
    cuts = first_sheet_cuts(one_size(102, 50, [(100, 50, 1, False)], kerf_mm10=30))
    assert [(cut.direction, cut.fence_mm10, cut.start, cut.end) for cut in cuts] == [
        (CROSS, 1000, (1000, 0), (1000, 500)),
    ]


@given(sheet_problems())
@settings(max_examples=60, deadline=None)
def test_the_cuts_follow_the_tree(problem):
    plan = solve_panels(problem, Search(seconds=0.02))
    for sheet in plan.sheets:
        cuts = cut_order(problem, sheet)
        assert [cut.number for cut in cuts] == list(range(1, len(cuts) + 1))
        assert [cut.stage for cut in cuts] == sorted(cut.stage for cut in cuts)
        assert max((cut.stage for cut in cuts), default=0) <= sheet.root.stages()
        freed = {id(cut.frees) for cut in cuts if cut.frees is not None}
        for piece in every_piece(sheet.root):
            ends = [end_of(piece, child) for child in piece.children]
            assert sum(id(child) in freed for child in piece.children) == sum(not end for end in ends)


def every_piece(piece):
    yield piece
    for child in piece.children:
        yield from every_piece(child)


def end_of(piece, child):
    """Does the child end where the piece ends?"""
    if piece.cut is RIP:
        return child.y_mm10 + child.height_mm10 == piece.y_mm10 + piece.height_mm10
    return child.x_mm10 + child.width_mm10 == piece.x_mm10 + piece.width_mm10
