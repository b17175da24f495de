"""A folder of published instances: solved as in daily use, written out, set in a table."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

from .bar_plan import BarPlan
from .bars import solve_bars
from .faults import CannotCut
from .instances import (
    Instance,
    bar_problem_of,
    bar_solution_of,
    read_instance,
    sheet_problem_of,
    sheet_solution_of,
)
from .panels import solve_panels, wait_until_ready
from .search import Search
from .sheet_plan import SheetPlan

HEADING = f"{'instance':28} {'ours':>10} {'best':>10} {'bound':>10} {'seconds':>8}  proven"
TOTALS_HEADING = (
    f"{'class':20} {'count':>5} {'at best':>7} {'proven':>6} {'mean gap':>9} {'worst':>8} {'seconds':>8}"
)


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
        over = self.value - self.best_known
        return over / self.best_known if self.best_known else over


def run(folder: Path, out: Path, seconds: float, tell: Callable[[str], None]) -> list[Result]:
    """Solve every instance of a folder, write NAME.json for each, tell a line as each is done.

    A file that can't be read as an instance, or has no plan, gets a line that says so and is left out.
    """
    out.mkdir(parents=True, exist_ok=True)
    results = []
    wait_until_ready()
    tell(HEADING)
    for path in sorted(folder.glob("*.json")):
        try:
            result, solution = solve_instance(read_instance(path), path.stem, seconds)
        except CannotCut as trouble:
            tell(f"{path.stem:28} has no plan: {trouble}")
            continue
        except (ValueError, KeyError, TypeError, IndexError, AttributeError) as trouble:
            tell(f"{path.stem:28} is not an instance: {type(trouble).__name__}: {trouble}")
            continue
        (out / path.name).write_text(json.dumps(solution), encoding="utf-8")
        results.append(result)
        tell(line_of(result))
    for line in totals(results):
        tell(line)
    return results


def solve_instance(instance: Instance, name: str, seconds: float) -> tuple[Result, dict[str, Any]]:
    """Solve one instance of either kind: how it went, and the plan in the file's form."""
    if instance.is_sheets:
        sheets = solve_panels(sheet_problem_of(instance), Search(seconds=seconds))
        return _result(instance, name, sheets), sheet_solution_of(sheets, instance)
    bars = solve_bars(bar_problem_of(instance), Search(seconds=seconds))
    return _result(instance, name, bars), bar_solution_of(bars, instance)


def _result(instance: Instance, name: str, plan: BarPlan | SheetPlan) -> Result:
    return Result(
        name=name,
        group=str(instance.data.get("class", "")),
        value=Fraction(plan.cost, instance.money),
        best_known=instance.best_known,
        bound=Fraction(plan.bound, instance.money),
        seconds=plan.seconds,
        proven=plan.proven,
    )


def line_of(result: Result) -> str:
    """One line of the table."""
    best = "-" if result.best_known is None else f"{float(result.best_known):.10g}"
    return (
        f"{result.name:28} {float(result.value):>10.10g} {best:>10} {float(result.bound):>10.10g}"
        f" {result.seconds:>8.2f}  {'yes' if result.proven else '-'}"
    )


def totals(results: list[Result]) -> list[str]:
    """A line a class, and one for all."""
    groups = sorted({result.group for result in results})
    by_group = (_total(name, [result for result in results if result.group == name]) for name in groups)
    return ["", TOTALS_HEADING, *by_group, _total("all", results)]


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
