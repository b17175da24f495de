"""Published cutting instances as problems of ours, and our plans in the form such files ask for.

An instance is `{name, kind: "1d" | "2d", kerf, trim, objective: "bins" | "cost", stock, items, best_known}`.
Its numbers may have decimals and any unit: they are multiplied by what makes them whole, none is rounded.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import lcm
from pathlib import Path
from typing import Any

from .bar_plan import BarPlan
from .bar_problem import BarPart, BarProblem, BarStock
from .sheet_plan import SheetPlan
from .sheet_problem import SheetPart, SheetProblem, SheetStock, Trim

SIDES = ("left", "right", "bottom", "top")
Row = dict[str, Any]


@dataclass(frozen=True)
class Instance:
    """One file as read, with the whole numbers by which lengths and costs are multiplied in the problem."""

    data: Row
    scale: int
    money: int

    @property
    def is_sheets(self) -> bool:
        """Sheets, not bars."""
        return "width" in self.data["items"][0] if "kind" not in self.data else self.data["kind"] == "2d"

    @property
    def asked(self) -> list[int]:
        """Which items are asked for at all; parts of the problem stand in this order."""
        return [at for at, item in enumerate(self.data["items"]) if item.get("qty", 1)]

    @property
    def items(self) -> list[Row]:
        """The items that are asked for."""
        return [self.data["items"][at] for at in self.asked]

    @property
    def best_known(self) -> Fraction | None:
        """What the file says is the best known value."""
        known = self.data.get("best_known") or {}
        names = ["objective"] if self.data.get("objective") == "cost" else ["bins", "objective"]
        return next((Fraction(known[name]) for name in names if known.get(name) is not None), None)

    def length(self, number: int | Decimal) -> int:
        """A length of the file as a whole number."""
        return int(Fraction(number) * self.scale)

    def cost(self, stock: Row) -> int:
        """What a piece of stock counts: 1 where the file counts pieces."""
        return int(Fraction(cost_in_file(self.data, stock)) * self.money)


def read_instance(path: Path) -> Instance:
    """Read a file with every number exact."""
    with path.open(encoding="utf-8") as file:
        return instance_of(json.load(file, parse_float=Decimal))


def instance_of(data: Row) -> Instance:
    """Find what makes the lengths and the costs of a file whole."""
    rows = [*data["stock"], *data["items"]]
    lengths = [row[name] for row in rows for name in ("length", "width", "height") if name in row]
    trims = [side for stock in data["stock"] for side in sides_of(data, stock)]
    return Instance(
        data=data,
        scale=common_scale([data.get("kerf") or 0, *lengths, *trims]),
        money=common_scale(cost_in_file(data, stock) for stock in data["stock"]),
    )


def common_scale(numbers: Iterable[int | Decimal]) -> int:
    """The least whole number that makes all of these whole.

    >>> common_scale([Decimal("2.5"), Decimal("0.125"), 3])
    8
    """
    return lcm(*(Fraction(number).denominator for number in numbers))


def cost_in_file(data: Row, stock: Row) -> int | Decimal:
    """A price, or 1 where pieces of stock are counted."""
    cost: int | Decimal = 1 if data.get("objective", "bins") == "bins" else stock.get("cost", 1)
    return cost


def sides_of(data: Row, stock: Row) -> list[int | Decimal]:
    """Trim at left, right, bottom and top: the sheet's own, else the file's; one number means all four."""
    trim = stock.get("trim", data.get("trim", 0)) or 0
    return [trim.get(side, 0) for side in SIDES] if isinstance(trim, dict) else [trim] * len(SIDES)


def bar_problem_of(instance: Instance) -> BarProblem:
    """A file of bars as a problem; files of bars know no trim."""
    return BarProblem(
        stock=tuple(
            BarStock(instance.length(row["length"]), cost=instance.cost(row), quantity=row.get("qty"))
            for row in instance.data["stock"]
        ),
        parts=tuple(
            BarPart(instance.length(row["length"]), quantity=row.get("qty", 1)) for row in instance.items
        ),
        kerf_mm10=instance.length(instance.data.get("kerf") or 0),
    )


def sheet_problem_of(instance: Instance) -> SheetProblem:
    """A file of sheets as a problem."""
    return SheetProblem(
        parts=tuple(
            SheetPart(
                width_mm10=instance.length(row["width"]),
                height_mm10=instance.length(row["height"]),
                quantity=row.get("qty", 1),
                may_turn=row.get("rotate", False),
            )
            for row in instance.items
        ),
        stock=tuple(
            SheetStock(
                width_mm10=instance.length(row["width"]),
                height_mm10=instance.length(row["height"]),
                cost=instance.cost(row),
                quantity=row.get("qty"),
                trim=Trim(*(instance.length(side) for side in sides_of(instance.data, row))),
            )
            for row in instance.data["stock"]
        ),
        kerf_mm10=instance.length(instance.data.get("kerf") or 0),
    )


def bar_solution_of(plan: BarPlan, instance: Instance) -> Row:
    """A plan for bars in the file's terms."""
    return {
        "bars": [
            {
                "stock_index": bar.stock,
                "cuts": [instance.asked[part] for part in bar.parts],
                "repeat": bar.repeat,
            }
            for bar in plan.bars
        ]
    }


def sheet_solution_of(plan: SheetPlan, instance: Instance) -> Row:
    """A plan for sheets in the file's terms and units; a length that is not whole there is a decimal."""
    return {
        "sheets": [
            {
                "stock_index": sheet.stock,
                "repeat": sheet.repeat,
                "placements": [
                    {
                        "item": instance.asked[place.part],
                        "x": in_file(place.x_mm10, instance.scale),
                        "y": in_file(place.y_mm10, instance.scale),
                        "w": in_file(place.width_mm10, instance.scale),
                        "h": in_file(place.height_mm10, instance.scale),
                    }
                    for place in sheet.placements
                ],
            }
            for sheet in plan.sheets
        ]
    }


def in_file(length: int, scale: int) -> int | float:
    """A length in the file's unit."""
    return length // scale if length % scale == 0 else length / scale
