"""Plans and problems as plain data and back, to be kept and read again by another process."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from .bar_plan import BarPlan, CutBar
from .bar_problem import BarPart, BarProblem, BarStock
from .sheet_plan import CutDirection, CutSheet, Leftover, Piece, Placement, SheetPlan
from .sheet_problem import SheetPart, SheetProblem, SheetStock, Trim

Data = dict[str, Any]
Problem = BarProblem | SheetProblem
Plan = BarPlan | SheetPlan


def problem_data(problem: Problem) -> Data:
    """A problem as dictionaries, lists, numbers and words."""
    return {"kind": "sheet" if isinstance(problem, SheetProblem) else "board", **asdict(problem)}


def problem_from(data: Data) -> Problem:
    """The problem that `problem_data` was given."""
    fields = {name: value for name, value in data.items() if name not in ("kind", "stock", "parts")}
    if data["kind"] == "sheet":
        return SheetProblem(
            stock=tuple(SheetStock(**{**stock, "trim": Trim(**stock["trim"])}) for stock in data["stock"]),
            parts=tuple(SheetPart(**part) for part in data["parts"]),
            **fields,
        )
    return BarProblem(
        stock=tuple(BarStock(**stock) for stock in data["stock"]),
        parts=tuple(BarPart(**part) for part in data["parts"]),
        **fields,
    )


def plan_data(plan: Plan) -> Data:
    """A plan without its problem."""
    found = {"bound": plan.bound, "seconds": plan.seconds, "how": plan.how}
    if isinstance(plan, SheetPlan):
        return {"sheets": [_sheet_data(sheet) for sheet in plan.sheets], **found}
    return {"bars": [asdict(bar) for bar in plan.bars], **found}


def plan_from(problem: Problem, data: Data) -> Plan:
    """The plan that `plan_data` was given, over its problem."""
    bound, seconds, how = data["bound"], data["seconds"], data["how"]
    if isinstance(problem, SheetProblem):
        sheets = tuple(_sheet_from(sheet) for sheet in data["sheets"])
        return SheetPlan(problem, sheets, bound=bound, seconds=seconds, how=how)
    bars = tuple(CutBar(bar["stock"], tuple(bar["parts"]), bar["repeat"]) for bar in data["bars"])
    return BarPlan(problem, bars, bound=bound, seconds=seconds, how=how)


def _sheet_data(sheet: CutSheet) -> Data:
    return {**asdict(sheet), "root": _piece_data(sheet.root)}


def _sheet_from(data: Data) -> CutSheet:
    return CutSheet(
        stock=data["stock"],
        root=_piece_from(data["root"]),
        placements=tuple(Placement(**placement) for placement in data["placements"]),
        leftovers=tuple(Leftover(**left) for left in data["leftovers"]),
        repeat=data["repeat"],
    )


def _piece_data(piece: Piece) -> Data:
    """A piece with its direction of cut as a word."""
    return {
        **{name: getattr(piece, name) for name in _PIECE_FIELDS},
        "cut": piece.cut.value if piece.cut else None,
        "children": [_piece_data(child) for child in piece.children],
    }


def _piece_from(data: Data) -> Piece:
    return Piece(
        **{name: data[name] for name in _PIECE_FIELDS},
        cut=CutDirection(data["cut"]) if data["cut"] else None,
        children=tuple(_piece_from(child) for child in data["children"]),
    )


_PIECE_FIELDS = ("x_mm10", "y_mm10", "width_mm10", "height_mm10", "part", "turned")
