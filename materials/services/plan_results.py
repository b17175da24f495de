"""Keeps a plan that was found, and shares its cost among the phases to the penny."""

from __future__ import annotations

from decimal import Decimal

from django.db import transaction
from django.db.models import F

from jobs.models import Phase
from jobs.money import ZERO, round_money
from jobs.workshop import current_workshop
from materials.cutting.stored import Plan, plan_data
from materials.models import CuttingPlan, PlanShare
from materials.queries.plan_read import cost_with_sawn, phase_weights, plan_in, shared

RESULT_FIELDS = ("result", "cost", "lower_bound", "proven", "how", "milliseconds", "better_count")


def keep_plan(row: CuttingPlan, plan: Plan) -> None:
    """Write a plan into its row with its shares; the caller holds the row within a transaction."""
    sawn = sum((bar.price for bar in row.sawn.all()), ZERO)
    bound = sawn + Decimal(plan.bound).scaleb(-row.money_places)
    row.result = plan_data(plan)
    row.cost = cost_with_sawn(row, plan)
    row.lower_bound = min(row.cost, round_money(bound, current_workshop().currency))
    row.proven = plan.proven and row.cost == row.lower_bound
    row.how = plan.how
    row.milliseconds = round(1000 * plan.seconds)
    row.better_count = F("better_count") + 1
    row.save(update_fields=RESULT_FIELDS)
    row.refresh_from_db(fields=["better_count"])
    share_out(row)


@transaction.atomic
def share_out(row: CuttingPlan) -> None:
    """Share the cost of a plan among the phases whose parts it cuts; the shares add up to it exactly."""
    row.shares.all().delete()
    if row.cost is None:
        return
    phases = {str(pk) for pk in Phase.objects.filter(job=row.job_id).values_list("pk", flat=True)}
    shares = shared(row.cost, phase_weights(row, plan_in(row)), phases)
    PlanShare.objects.bulk_create(
        PlanShare(plan=row, phase_id=phase, cost=cost) for phase, cost in shares.items()
    )
