"""Where lines and words of a cutting drawing stand: to scale, inside the paper, none on top of another."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.cutting.bar_drawing import BarPiece, BarToDraw, draw_bar
from materials.cutting.cut_order import cut_order
from materials.cutting.drawing import MARGIN, WIDTH, Box, CutDrawing, hatching, text_width
from materials.cutting.sheet_drawing import SheetToDraw, draw_sheet
from materials.cutting.sheet_plan import SheetPlan
from materials.cutting.sheet_problem import SheetPart, SheetProblem, SheetStock, Trim
from materials.cutting.solve import solve


def in_mm(length_mm10: int) -> str:
    return f"{length_mm10 / 10:g}"


def bar(*lengths: int, length: int = 24000, trim: int = 0, keep: int = 3000) -> CutDrawing:
    pieces = [BarPiece(chr(65 + at), size) for at, size in enumerate(lengths)]
    return draw_bar(BarToDraw("Bar 1", length, pieces, 32, trim, keep), 24000, in_mm)


def boxes(drawing: CutDrawing, kind: str) -> list[Box]:
    return [box for box in drawing.boxes if box.kind == kind]


def texts(drawing: CutDrawing, kind: str) -> list[str]:
    return [word.text for word in drawing.words if word.kind == kind]


def test_parts_lie_to_scale_from_the_left() -> None:
    first, second = boxes(bar(12000, 6000), "part")
    assert first.x == MARGIN
    assert first.width == pytest.approx((WIDTH - 2 * MARGIN) / 2, abs=1)
    assert second.width == pytest.approx(first.width / 2, abs=1)
    assert second.x - (first.x + first.width) == pytest.approx(32 * (WIDTH - 2 * MARGIN) / 24000, abs=1)


def test_marks_dimensions_and_cuts_are_written() -> None:
    drawing = bar(12000, 6000)
    assert texts(drawing, "mark") == ["A", "B"]
    assert texts(drawing, "cut") == ["1", "2"]
    assert texts(drawing, "figure") == ["1200", "600", "593.6", "keep", "2400"]


def test_what_is_too_short_to_keep_is_left() -> None:
    drawing = bar(12000, 10000)
    assert boxes(drawing, "keep") == []
    assert len(boxes(drawing, "left")) == 1


def test_a_bar_cut_up_whole_has_one_cut_less_and_nothing_left() -> None:
    drawing = bar(11984, 11984)
    assert texts(drawing, "cut") == ["1"]
    assert boxes(drawing, "left") == boxes(drawing, "keep") == []


def test_trim_comes_off_both_ends_and_is_cut_first() -> None:
    drawing = bar(6000, trim=100)
    assert len(boxes(drawing, "trim")) == 2
    assert boxes(drawing, "part")[0].x > MARGIN


def test_a_part_too_narrow_for_its_mark_has_none() -> None:
    assert texts(bar(100, 12000), "mark") == ["B"]


@given(st.lists(st.integers(50, 4000), min_size=1, max_size=20), st.integers(0, 200))
def test_everything_stays_on_the_paper(lengths: list[int], trim: int) -> None:
    length = sum(lengths) + 32 * len(lengths) + 2 * trim
    pieces = [BarPiece("W", size) for size in lengths]
    drawing = draw_bar(BarToDraw("Bar", length, pieces, 32, trim, 0), length, in_mm)
    for box in drawing.boxes:
        assert 0 <= box.x <= box.x + box.width <= WIDTH
        assert box.width >= 0
    for word in drawing.words:
        if word.kind in ("mark", "figure"):
            assert word.x - text_width(word.text) // 2 >= -MARGIN
            assert word.x + text_width(word.text) // 2 <= WIDTH + MARGIN


@given(st.builds(Box, *[st.integers(0, 500)] * 2, *[st.integers(1, 900)] * 2, st.just("left")))
def test_hatching_stays_in_its_box_at_45_degrees(box: Box) -> None:
    for line in hatching(box):
        assert box.x <= line.x1 < line.x2 <= box.x + box.width
        assert box.y <= line.y2 < line.y1 <= box.y + box.height
        assert line.x2 - line.x1 == line.y1 - line.y2


SHEET = SheetProblem(
    parts=(SheetPart(12000, 6000, 2), SheetPart(5000, 3000, 4), SheetPart(900, 700, 2)),
    stock=(SheetStock(24400, 12200, trim=Trim.all_round(50)),),
    kerf_mm10=32,
    least_offcut_short_mm10=1000,
    least_offcut_long_mm10=2000,
)


@pytest.fixture(scope="module")
def plan() -> SheetPlan:
    found = solve(SHEET, seconds=0.2)
    assert isinstance(found, SheetPlan)
    return found


def drawn(plan: SheetPlan) -> CutDrawing:
    cuts = cut_order(SHEET, plan.sheets[0])
    to_draw = SheetToDraw("Sheet 1", SHEET.stock[0], plan.sheets[0], cuts, ["A", "B", "C"], 32)
    return draw_sheet(to_draw, 24400, in_mm)


def test_a_sheet_shows_every_part(plan: SheetPlan) -> None:
    drawing = drawn(plan)
    assert len(boxes(drawing, "part")) == len(plan.sheets[0].placements) == 8
    assert texts(drawing, "mark").count("A") == 2
    assert texts(drawing, "figure").count("1200 × 600") == 2


def test_parts_on_a_sheet_do_not_overlap_and_stay_on_it(plan: SheetPlan) -> None:
    drawing = drawn(plan)
    outline, parts = boxes(drawing, "outline")[0], boxes(drawing, "part")
    for at, one in enumerate(parts):
        assert outline.x <= one.x
        assert outline.y <= one.y
        assert one.x + one.width <= outline.x + outline.width
        assert one.y + one.height <= outline.y + outline.height
        for other in parts[at + 1 :]:
            apart = (
                one.x + one.width <= other.x
                or other.x + other.width <= one.x
                or one.y + one.height <= other.y
                or other.y + other.height <= one.y
            )
            assert apart


def test_every_cut_but_the_trims_is_numbered(plan: SheetPlan) -> None:
    cuts = [cut.number for cut in cut_order(SHEET, plan.sheets[0]) if cut.stage]
    assert sorted(map(int, texts(drawn(plan), "cut"))) == cuts
    assert cuts[0] == 5, "four sides are trimmed first"


def test_numbers_of_cuts_stand_apart(plan: SheetPlan) -> None:
    plates = boxes(drawn(plan), "number")
    for at, one in enumerate(plates):
        for other in plates[at + 1 :]:
            assert abs(one.x - other.x) >= one.width or abs(one.y - other.y) >= one.height
