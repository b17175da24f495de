"""Writes down what has been cut: it stays as it is, and plans after it cover the rest."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal
from typing import Any
from uuid import UUID, uuid5

from django.db import transaction
from django.utils import timezone

from jobs.history import record
from jobs.models import Person, Phase
from jobs.money import ZERO
from jobs.refusals import RefusedError
from materials.cutting.sawing import came_off, left_over, rest_of
from materials.cutting.stored import Plan, problem_data
from materials.cutting.uses import uses_of
from materials.enums import PlanState
from materials.models import CuttingPlan, SawnStock, StockItem
from materials.queries.plan_read import plan_in
from materials.queries.stock_to_cut import SMALLEST
from materials.services.plan_results import keep_plan
from materials.services.stock import Leftover, bring_in_leftovers, count_again, put_back, take

_CUTS = UUID("0d9a7c52-3f0b-4c1e-8a36-6a1b5d2e9f47")
"""The space in which a sawn bar makes the keys of what it moves in stock, so that nothing is moved twice."""


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
        raise RefusedError("The plan has changed since you looked. Nothing is written down; look again.")
    if not 1 <= count <= uses[index].repeat:
        raise RefusedError(f"The plan has {uses[index].repeat} of these to cut.")
    sawn = [_saw(row, found, index, person) for _ in range(count)]
    _keep_rest(row, found, index, count)
    record(person=person, thing=row, job=row.job, action=f"cut {count} × {sawn[0].words}")
    return sawn


@transaction.atomic
def undo_cut(*, sawn: SawnStock, person: Person) -> CuttingPlan:
    """It was not cut after all: its pieces are wanted again, so the plan is out of date until made anew.

    Its leftovers go out of stock again. Refused once one of them has been used. What is undone already stays.
    """
    row = sawn.plan
    if not SawnStock.objects.select_for_update().filter(pk=sawn.pk).exists():
        return row
    for item in StockItem.objects.filter(source_ref__startswith=f"{_ref(sawn)} "):
        if item.used_up_at:
            raise RefusedError(f"{item.label}, which was left of it, is used already, so it was cut.")
        count_again(
            item=item,
            quantity=ZERO,
            reason="not cut after all",
            person=person,
            key=uuid5(_CUTS, f"no {item.pk}"),
        )
    if sawn.taken:
        put_back(move=sawn.taken, person=person, key=uuid5(_CUTS, f"back {sawn.taken_id}"))
    record(person=person, thing=row, job=row.job, action=f"not cut after all: {sawn.words}")
    sawn.undone_at = timezone.now()
    sawn.save(update_fields=["undone_at"])
    return row


def _ref(sawn: SawnStock) -> str:
    """Names a sawn bar in the stock book."""
    return f"cut {sawn.pk}"


def _saw(row: CuttingPlan, plan: Plan, index: int, person: Person) -> SawnStock:
    """One bar or sheet: out of stock if it lay there, its leftovers into stock."""
    sawn = SawnStock.objects.create(**_sawn(row, plan, index, person))
    if item_id := row.stock[uses_of(plan)[index].stock]["offcut"]:
        item = StockItem.objects.get(pk=item_id)
        key = uuid5(_CUTS, f"take {sawn.pk}")
        sawn.taken = take(
            item=item, quantity=Decimal(1), phase=_main_phase(row, sawn), person=person, key=key
        )
        sawn.save(update_fields=["taken"])
    leftovers = [
        Leftover(
            ref=f"{_ref(sawn)} piece {number}",
            material=row.material,
            length_mm10=left["length_mm10"],
            width_mm10=left["width_mm10"] or None,
        )
        for number, left in enumerate(sawn.left, 1)
    ]
    bring_in_leftovers(job=row.job, leftovers=leftovers, person=person)
    return sawn


def _main_phase(row: CuttingPlan, sawn: SawnStock) -> Phase:
    """The phase that most of it is for; one that is gone gives way to the first of the job."""
    taken: Counter[str] = Counter()
    for part in sawn.parts:
        taken[part["phase"]] += part["length_mm10"] * (part["width_mm10"] or 1) * part["quantity"]
    phases = {str(phase.pk): phase for phase in row.job.phases.all()}
    there = [phase for phase, _ in taken.most_common() if phase in phases]
    if not phases:
        raise RefusedError("The job has no phase that could bear the cost of what is taken from stock.")
    return phases[there[0]] if there else next(iter(phases.values()))


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
        "price": price.quantize(SMALLEST),
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
    row.compared = None
    row.save(update_fields=["problem", "marks", "run", "state", "compared"])
    keep_plan(row, rest)
