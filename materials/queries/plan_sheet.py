"""What does the page of one cutting plan show: the drawings, the parts by their marks, who bears what?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any

from django.http import Http404

from jobs.models import Person, Phase
from materials.cutting.bar_problem import BarPart
from materials.cutting.sheet_problem import SheetPart
from materials.cutting.stored import problem_from
from materials.models import CuttingPlan, PlanShare, SawnStock
from materials.queries.plan_drawings import OnPage, drawn, show
from materials.queries.plan_pages import PlanLine, may_plan, plan_line
from materials.queries.plan_read import plan_in
from materials.queries.plan_tasks import tasks_of


@dataclass(frozen=True)
class MarkedPart:
    """What a mark on the drawings stands for."""

    mark: str
    label: str
    phase: str
    size: str
    quantity: int


@dataclass(frozen=True)
class CutPart:
    """Pieces that came off what is cut."""

    mark: str
    size: str
    quantity: int


@dataclass(frozen=True)
class SawnOnPage:
    """A bar or sheet that is cut."""

    pk: int
    words: str
    parts: tuple[CutPart, ...]
    left: tuple[str, ...]
    cut_at: datetime
    price: Decimal


@dataclass(frozen=True)
class PlanPage:
    """One plan from end to end."""

    line: PlanLine
    plan: CuttingPlan
    bars: tuple[OnPage, ...]
    parts: tuple[MarkedPart, ...]
    shares: tuple[PlanShare, ...]
    sawn: tuple[SawnOnPage, ...]
    sees_prices: bool
    may_plan: bool


def plan_for(pk: int) -> CuttingPlan:
    """The plan with what its pages always need, for everybody who logs in; 404 where there is none."""
    row = (
        CuttingPlan.objects.select_related("job", "job__client", "material")
        .prefetch_related("sawn", "shares__phase")
        .filter(pk=pk)
        .first()
    )
    if row is None:
        raise Http404("There is no such cutting plan.")
    return row


def plan_page(row: CuttingPlan, person: Person) -> PlanPage:
    """Everything that the page of a plan shows."""
    plan = plan_in(row)
    task = tasks_of(row.job).tasks[row.material_id]
    phases = {str(phase.pk): phase.title for phase in Phase.objects.filter(job=row.job_id)}
    return PlanPage(
        line=plan_line(task, row, person),
        plan=row,
        bars=drawn(row, plan) if plan else (),
        parts=marked_parts(row, phases),
        shares=tuple(row.shares.all()) if person.sees_prices else (),
        sawn=tuple(_sawn_on_page(sawn) for sawn in row.sawn.all()),
        sees_prices=person.sees_prices,
        may_plan=may_plan(person),
    )


def _sawn_on_page(sawn: SawnStock) -> SawnOnPage:
    return SawnOnPage(
        pk=sawn.pk,
        words=sawn.words,
        parts=tuple(CutPart(part["mark"], _size_of(part), part["quantity"]) for part in sawn.parts),
        left=tuple(_size_of(left) for left in sawn.left),
        cut_at=sawn.cut_at,
        price=sawn.price,
    )


def _size_of(piece: Mapping[str, Any]) -> str:
    length, width = show(piece["length_mm10"]), piece["width_mm10"]
    return f"{length} × {show(width)}" if width else length


def marked_parts(row: CuttingPlan, phases: Mapping[str, str]) -> tuple[MarkedPart, ...]:
    """What each mark stands for, in the order of the marks."""
    problem = problem_from(row.problem)
    parts: Sequence[BarPart | SheetPart] = problem.parts
    return tuple(
        MarkedPart(mark, part.label, phases.get(part.phase, ""), _part_size(part), part.quantity)
        for mark, part in zip(row.marks, parts, strict=True)
    )


def _part_size(part: BarPart | SheetPart) -> str:
    if isinstance(part, SheetPart):
        return f"{show(part.width_mm10)} × {show(part.height_mm10)}"
    return show(part.length_mm10)
