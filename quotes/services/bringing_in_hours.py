"""How does the take-off of a job become labour lines of its quote?"""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django.db import transaction

from jobs.history import record
from jobs.models import LabourRate, Person
from jobs.refusals import RefusedError
from jobs.workshop import current_workshop
from materials.queries.labour import PhaseLabour, labour_of_job
from quotes.enums import LineKind
from quotes.models import Quote, QuoteLine
from quotes.queries.figures import tax_names
from quotes.queries.ways import trade_rate
from quotes.services.bringing_in import BroughtIn
from quotes.services.drafting import locked_offer, put_last

SOURCE = "take-off hours"
FIGURES = ("quantity", "hours_each", "grade", "grade_factor", "hours")


@transaction.atomic
def bring_in_hours(*, quote: Quote, person: Person) -> BroughtIn:
    """The draft's labour lines from take-off say what take-off says now; lines entered by hand stay.

    A new line goes at the trade's rate of today, and says its quantity, hours for one and grade. Done again,
    a line keeps its words, rate and options. Refused where the workshop has no trade rate yet.
    """
    row = locked_offer(quote)
    rate = trade_rate()
    if rate is None:
        raise RefusedError(
            "There is no trade rate yet: set one in the workshop, and the hours can be priced."
        )
    kept = {(line.phase_id, line.source_ref): line for line in row.lines.filter(source=SOURCE)}
    added = renewed = 0
    for labour in labour_of_job(row.job):
        line = kept.pop((labour.phase_id, labour.line.operation.value), None)
        if not labour.line.hours:
            continue
        if line is None:
            _add(row, labour, rate)
            added += 1
        else:
            renewed += _renew(line, labour)
    for gone in kept.values():
        gone.delete()
    row.version += 1
    row.save(update_fields=["version"])
    done = BroughtIn(added, renewed, len(kept), ())
    record(
        person=person, thing=row, action="brought hours into", job=row.job, after={"lines": done.in_words()}
    )
    return done


def _figures(labour: PhaseLabour) -> dict[str, Any]:
    line = labour.line
    quantity = max(Decimal("0.001"), line.amount.quantize(Decimal("0.001")))
    return {
        "quantity": quantity,
        "hours_each": line.hours_per_unit,
        "grade": line.grade.value,
        "grade_factor": line.factor,
        "hours": line.hours,
    }


def _renew(line: QuoteLine, labour: PhaseLabour) -> int:
    wanted = _figures(labour)
    if all(getattr(line, name) == wanted[name] for name in FIGURES):
        return 0
    for name in FIGURES:
        setattr(line, name, wanted[name])
    line.version += 1
    line.save(update_fields=[*FIGURES, "version"])
    return 1


def _add(quote: Quote, labour: PhaseLabour, rate: LabourRate) -> None:
    line = QuoteLine(
        quote=quote,
        phase_id=labour.phase_id,
        kind=LineKind.LABOUR,
        description=labour.line.words,
        unit=labour.line.unit.value,
        unit_cost=rate.cost_rate,
        unit_price=rate.charge_rate if current_workshop().labour_at_charge_rate else None,
        labour_rate=rate,
        tax_name=next(iter(tax_names()), ""),
        source=SOURCE,
        source_ref=labour.line.operation.value,
        **_figures(labour),
    )
    put_last(line)
