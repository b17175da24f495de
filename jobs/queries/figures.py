"""How do jobs stand, phase by phase? Added up in the database, multiplied here, so that it is exact.

Hours are kept as whole seconds at a rate of that day, so the database adds the seconds of each phase and rate
and the cost is worked out from a handful of rows, however many entries there are.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import datetime
from decimal import Decimal
from typing import Any, NamedTuple, Protocol

from django.db.models import Q, QuerySet, Sum

from jobs.enums import BudgetSource
from jobs.models import BudgetEntry, CommitmentEntry, CostEntry, TimeEntry
from jobs.money import ZERO, round_half_up, round_money
from jobs.progress import Amounts, PhaseRow, cost_of_hours_left

HOUR_PLACES = 2
SECONDS = Decimal(3600)

WHOLE = Decimal(100)
COUNTED = Q(void=False, seconds__isnull=False)
ByPhase = dict[int, Amounts]
Keys = Sequence[int] | QuerySet[Any, Any]


class Ledgers(NamedTuple):
    """What the ledgers hold, by phase; a phase they do not name has nothing."""

    original: ByPhase
    changes: ByPhase
    committed: ByPhase
    actual: ByPhase


class Followed(Protocol):
    """As much of a phase as its progress needs."""

    pk: int
    title: str
    percent_done: Decimal
    percent_done_at: datetime | None
    hours_left: Decimal | None


def phase_rows(
    phases: Iterable[Followed], *, currency: str, among: QuerySet[Any, Any] | None = None
) -> dict[int, PhaseRow]:
    """Each phase's budget, commitments and actual, in four queries however many phases and entries.

    `among` may name the same phases as a query of their keys, which is sooner read than hundreds of keys.
    """
    phases = list(phases)
    keys = [phase.pk for phase in phases] if among is None else among
    original, changes = _budgets(keys)
    ledgers = Ledgers(original, changes, _committed(keys), _actual(keys, currency))
    return {phase.pk: _row(phase, ledgers, currency) for phase in phases}


def hours_and_cost(seconds_by_rate: Iterable[tuple[int, Decimal]], currency: str) -> tuple[Decimal, Decimal]:
    """Hours to a hundredth and what they cost to the minor unit, each rounded once.

    >>> hours_and_cost([(1200, Decimal(20)), (2400, Decimal(30))], "GBP")
    (Decimal('1.00'), Decimal('26.67'))
    """
    rows = list(seconds_by_rate)
    seconds = sum(seconds for seconds, _ in rows)
    cost = sum((seconds * rate for seconds, rate in rows), ZERO) / SECONDS
    return round_half_up(seconds / SECONDS, HOUR_PLACES), round_money(cost, currency)


def _row(phase: Followed, ledgers: Ledgers, currency: str) -> PhaseRow:
    said = phase.percent_done_at is not None or phase.percent_done > 0
    row = PhaseRow(
        key=str(phase.pk),
        title=phase.title,
        original=ledgers.original[phase.pk],
        changes=ledgers.changes[phase.pk],
        committed=ledgers.committed[phase.pk],
        actual=ledgers.actual[phase.pk],
        percent_done=phase.percent_done if said else None,
    )
    if phase.hours_left is None or phase.percent_done == WHOLE:
        return row
    return replace(row, to_complete=cost_of_hours_left(row, phase.hours_left, currency=currency))


def _budgets(keys: Keys) -> tuple[ByPhase, ByPhase]:
    by_source: dict[str, ByPhase] = {source: defaultdict(Amounts) for source in BudgetSource.values}
    rows = (
        BudgetEntry.objects.filter(phase__in=keys)
        .order_by()
        .values_list("phase", "source")
        .annotate(Sum("hours"), Sum("labour_cost"), Sum("material_cost"), Sum("other_cost"))
    )
    for phase, source, hours, labour, material, other in rows:
        by_source[source][phase] = Amounts(hours, labour, material + other)
    return by_source[BudgetSource.QUOTE], by_source[BudgetSource.CHANGE]


def _committed(keys: Keys) -> ByPhase:
    found: ByPhase = defaultdict(Amounts)
    rows = CommitmentEntry.objects.filter(phase__in=keys).order_by().values_list("phase").annotate(Sum("net"))
    for phase, net in rows:
        found[phase] = Amounts(other=net)
    return found


def _actual(keys: Keys, currency: str) -> ByPhase:
    spent: dict[int, Decimal] = dict(
        CostEntry.objects.filter(phase__in=keys).order_by().values_list("phase").annotate(Sum("net"))
    )
    worked: dict[int, list[tuple[int, Decimal]]] = defaultdict(list)
    rows = (
        TimeEntry.objects.filter(COUNTED, phase__in=keys)
        .order_by()
        .values_list("phase", "cost_rate")
        .annotate(Sum("seconds"))
    )
    for phase, rate, seconds in rows:
        worked[phase].append((seconds, rate))
    found: ByPhase = defaultdict(Amounts)
    for phase in {*spent, *worked}:
        hours, labour = hours_and_cost(worked.get(phase, []), currency)
        found[phase] = Amounts(hours, labour, spent.get(phase, ZERO))
    return found
