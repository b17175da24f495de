"""Which dates would a change order move, phase by phase, once it is agreed?"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from jobs.models import Phase
from jobs.progress.moving import Moved, MovedPlan
from jobs.queries.moving import plan_with
from jobs.workshop import current_workshop
from quotes.pricing import PricedQuote, phase_budgets, whole_days
from quotes.queries.figures import QuoteFigures


@dataclass(frozen=True)
class MovedPhase:
    """A phase that a change moves, by its title."""

    title: str
    dates: Moved


def added_days(priced: PricedQuote) -> dict[int, int]:
    """Whole working days that a change adds to each phase, by the hours in it."""
    hours_a_day = current_workshop().hours_a_day
    return {int(each.phase): whole_days(each.hours, hours_a_day) for each in phase_budgets(priced)}


def moved_by(figures: QuoteFigures) -> MovedPlan:
    """The job's plan as it would be with the change; one query."""
    return plan_with(figures.quote.job, added_days(figures.priced))


def moved_phases(plan: MovedPlan, phases: Iterable[Phase]) -> tuple[MovedPhase, ...]:
    """What moves, in the order of the phases."""
    by_key = {moved.before.key: moved for moved in plan.moved}
    return tuple(MovedPhase(phase.title, by_key[phase.pk]) for phase in phases if phase.pk in by_key)
