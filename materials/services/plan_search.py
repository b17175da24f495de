"""The search for better plans, as it runs in a process of its own."""

from __future__ import annotations

import time
import uuid
from decimal import Decimal

from django.db import transaction
from django.db.models import QuerySet
from django.utils import timezone

from materials.cutting.faults import CannotCut
from materials.cutting.sold import Till
from materials.cutting.solve import as_sold, compare, solve
from materials.cutting.stored import Plan, problem_from
from materials.enums import PlanState
from materials.models import CuttingPlan
from materials.queries.plan_read import plan_in, sold_of
from materials.services.plan_results import keep_plan

SECONDS_BETWEEN_SIGNS = 1.0
SECONDS_TO_COMPARE = 2.0
SECONDS_WITHOUT_PACKS = 2.0


def search_run(run: uuid.UUID) -> int:
    """Search plan after plan of a run, then set each beside simpler ways; returns how many were searched."""
    ids = list(CuttingPlan.objects.filter(run=run).values_list("pk", flat=True))
    waiting = list(CuttingPlan.objects.filter(run=run, state=PlanState.RUNNING).values_list("pk", flat=True))
    for pk in waiting:
        _Searching(pk, run, ids).go()
    for row in CuttingPlan.objects.filter(run=run).exclude(state=PlanState.RUNNING):
        _compare(row, run)
    return len(waiting)


def _compare(row: CuttingPlan, run: uuid.UUID) -> None:
    """Keep what simpler ways would cost, unless the plan has been made anew meanwhile."""
    plan = plan_in(row)
    till = Till(plan.problem, sold_of(row)) if plan else None
    ways = compare(plan, SECONDS_TO_COMPARE, till) if plan and plan.problem.parts else ()
    compared = [
        {
            "way": way.way.name,
            "cost": f"{way.to_pay.normalize():f}",
            "pieces": way.pieces,
            "is_enough": way.is_enough,
            "layouts": way.layouts,
            "cuts": way.cuts,
        }
        for way in ways
    ]
    CuttingPlan.objects.filter(pk=row.pk, run=run).update(compared=compared, run=None)


class _Searching:
    """One plan being searched: keeps what is found, gives signs of life, hears when it is to stop."""

    def __init__(self, pk: int, run: uuid.UUID, ids: list[int]) -> None:
        self.pk = pk
        self.run = run
        self.others = ids
        self.told_to_stop = False
        self.signed_at = 0.0
        self.began = time.monotonic()

    def go(self) -> None:
        row = self._mine().first()
        if row is None:
            return
        problem = problem_from(row.problem)
        try:
            plan = solve(
                problem,
                seconds=row.seconds_granted,
                should_stop=self.should_stop,
                on_better=self.keep,
            )
        except CannotCut as error:
            self._end(PlanState.FAILED, faults=[fault.message for fault in error.faults])
            return
        till = Till(plan.problem, sold_of(row))
        self.keep(as_sold(plan, till, seconds=SECONDS_WITHOUT_PACKS, should_stop=self.should_stop))
        self._end(PlanState.STOPPED if self.told_to_stop else PlanState.DONE)

    def keep(self, plan: Plan) -> None:
        """Write a plan if it is better than what there is, or proves it."""
        with transaction.atomic():
            row = self._mine().select_for_update().first()
            if row is None:
                return
            till, best = Till(plan.problem, sold_of(row)), plan_in(row)
            plan = till.in_packs(plan)
            if best is None or _merit(plan, till) < _merit(best, till):
                keep_plan(row, plan)

    def should_stop(self) -> bool:
        """Asked often: looks into the database once a second, and says there that the search is alive."""
        if not self.told_to_stop and time.monotonic() - self.signed_at >= SECONDS_BETWEEN_SIGNS:
            self.signed_at = time.monotonic()
            now = timezone.now()
            CuttingPlan.objects.filter(run=self.run, pk__in=self.others).update(heard_at=now)
            words = f"{self.signed_at - self.began:.0f} s"
            self.told_to_stop = not self._mine().filter(stop_asked=False).update(progress=words)
        return self.told_to_stop

    def _mine(self) -> QuerySet[CuttingPlan]:
        return CuttingPlan.objects.filter(pk=self.pk, run=self.run, state=PlanState.RUNNING)

    def _end(self, state: PlanState, **fields: object) -> None:
        self._mine().update(state=state, progress="", heard_at=timezone.now(), **fields)


def _merit(plan: Plan, till: Till) -> tuple[Decimal | int, ...]:
    """Less is better: what its packs cost, the plan's rank, then how far its bound stands below it."""
    return (till.for_plan(plan), *plan.rank(), -plan.bound)
