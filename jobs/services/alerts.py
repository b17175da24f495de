"""Tell the owner of jobs whose forecast passes their budget, while it can still help."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from django.conf import settings
from django.db import transaction

from jobs.enums import Role
from jobs.models import Outbox, Person
from jobs.money import format_money
from jobs.progress import monday
from jobs.queries.portfolio import JobLine, jobs_past_budget
from jobs.services.outbox import queue_letter
from jobs.workshop import current_workshop


@transaction.atomic
def queue_alert_digest(*, today: date) -> list[Outbox]:
    """A letter to each owner about the jobs that pass their budget by the workshop's share; once a week.

    Asked again in the same week it queues nothing new; with no such job there is no letter.
    """
    lines = jobs_past_budget()
    if not lines:
        return []
    owners = Person.objects.filter(role=Role.OWNER, is_active=True).order_by("pk")
    week = monday(today)
    return [
        queue_letter(
            key=f"over budget {week:%Y-%m-%d} {owner.pk}",
            to=owner.email,
            subject=f"{len(lines)} job{'s' if len(lines) > 1 else ''} forecast past budget",
            text=digest_text(lines),
        )
        for owner in owners
    ]


def digest_text(lines: Sequence[JobLine]) -> str:
    """The letter: a paragraph a job, the furthest past its budget first."""
    workshop = current_workshop()
    furthest = sorted(lines, key=lambda line: -(line.alert or 0))
    paragraphs = [_paragraph(line, workshop.currency, workshop.locale) for line in furthest]
    head = f"By their forecast these jobs pass their budget by more than {workshop.alert_percent} %:"
    return "\n\n".join([head, *paragraphs])


def _paragraph(line: JobLine, currency: str, locale: str) -> str:
    forecast = format_money(line.total.forecast.cost, currency, locale)
    budget = format_money(line.total.row.revised.cost, currency, locale)
    return (
        f"{line.job}: forecast {forecast} against {budget} agreed, {line.alert:.0f} % past it.\n"
        f"{settings.SITE_URL}{line.job.get_absolute_url()}"
    )
