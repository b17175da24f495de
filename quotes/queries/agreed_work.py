"""Which labour did clients say yes to, line by line? Finished jobs are learnt from by it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal
from typing import Any

from django.db.models import Q, Sum

from jobs.money import ZERO
from jobs.progress import AgreedWork
from quotes.enums import WAYS, LineKind, QuoteState
from quotes.models import QuoteLine

WHOLE = Decimal(100)
_TOLD = ("phase__job__number", "phase", "source", "description", "unit", "grade", "quantity", "hours")
_LEFT_OUT = Sum("omissions__omitted_percent", filter=Q(omissions__quote__state=QuoteState.ACCEPTED))


def agreed_labour(phases: Sequence[int]) -> Iterable[AgreedWork]:
    """What is left of the lines with hours of accepted quotes and change orders, once agreed omissions are
    taken off; extras count when chosen. Another way of making an item has hours, and no operation to teach.
    """
    lines = QuoteLine.objects.filter(
        Q(optional=False) | Q(chosen=True),
        Q(kind=LineKind.LABOUR) | Q(source=WAYS),
        phase__in=phases,
        quote__state=QuoteState.ACCEPTED,
        omits=None,
    )
    told = lines.annotate(left_out=_LEFT_OUT).values_list(*_TOLD, "left_out", named=True)
    return [_left_of(line) for line in told]


def _left_of(line: Any) -> AgreedWork:
    left = max(ZERO, WHOLE - (line.left_out or ZERO)) / WHOLE
    return AgreedWork(
        job=line.phase__job__number,
        phase=line.phase,
        operation="" if line.source == WAYS else line.description,
        unit=line.unit,
        grade=line.grade,
        quantity=line.quantity * left,
        hours=line.hours * left,
    )
