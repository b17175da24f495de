"""When was everything last copied, and is that too long ago to sleep well?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

from django.conf import settings
from django.utils import timezone

from jobs.backup.archive import LastGood, last_good_backup
from jobs.models import Photo
from jobs.photos import photo_path

OLD_AFTER = timedelta(days=2)
CLOCK_MAY_BE_OUT_BY = timedelta(hours=1)
NEW_FOR = timedelta(days=1)


@dataclass(frozen=True)
class MissingPicture:
    """A photo that could not be copied: when and by whom it was added, and the file it should be in."""

    added_on: date
    by: str
    file: str

    def __str__(self) -> str:
        return f"{self.file}, added on {self.added_on:%-d %B %Y} by {self.by}"


@dataclass(frozen=True)
class Copies:
    """The last good copy, what is amiss with it (nothing when `amiss` is empty) and the pictures it lacks."""

    last: LastGood | None
    amiss: str
    missing: Sequence[MissingPicture] = ()

    @property
    def size_mb(self) -> float:
        return self.last.bytes / 1_000_000 if self.last else 0


def copies(now: datetime) -> Copies:
    """The last good copy, judged. A copy from a time still to come says that the clock is wrong, not safe."""
    last = last_good_backup()
    return Copies(last, _amiss(last, now), missing_pictures(last))


def missing_pictures(last: LastGood | None) -> list[MissingPicture]:
    """The photos that a copy lacks, the oldest first; one query where any is missing, else none."""
    if last is None or not last.missing_photos:
        return []
    photos = Photo.objects.filter(sha256__in=last.missing_photos).select_related("added_by").order_by("pk")
    return [
        MissingPicture(
            timezone.localdate(photo.added_at),
            photo.added_by.name if photo.added_by else "somebody",
            f"photos/{photo_path(photo.sha256).relative_to(settings.PHOTO_DIR)}",
        )
        for photo in photos
    ]


def copies_alert(now: datetime) -> str:
    """What the owner is told on every page; nothing on a place's first day, before its first night."""
    last = last_good_backup()
    return "" if last is None and _is_new(now) else _amiss(last, now)


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
