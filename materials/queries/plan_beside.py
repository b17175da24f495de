"""How does a plan stand beside simpler ways to buy and cut?"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from jobs.money import round_money
from jobs.workshop import current_workshop
from materials.cutting.sheet_plan import SheetPlan
from materials.cutting.stored import Plan
from materials.cutting.strips import cuts_of
from materials.cutting.uses import uses_of
from materials.models import CuttingPlan
from materials.queries.plan_read import cost_still_to_cut

WORDS = {
    "ALLOWANCE": "Length or area and ten per cent",
    "ONE_SIZE": "One size of stock only",
    "FEW_LAYOUTS": "As few layouts to set up as can be",
    "STRIPS": "Strips of one size of part",
}


@dataclass(frozen=True)
class Way:
    """One way to buy and cut what is still to be cut. `more` is how much dearer than the plan it is.

    `settings` is how many layouts of bars there are, or how often the saw goes through sheets.
    """

    words: str
    cost: Decimal
    more: Decimal
    pieces: int
    settings: int | None
    is_enough: bool
    is_plan: bool = False

    @property
    def less(self) -> Decimal:
        """How much cheaper it is."""
        return -self.more


def beside(row: CuttingPlan, plan: Plan) -> tuple[Way, ...]:
    """The plan first, then the simpler ways; nothing until they have been costed."""
    if not row.compared:
        return ()
    cost, uses = cost_still_to_cut(row, plan), uses_of(plan)
    settings = cuts_of(plan) if isinstance(plan, SheetPlan) else len(uses)
    own = Way("This plan", cost, cost - cost, sum(use.repeat for use in uses), settings, True, is_plan=True)
    return (own, *(_way(kept, cost) for kept in row.compared))


def _way(kept: dict[str, object], plan_cost: Decimal) -> Way:
    cost = round_money(Decimal(str(kept["cost"])), current_workshop().currency)
    settings = kept["layouts"] if kept.get("cuts") is None else kept["cuts"]
    return Way(
        words=WORDS[str(kept["way"])],
        cost=cost,
        more=cost - plan_cost,
        pieces=int(str(kept["pieces"])),
        settings=None if settings is None else int(str(settings)),
        is_enough=bool(kept["is_enough"]),
    )
