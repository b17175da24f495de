"""What do finished jobs say of the labour on the quote desk?"""

from __future__ import annotations

from jobs.models import Person
from jobs.queries.learnt import hour_ratios
from quotes.enums import QuoteState
from quotes.pricing import LabourOutlook, labour_outlook
from quotes.queries.desk import Desk

OPEN = (QuoteState.DRAFT, QuoteState.ISSUED)


def outlook_of(desk: Desk, person: Person) -> LabourOutlook | None:
    """For the owner, while the quote is not decided: the outlook, in three queries; None for others."""
    if desk.priced is None or not person.is_owner or desk.quote.state not in OPEN:
        return None
    return labour_outlook(desk.priced, hour_ratios()) if desk.priced.hours > 0 else None
