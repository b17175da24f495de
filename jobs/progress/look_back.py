"""Where did a finished job part from what was agreed, and what did it do to the margin?

The variance of labour cost is taken apart the usual way of standard costing: hours more or fewer at the
agreed cost of an hour, and the cost of an hour dearer or cheaper on the hours that were spent.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.money import ZERO, round_money
from jobs.progress.phases import Amounts, Basis, PhaseProgress

HUNDRED = Decimal(100)


@dataclass(frozen=True)
class Parting:
    """One phase: what was agreed, where it ends, and the parts of the variance.

    All are agreed less ended, as every variance of a phase: below nothing took or cost more than agreed.
    """

    title: str
    agreed: Amounts
    ended: Amounts
    by_hours: Decimal
    by_rate: Decimal
    is_finished: bool = True

    @property
    def hours(self) -> Decimal:
        """Hours fewer than agreed."""
        return self.agreed.hours - self.ended.hours

    @property
    def by_other(self) -> Decimal:
        """Material, hire, subcontract and travel cheaper than agreed."""
        return self.agreed.other - self.ended.other

    @property
    def cost(self) -> Decimal:
        """All of the variance."""
        return self.agreed.cost - self.ended.cost

    @property
    def hours_percent(self) -> Decimal | None:
        """Hours fewer, as a share of those agreed; None where none were."""
        return HUNDRED * self.hours / self.agreed.hours if self.agreed.hours else None


@dataclass(frozen=True)
class Step:
    """One step of the margin on its way from agreed to actual: what it adds, and where it then stands."""

    name: str
    amount: Decimal
    level: Decimal


def part(measured: PhaseProgress, *, currency: str) -> Parting:
    """Take a phase's variance apart. Where no hours were agreed, all labour counts as hours.

    It ends where its forecast does: once finished, at what was spent and is on order.
    """
    agreed, ended = measured.row.revised, measured.forecast
    labour = agreed.labour - ended.labour
    if agreed.hours > 0:
        by_hours = round_money((agreed.hours - ended.hours) * agreed.labour / agreed.hours, currency)
    else:
        by_hours = labour
    is_finished = measured.basis is Basis.DONE
    return Parting(measured.row.title, agreed, ended, by_hours, labour - by_hours, is_finished)


def together(parts: Sequence[Parting]) -> Parting:
    """All phases added up, figure by figure."""
    return Parting(
        title="All phases",
        agreed=sum((phase.agreed for phase in parts), Amounts()),
        ended=sum((phase.ended for phase in parts), Amounts()),
        by_hours=sum((phase.by_hours for phase in parts), ZERO),
        by_rate=sum((phase.by_rate for phase in parts), ZERO),
        is_finished=all(phase.is_finished for phase in parts),
    )


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
        ("hours", sum((phase.by_hours for phase in parts), ZERO)),
        ("cost of an hour", sum((phase.by_rate for phase in parts), ZERO)),
        ("material and other", sum((phase.by_other for phase in parts), ZERO)),
    ]
    level = quoted - cost_quoted
    steps = [Step("margin as quoted", level, level)]
    for name, amount in moves:
        level += amount
        steps.append(Step(name, amount, level))
    return (*steps, Step("margin in the end", level, level))
