"""Which phases are planned for which days?"""

from __future__ import annotations

import hmac
from collections.abc import Iterable
from datetime import date, timedelta

from django.utils import timezone

from jobs.calendar import Event, calendar_text, events_from
from jobs.enums import JobState
from jobs.models import Phase
from jobs.progress import planned_days
from jobs.workshop import current_workshop

PLANNED = (JobState.WON, JobState.BENCH)
LOOK_BACK = timedelta(days=60)
LONGEST = timedelta(days=600)


def calendar_feed(key: str) -> str | None:
    """The feed, for whoever has its secret; None for anybody else, and while there is no secret."""
    workshop = current_workshop()
    if not workshop.calendar_key or not hmac.compare_digest(key.encode(), workshop.calendar_key.encode()):
        return None
    events = events_from(timezone.localdate() - LOOK_BACK)
    return calendar_text(events, name=workshop.name, made_at=timezone.now())


def phase_events(day: date) -> Iterable[Event]:
    """Phases of jobs won or on the bench, on their planned working days."""
    phases = Phase.objects.filter(
        job__state__in=PLANNED, job__archived_at=None, planned_start__gte=day - LONGEST
    ).select_related("job")
    events = [_event(phase) for phase in phases if phase.planned_start]
    return [event for event in events if event.last >= day]


def _event(phase: Phase) -> Event:
    assert phase.planned_start is not None
    days = planned_days(phase.planned_start, phase.planned_days) or [phase.planned_start]
    title = f"{phase.title} ({phase.job.number} {phase.job.title})"
    return Event(f"phase-{phase.pk}@kerfbook", days[0], days[-1], title, phase.notes)
