"""Plans the cutting of a job: a first plan at once, a better one from a search that runs by itself."""

from __future__ import annotations

import uuid
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any

from django.db import transaction
from django.utils import timezone

from jobs.models import Job, Person
from materials.cutting.faults import CannotCut, Fault
from materials.cutting.sheet_problem import SheetProblem
from materials.cutting.sold import Till
from materials.cutting.solve import as_sold, is_quick, solve
from materials.cutting.stored import Plan, Problem, problem_data
from materials.enums import PlanState
from materials.models import CuttingPlan
from materials.queries.plan_tasks import JobTasks, SawSettings, Task, source_data, stock_words, tasks_of
from materials.services.plan_results import keep_plan, share_out
from materials.services.search_process import start_search

SECONDS_AT_ONCE = 0.3
"""What all first plans of one request may take together."""


def plan_cutting(
    *,
    job: Job,
    person: Person,
    materials: Collection[int] | None = None,
    settings: Mapping[int, SawSettings] | None = None,
) -> list[CuttingPlan]:
    """Plan some materials of a job, or all: a first plan of each, and a search where it can be bettered.

    What is already sawn stays; a plan takes the place of the one before it. The plan of a material that is no
    longer asked for goes, unless some of it is sawn.
    """
    found = tasks_of(job, settings)
    chosen = [task for pk, task in found.tasks.items() if materials is None or pk in materials]
    idle = [task.material.pk for task in chosen if not task.problem.parts and not _is_sawn(found, task)]
    chosen = [task for task in chosen if task.material.pk not in idle]
    firsts = [_first_plan(task, SECONDS_AT_ONCE / len(chosen)) for task in chosen]
    run = uuid.uuid4()
    with transaction.atomic():
        CuttingPlan.objects.filter(job=job, material__in=idle).delete()
        plans = [_put(first, job=job, person=person, run=run) for first in firsts]
        if any(plan.run for plan in plans):
            transaction.on_commit(lambda: start_search(run))
    return plans


def stop_search(*, plan: CuttingPlan) -> None:
    """Ask the search to end with what it has; one that has ended stays as it is."""
    CuttingPlan.objects.filter(pk=plan.pk, state=PlanState.RUNNING).update(stop_asked=True)


def _is_sawn(found: JobTasks, task: Task) -> bool:
    plan = found.plans.get(task.material.pk)
    return plan is not None and bool(plan.sawn.all())


def _least_size(problem: Problem) -> str:
    """The smallest stock that the largest part comes out of."""
    if isinstance(problem, SheetProblem):
        trim = 0 if not problem.stock else 2 * problem.stock[0].trim.left_mm10
        width = max(part.width_mm10 for part in problem.parts) + trim
        return f"a sheet from {stock_words(width, max(p.height_mm10 for p in problem.parts) + trim)} up"
    longest = max(part.length_mm10 for part in problem.parts)
    return f"a length from {stock_words(longest + 2 * problem.trim_mm10)} up"


@dataclass(frozen=True)
class _First:
    """What could be had at once: a plan, or faults, or neither where the task is left to the search.

    `bought` is the plan out of the packs that its stock is sold in.
    """

    task: Task
    plan: Plan | None = None
    bought: Plan | None = None
    faults: tuple[Fault, ...] = ()

    @property
    def goes_on(self) -> bool:
        """Could a search find better?"""
        return not self.faults and (self.plan is None or not self.plan.proven)

    @property
    def state(self) -> PlanState:
        if self.faults:
            return PlanState.FAILED
        return PlanState.RUNNING if self.goes_on else PlanState.DONE


def _first_plan(task: Task, seconds: float) -> _First:
    """A plan within the seconds; none yet for a task so large that somebody would wait for it."""
    if task.problem.parts and not task.problem.stock:
        return _First(task, faults=(Fault("stock", None, _nothing_to_cut_from(task)),))
    if not is_quick(task.problem):
        return _First(task)
    try:
        plan = solve(task.problem, seconds=seconds)
        return _First(task, plan, as_sold(plan, Till(task.problem, task.sold), seconds=seconds))
    except CannotCut as error:
        return _First(task, faults=error.faults)


def _nothing_to_cut_from(task: Task) -> str:
    would_do = f"what would fit: {_least_size(task.problem)}"
    if task.unpriced:
        return f"{task.material}: no size has a price yet ({', '.join(task.unpriced)}); {would_do}."
    return f"{task.material}: no stock size and no offcut to cut from; {would_do}."


def _put(first: _First, *, job: Job, person: Person, run: uuid.UUID) -> CuttingPlan:
    """Store what was asked, then what was found."""
    row, _ = CuttingPlan.objects.update_or_create(
        job=job,
        material=first.task.material,
        defaults={**_asked(first.task), **_no_result(first, run), "made_by": person},
    )
    if first.bought is not None:
        keep_plan(row, first.bought)
    else:
        share_out(row)
    return row


def _asked(task: Task) -> dict[str, Any]:
    return {
        "kind": task.kind,
        "kerf_mm10": task.settings.kerf_mm10,
        "trim_mm10": task.settings.trim_mm10,
        "least_offcut_mm10": task.settings.least_offcut_mm10,
        "least_offcut_width_mm10": task.settings.least_offcut_width_mm10,
        "seconds_granted": task.settings.seconds,
        "problem": problem_data(task.problem),
        "marks": list(task.marks),
        "stock": [source_data(source) for source in task.sources],
        "money_places": task.money_places,
    }


def _no_result(first: _First, run: uuid.UUID) -> dict[str, Any]:
    now = timezone.now()
    return {
        "result": None,
        "faults": [fault.message for fault in first.faults],
        "cost": None,
        "lower_bound": None,
        "proven": False,
        "how": "",
        "milliseconds": 0,
        "better_count": 0,
        "state": first.state,
        "run": None if first.faults else run,
        "compared": None,
        "progress": "",
        "stop_asked": False,
        "started_at": now,
        "heard_at": now,
    }
