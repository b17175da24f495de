"""Which labour did clients say yes to, line by line? Finished jobs are learnt from by it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from django.db.models import Q

from jobs.progress import AgreedWork
from quotes.enums import LineKind, QuoteState
from quotes.models import QuoteLine


def agreed_labour(phases: Sequence[int]) -> Iterable[AgreedWork]:
    """Lines of labour of accepted quotes and change orders; extras not chosen and omissions are not."""
    lines = QuoteLine.objects.filter(
        Q(optional=False) | Q(chosen=True),
        phase__in=phases,
        kind=LineKind.LABOUR,
        quote__state=QuoteState.ACCEPTED,
        omits=None,
        omissions=None,
    ).values_list("phase__job__number", "phase", "description", "unit", "grade", "quantity", "hours")
    return [AgreedWork(*line) for line in lines]
