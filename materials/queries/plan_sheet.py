"""What does the page of one cutting plan show: the drawings, the parts by their marks, who bears what?"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any

from django.http import Http404

from jobs.models import Job, Person, Phase
from materials.cutting.bar_problem import BarPart
from materials.cutting.sheet_problem import SheetPart
from materials.cutting.stored import problem_from
from materials.models import CuttingPlan, PlanShare, SawnStock
from materials.queries.plan_beside import Way, beside
from materials.queries.plan_drawings import OnPage, drawn, show
from materials.queries.plan_pages import PlanLine, may_plan, plan_line
from materials.queries.plan_read import plan_in
from materials.queries.plan_tasks import JobTasks, tasks_of


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
    ways: tuple[Way, ...]
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
    return plan_pages(row.job, [row], person)[0]


def plan_pages(job: Job, rows: Iterable[CuttingPlan], person: Person) -> list[PlanPage]:
    """Several plans of one job, in as many queries as one."""
    found, phases = tasks_of(job), phase_titles(job)
    return [_page(row, found, phases, person) for row in rows]


def plans_to_print(job: Job) -> list[CuttingPlan]:
    """The plans of a job that have something to cut."""
    rows = CuttingPlan.objects.filter(job=job).exclude(result=None).select_related("material")
    return [row for row in rows.prefetch_related("sawn", "shares__phase") if row.problem["parts"]]


def phase_titles(job: Job) -> dict[str, str]:
    """What each phase is called, by the key that parts carry."""
    return {str(phase.pk): phase.title for phase in Phase.objects.filter(job=job)}


def _page(row: CuttingPlan, found: JobTasks, phases: Mapping[str, str], person: Person) -> PlanPage:
    plan = plan_in(row)
    return PlanPage(
        line=plan_line(found, row.material_id, row, person),
        plan=row,
        bars=drawn(row, plan) if plan else (),
        parts=marked_parts(row, phases),
        ways=beside(row, plan) if plan else (),
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
