"""How is a quote drawn up? Only drafts change; each save checks that nobody else saved in between."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.db.models import Max

from jobs.history import record, snapshot
from jobs.models import Job, Person, Phase, Workshop
from jobs.refusals import RefusedError
from jobs.services.jobs import check_not_closed
from jobs.versions import save_edit
from jobs.workshop import current_workshop
from quotes.enums import LineKind, OverheadOn, QuoteState
from quotes.models import Quote, QuoteLine
from quotes.pricing import ProfitBasis, labour_hours
from quotes.services.states import refuse_if_agreed, revisions_locked

TOLD_OF_A_LINE = ("phase", "kind", "description", "quantity", "unit_cost", "hours", "tax_name")
COPIED = (
    "title",
    "introduction",
    "detail",
    "currency",
    "overhead_on",
    "overhead_rate",
    "contingency_percent",
    "profit",
    "discount_percent",
    "discount_amount",
    "payment_stages",
    "exclusions",
    "terms",
    "days_valid",
    "shows_progress",
)


@transaction.atomic
def start_quote(*, job: Job, person: Person) -> Quote:
    """A new draft for a job, with the workshop's own rules of price, stages, terms and exclusions.

    Refused for a closed job.
    """
    workshop = current_workshop()
    check_not_closed(Job.objects.select_for_update().get(pk=job.pk))
    taken = job.quotes.filter(change=None).values("number").distinct().count()
    number = f"Q{job.number}" if not taken else f"Q{job.number}-{taken + 1}"
    quote = Quote.objects.create(
        job=job, number=number, title=job.title, created_by=person, **workshop_rules(workshop)
    )
    record(person=person, thing=quote, action="drew up", job=job)
    return quote


def workshop_rules(workshop: Workshop) -> dict[str, Any]:
    """The rules of price and the standing words that a new quote starts from."""
    markups = {
        LineKind.LABOUR: workshop.labour_markup_percent,
        LineKind.MATERIAL: workshop.material_markup_percent,
    }
    plain = (LineKind.SUBCONTRACT, LineKind.HIRE, LineKind.TRAVEL, LineKind.OTHER)
    markups |= dict.fromkeys(plain, workshop.other_markup_percent)
    on_hours, on_cost = workshop.overhead_an_hour, workshop.overhead_percent
    overhead_on = (
        OverheadOn.LABOUR_HOURS if on_hours else OverheadOn.PRIME_COST if on_cost else OverheadOn.NONE
    )
    return {
        "currency": workshop.currency,
        "overhead_on": overhead_on,
        "overhead_rate": on_hours or on_cost,
        "contingency_percent": workshop.contingency_percent,
        "profit": {
            kind.value: {"basis": ProfitBasis.MARKUP.value, "percent": str(percent)}
            for kind, percent in markups.items()
        },
        "payment_stages": workshop.payment_stages,
        "exclusions": workshop.quote_exclusions,
        "terms": workshop.quote_terms,
        "days_valid": workshop.quote_days_valid,
    }


@transaction.atomic
def revise(*, quote: Quote, person: Person) -> Quote:
    """The next revision as a draft, with all lines of this one; asked for twice it is the same draft."""
    rows = revisions_locked(quote)
    if rows[-1].is_draft:
        return rows[-1]
    refuse_if_agreed(rows)
    fresh = Quote.objects.create(
        job_id=quote.job_id,
        change_id=quote.change_id,
        number=quote.number,
        revision=rows[-1].revision + 1,
        created_by=person,
        **{name: getattr(quote, name) for name in COPIED},
    )
    lines = list(quote.lines.all())
    for line in lines:
        line.pk, line.quote, line.version = None, fresh, 1  # no key yet: a copy
    QuoteLine.objects.bulk_create(lines)
    record(person=person, thing=fresh, action="revised", job=fresh.job)
    return fresh


@transaction.atomic
def set_terms(*, quote: Quote, version: int, person: Person, fields: Mapping[str, Any]) -> Quote:
    """Change a draft's rules of price, stages, words or detail. Refused when somebody saved in between."""
    row = locked_draft(quote)
    return save_edit(row, version=version, details=fields, person=person, job=row.job)


@transaction.atomic
def show_progress(*, quote: Quote, person: Person, shows: bool) -> None:
    """The client may follow the progress of what is agreed, or not any more; no paper says either."""
    row = Quote.objects.select_for_update().select_related("job").get(pk=quote.pk)
    if row.state != QuoteState.ACCEPTED:
        raise RefusedError("There is progress to follow once it is accepted.")
    if row.shows_progress == shows:
        return
    row.shows_progress = shows
    row.save(update_fields=["shows_progress"])
    record(person=person, thing=row, action="progress", job=row.job, after={"client follows it": str(shows)})


@transaction.atomic
def add_line(*, quote: Quote, phase: Phase, person: Person, fields: Mapping[str, Any]) -> QuoteLine:
    """Add a line at the end of its phase."""
    row = locked_draft(quote)
    if phase.job_id != row.job_id:
        raise RefusedError("That phase belongs to another job.")
    line = put_last(QuoteLine(quote=row, phase=phase, **_worked_out(fields)))
    record(person=person, thing=line, action="added", job=row.job, after=snapshot(line, TOLD_OF_A_LINE))
    _touch(row)
    return line


def put_last(line: QuoteLine) -> QuoteLine:
    """A new line stands at the end of its phase in its quote."""
    others = QuoteLine.objects.filter(quote=line.quote_id, phase=line.phase_id)
    line.position = (others.aggregate(last=Max("position"))["last"] or 0) + 1
    line.full_clean()
    line.save()
    return line


@transaction.atomic
def change_line(*, line: QuoteLine, version: int, person: Person, fields: Mapping[str, Any]) -> QuoteLine:
    """Change a line of a draft. Refused when somebody changed the same line in between."""
    quote = locked_draft(line.quote)
    details = dict(fields) if _only_words(line, fields) else _worked_out(fields)
    row = save_edit(line, version=version, details=details, person=person, job=quote.job)
    _touch(quote)
    return row


@transaction.atomic
def remove_line(*, line: QuoteLine, person: Person) -> None:
    """Take a line off a draft; its text goes into the history."""
    quote = locked_draft(line.quote)
    record(
        person=person,
        thing=quote,
        action="took a line off",
        job=quote.job,
        before={"line": line.description, "quantity": str(line.quantity), "unit_cost": str(line.unit_cost)},
    )
    QuoteLine.objects.filter(pk=line.pk, quote=quote).delete()
    _touch(quote)


def locked_draft(quote: Quote) -> Quote:
    """The quote, locked, if it is still a draft."""
    row = Quote.objects.select_for_update().select_related("job").get(pk=quote.pk)
    if not row.is_draft:
        raise RefusedError("It is issued and stands as it is. Make a new revision to change it.")
    return row


def locked_offer(quote: Quote) -> Quote:
    """A quote's draft, locked, which may take in the whole take-off. A change order may not: most of it is
    agreed already, and would be asked for twice.
    """
    row = locked_draft(quote)
    if row.is_change_order:
        raise RefusedError("A change order holds what is different. Add its lines, or leave agreed ones out.")
    return row


def _touch(quote: Quote) -> None:
    quote.version += 1
    quote.save(update_fields=["version"])


def _only_words(line: QuoteLine, fields: Mapping[str, Any]) -> bool:
    """Whether a line that was brought in keeps its quantity and cost: then its hours and plan stay too."""
    figures = ("kind", "quantity", "unit_cost")
    return line.kind != LineKind.LABOUR and all(
        fields.get(name, getattr(line, name)) == getattr(line, name) for name in figures
    )


def _worked_out(fields: Mapping[str, Any]) -> dict[str, Any]:
    """A labour line's hours follow from its quantity, its hours for one and its finish grade."""
    ready = dict(fields)
    if ready.get("kind") != LineKind.LABOUR:
        ready.setdefault("whole_cost", None)  # typed over: a unit cost entered by hand stands for itself
        nothing = {"hours": Decimal(0), "labour_cost": Decimal(0)}
        return ready | nothing | {"hours_each": None, "labour_rate": None, "person": None}
    ready["hours"] = labour_hours(
        quantity=ready["quantity"],
        hours_per_unit=ready["hours_each"],
        finish_factor=ready.get("grade_factor") or Decimal(1),
    )
    return ready
