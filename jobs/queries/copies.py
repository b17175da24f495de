"""When was everything last copied, and is that too long ago to sleep well?"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from django.conf import settings

from jobs.backup.archive import LastGood, last_good_backup

OLD_AFTER = timedelta(days=2)
CLOCK_MAY_BE_OUT_BY = timedelta(hours=1)
NEW_FOR = timedelta(days=1)


@dataclass(frozen=True)
class Copies:
    """The last good copy, and what is amiss with it: nothing when `amiss` is empty."""

    last: LastGood | None
    amiss: str

    @property
    def size_mb(self) -> float:
        return self.last.bytes / 1_000_000 if self.last else 0


def copies(now: datetime) -> Copies:
    """The last good copy, judged. A copy from a time still to come says that the clock is wrong, not safe."""
    last = last_good_backup()
    return Copies(last, _amiss(last, now))


def copies_alert(now: datetime) -> str:
    """What the owner is told on every page; nothing on a place's first day, before its first night."""
    found = copies(now)
    return "" if found.last is None and _is_new(now) else found.amiss


def _amiss(last: LastGood | None, now: datetime) -> str:
    if last is None:
        return "No copy of this workshop’s records has been made yet."
    if last.made_at - now > CLOCK_MAY_BE_OUT_BY:
        return "The last copy bears a date still to come: look at this machine’s clock, then make a copy."
    if now - last.made_at > OLD_AFTER:
        return f"The last copy of this workshop’s records is {last.days_old(now)} days old."
    return ""


def _is_new(now: datetime) -> bool:
    """Whether the key made at the first start is younger than a day."""
    try:
        began = (settings.DATA_DIR / "secret_key").stat().st_mtime
    except OSError:
        return False
    return now - datetime.fromtimestamp(began, tz=UTC) < NEW_FOR
