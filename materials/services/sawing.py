"""Writes down what has been cut: it stays as it is, and plans after it cover the rest."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django.db import transaction

from jobs.history import record
from jobs.models import Person
from jobs.money import round_money
from jobs.workshop import current_workshop
from materials.cutting.sawing import came_off, left_over, rest_of
from materials.cutting.stored import Plan, problem_data
from materials.cutting.uses import uses_of
from materials.enums import PlanState
from materials.models import CuttingPlan, SawnStock
from materials.queries.plan_read import plan_in
from materials.services.plan_results import keep_plan


class OverlookedError(Exception):
    """The plan is no longer the one that was looked at; the message says so."""


@transaction.atomic
def confirm_cut(*, plan: CuttingPlan, index: int, count: int, seen: int, person: Person) -> list[SawnStock]:
    """So many of a bar or sheet of the plan are cut. A search that still runs ends with what it has.

    Refused where the plan has changed since the maker looked (`seen` is its count of better plans) or has
    not so many of them.
    """
    row = CuttingPlan.objects.select_for_update().get(pk=plan.pk)
    found = plan_in(row)
    uses = uses_of(found) if found else ()
    if found is None or row.better_count != seen or not 0 <= index < len(uses):
        raise OverlookedError("The plan has changed since you looked. Nothing is written down; look again.")
    if not 1 <= count <= uses[index].repeat:
        raise OverlookedError(f"The plan has {uses[index].repeat} of these to cut.")
    sawn = [SawnStock.objects.create(**_sawn(row, found, index, person)) for _ in range(count)]
    _keep_rest(row, found, index, count)
    record(person=person, thing=row, job=row.job, action=f"cut {count} × {sawn[0].words}")
    return sawn


@transaction.atomic
def undo_cut(*, sawn: SawnStock, person: Person) -> CuttingPlan:
    """It was not cut after all: its pieces are wanted again, so the plan is out of date until made anew."""
    row = sawn.plan
    record(person=person, thing=row, job=row.job, action=f"not cut after all: {sawn.words}")
    sawn.delete()
    return row


def _sawn(row: CuttingPlan, plan: Plan, index: int, person: Person) -> dict[str, Any]:
    use = uses_of(plan)[index]
    stock, source = plan.problem.stock[use.stock], row.stock[use.stock]
    price = Decimal(source["price"]) / Decimal(source["pack"])
    length, width = _stock_size(row, use.stock)
    return {
        "plan": row,
        "size_id": source["size"],
        "words": stock.label,
        "length_mm10": length,
        "width_mm10": width,
        "price": round_money(price, current_workshop().currency),
        "parts": [
            {
                "mark": row.marks[piece.part],
                "phase": plan.problem.parts[piece.part].phase,
                "label": plan.problem.parts[piece.part].label,
                "length_mm10": piece.length_mm10,
                "width_mm10": piece.width_mm10,
                "quantity": piece.quantity,
            }
            for piece in came_off(plan, index)
        ],
        "left": [
            {"length_mm10": left.length_mm10, "width_mm10": left.width_mm10}
            for left in left_over(plan, index)
        ],
        "cut_by": person,
    }


def _stock_size(row: CuttingPlan, stock: int) -> tuple[int, int]:
    kept = row.problem["stock"][stock]
    return (kept["width_mm10"], kept["height_mm10"]) if "height_mm10" in kept else (kept["length_mm10"], 0)


def _keep_rest(row: CuttingPlan, plan: Plan, index: int, count: int) -> None:
    rest, kept = rest_of(plan, index, count)
    row.problem = problem_data(rest.problem)
    row.marks = [row.marks[at] for at in kept]
    row.run = None
    if row.state == PlanState.RUNNING:
        row.state = PlanState.STOPPED
    row.save(update_fields=["problem", "marks", "run", "state"])
    keep_plan(row, rest)
