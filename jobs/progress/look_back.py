"""Where did a finished job part from what was agreed, and what did it do to the margin?

The difference of labour cost is taken apart the usual way of standard costing: hours more or fewer at the
agreed cost of an hour, and the cost of an hour dearer or cheaper on the hours that were spent.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.money import ZERO, round_money
from jobs.progress.phases import Amounts, PhaseRow

HUNDRED = Decimal(100)


@dataclass(frozen=True)
class Parting:
    """One phase: agreed and actual, and the parts of the difference. Above nothing is dearer than agreed."""

    title: str
    agreed: Amounts
    actual: Amounts
    by_hours: Decimal
    by_rate: Decimal

    @property
    def hours(self) -> Decimal:
        """Hours more than agreed."""
        return self.actual.hours - self.agreed.hours

    @property
    def by_other(self) -> Decimal:
        """Material, hire, subcontract and travel dearer than agreed."""
        return self.actual.other - self.agreed.other

    @property
    def cost(self) -> Decimal:
        """All of the difference."""
        return self.actual.cost - self.agreed.cost

    @property
    def hours_percent(self) -> Decimal | None:
        """Hours more, as a share of those agreed; None where none were."""
        return HUNDRED * self.hours / self.agreed.hours if self.agreed.hours else None


@dataclass(frozen=True)
class Step:
    """One step of the margin on its way from agreed to actual: what it adds, and where it then stands."""

    name: str
    amount: Decimal
    level: Decimal


def part(row: PhaseRow, *, currency: str) -> Parting:
    """Take a phase's difference apart. Where no hours were agreed, all labour counts as hours."""
    agreed, actual = row.revised, row.actual
    labour = actual.labour - agreed.labour
    if agreed.hours > 0:
        by_hours = round_money((actual.hours - agreed.hours) * agreed.labour / agreed.hours, currency)
    else:
        by_hours = labour
    return Parting(row.title, agreed, actual, by_hours, labour - by_hours)


def margin_steps(
    *,
    quoted: Decimal,
    changes: Decimal,
    cost_quoted: Decimal,
    cost_changes: Decimal,
    parts: Sequence[Parting],
) -> tuple[Step, ...]:
    """The margin as quoted, what changes, hours, rates and other cost did to it, and where it ended.

    The steps between add up to the difference of the ends exactly.
    """
    moves = [
        ("agreed changes", changes - cost_changes),
        ("hours", -sum((phase.by_hours for phase in parts), ZERO)),
        ("cost of an hour", -sum((phase.by_rate for phase in parts), ZERO)),
        ("material and other", -sum((phase.by_other for phase in parts), ZERO)),
    ]
    level = quoted - cost_quoted
    steps = [Step("margin as quoted", level, level)]
    for name, amount in moves:
        level += amount
        steps.append(Step(name, amount, level))
    return (*steps, Step("margin in the end", level, level))
