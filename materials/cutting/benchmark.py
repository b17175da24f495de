"""Published cutting instances from files: read, solved as in daily use, written out, set in a table."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import lcm
from pathlib import Path
from typing import Any

from .bar_plan import BarPlan
from .bar_problem import BarPart, BarProblem, BarStock
from .bars import solve_bars
from .search import Search

Instance = dict[str, Any]


@dataclass(frozen=True)
class Result:
    """One instance as solved: values in the instance's own units."""

    name: str
    group: str
    value: Fraction
    best_known: Fraction | None
    bound: Fraction
    seconds: float
    proven: bool

    @property
    def gap(self) -> Fraction | None:
        """How far over the best known, as a share of it."""
        if self.best_known is None:
            return None
        return (self.value - self.best_known) / self.best_known if self.best_known else Fraction(self.value)


def run(folder: Path, out: Path, seconds: float, tell: Callable[[str], None]) -> list[Result]:
    """Solve every instance of a folder, write NAME.json for each, tell a line as each is done."""
    out.mkdir(parents=True, exist_ok=True)
    results = []
    tell(HEADING)
    for path in sorted(folder.glob("*.json")):
        instance = read_instance(path)
        result, solution = solve_instance(instance, path.stem, seconds)
        (out / path.name).write_text(json.dumps(solution), encoding="utf-8")
        results.append(result)
        tell(line_of(result))
    for line in totals(results):
        tell(line)
    return results


def read_instance(path: Path) -> Instance:
    """The file with every number exact."""
    with path.open(encoding="utf-8") as file:
        instance: Instance = json.load(file, parse_float=Decimal)
    return instance


def solve_instance(instance: Instance, name: str, seconds: float) -> tuple[Result, dict[str, Any]]:
    """Solve one instance of either kind; the result and the plan in the file format."""
    problem, money = bar_problem_of(instance)
    plan = solve_bars(problem, Search(seconds=seconds))
    solution = bar_solution_of(plan, instance)
    known = instance.get("best_known") or {}
    best = known.get("objective") if instance.get("objective") == "cost" else known.get("bins")
    result = Result(
        name=name,
        group=str(instance.get("class", "")),
        value=Fraction(plan.cost, money),
        best_known=None if best is None else Fraction(best),
        bound=Fraction(plan.bound, money),
        seconds=plan.seconds,
        proven=plan.proven,
    )
    return result, solution


def bar_problem_of(instance: Instance) -> tuple[BarProblem, int]:
    """The problem in whole numbers, and the whole number by which its costs were multiplied."""
    stock, items = instance["stock"], [item for item in instance["items"] if item.get("qty", 1)]
    kerf = instance.get("kerf") or 0
    scale = common_scale([kerf, *(s["length"] for s in stock), *(i["length"] for i in items)])
    counts_bars = instance.get("objective", "bins") == "bins"
    costs = [1 if counts_bars else s.get("cost", 1) for s in stock]
    money = common_scale(costs)
    problem = BarProblem(
        stock=tuple(
            BarStock(length_mm10=scaled(s["length"], scale), cost=scaled(cost, money), quantity=s.get("qty"))
            for s, cost in zip(stock, costs, strict=True)
        ),
        parts=tuple(BarPart(length_mm10=scaled(i["length"], scale), quantity=i.get("qty", 1)) for i in items),
        kerf_mm10=scaled(kerf, scale),
    )
    return problem, money


def bar_solution_of(plan: BarPlan, instance: Instance) -> dict[str, Any]:
    """The plan in the file format; items that nobody asked for are counted over."""
    asked = [index for index, item in enumerate(instance["items"]) if item.get("qty", 1)]
    return {
        "bars": [
            {"stock_index": bar.stock, "cuts": [asked[part] for part in bar.parts], "repeat": bar.repeat}
            for bar in plan.bars
        ]
    }


def common_scale(numbers: Iterable[int | Decimal]) -> int:
    """The least whole number that makes all of these whole.

    >>> common_scale([Decimal("2.5"), Decimal("0.125"), 3])
    8
    """
    return lcm(*(Fraction(number).denominator for number in numbers))


def scaled(number: int | Decimal, scale: int) -> int:
    """A number times a scale that makes it whole."""
    return int(Fraction(number) * scale)


HEADING = f"{'instance':28} {'ours':>10} {'best':>10} {'bound':>10} {'seconds':>8}  proven"

TOTALS_HEADING = (
    f"{'class':20} {'count':>5} {'at best':>7} {'proven':>6} {'mean gap':>9} {'worst':>8} {'seconds':>8}"
)


def line_of(result: Result) -> str:
    """One line of the table."""
    best = "-" if result.best_known is None else f"{float(result.best_known):g}"
    return (
        f"{result.name:28} {float(result.value):>10g} {best:>10} {float(result.bound):>10g}"
        f" {result.seconds:>8.2f}  {'yes' if result.proven else '-'}"
    )


def totals(results: list[Result]) -> list[str]:
    """A line a class, and one for all."""
    lines = [
        "",
        f"{'class':20} {'count':>5} {'at best':>7} {'proven':>6} {'mean gap':>9} {'worst':>8} {'seconds':>8}",
    ]
    groups = sorted({result.group for result in results})
    by_group = (_total(name, [result for result in results if result.group == name]) for name in groups)
    return [*lines, *by_group, _total("all", results)]


def _total(name: str, results: list[Result]) -> str:
    gaps = [result.gap for result in results if result.gap is not None]
    at_best = sum(gap <= 0 for gap in gaps)
    mean = 100 * float(sum(gaps)) / len(gaps) if gaps else 0.0
    worst = 100 * float(max(gaps, default=Fraction(0)))
    proven = sum(result.proven for result in results)
    seconds = max((result.seconds for result in results), default=0.0)
    return (
        f"{name:20} {len(results):>5} {at_best:>7} {proven:>6} {mean:>8.3f}% {worst:>7.2f}% {seconds:>8.2f}"
    )
