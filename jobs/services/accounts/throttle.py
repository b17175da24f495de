"""How long must somebody wait before the next try to log in?

Counted in the database, so that every process counts alike. A browser that was logged in before keeps a mark;
tries from it are counted apart, so that strangers who guess at the owner's password cannot keep them out.
Tries that bear a time still to come, since the clock was put back, neither count nor excuse the present ones.
"""

from __future__ import annotations

from datetime import datetime, timedelta

from django.db.models import Count, Max, QuerySet

from jobs.models import LogInAttempt

WINDOW = timedelta(minutes=15)
WAIT = timedelta(minutes=5)
FAILURES_OF_ACCOUNT = 10
FAILURES_OF_ADDRESS = 30
FAILURES_OF_KNOWN_DEVICE = 20
KEPT = timedelta(days=90)


def wait_before_next_try(
    *, email: str, address: str | None, known_device: bool, now: datetime
) -> timedelta | None:
    """Nothing when a try may be made now; else how long to wait. A good log-in starts the count anew."""
    recent = LogInAttempt.objects.filter(at__gt=now - WINDOW, at__lte=now, succeeded=False)
    of_account = recent.filter(email=email.lower(), known_device=known_device)
    last_good = _last_good(email, known_device, now)
    if last_good:
        of_account = of_account.filter(at__gt=last_good)
    most = FAILURES_OF_KNOWN_DEVICE if known_device else FAILURES_OF_ACCOUNT
    waits = [_wait(of_account, most, now)]
    if address:
        waits.append(_wait(recent.filter(address=address), FAILURES_OF_ADDRESS, now))
    return max((wait for wait in waits if wait), default=None)


def _wait(failures: QuerySet[LogInAttempt], most: int, now: datetime) -> timedelta | None:
    found = failures.aggregate(count=Count("pk"), last=Max("at"))
    if found["count"] < most:
        return None
    wait: timedelta = found["last"] + WAIT - now
    return wait if wait > timedelta(0) else None


def _last_good(email: str, known_device: bool, now: datetime) -> datetime | None:
    good = LogInAttempt.objects.filter(
        email=email.lower(), known_device=known_device, succeeded=True, at__gt=now - WINDOW, at__lte=now
    )
    at: datetime | None = good.aggregate(at=Max("at"))["at"]
    return at


def note_attempt(
    *, email: str, address: str | None, known_device: bool, succeeded: bool, now: datetime
) -> None:
    """Keep the try for counting and for the log; those older than the log keeps are dropped."""
    LogInAttempt.objects.create(
        at=now, email=email.lower()[:254], address=address, known_device=known_device, succeeded=succeeded
    )
    LogInAttempt.objects.filter(at__lt=now - KEPT).delete()
