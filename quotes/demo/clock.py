"""Past days for the demo: what a service does "now" happens then."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, datetime, time
from unittest.mock import patch

from django.utils import timezone


@contextmanager
def on(day: date, hour: int = 9, minute: int = 0) -> Iterator[datetime]:
    """Inside, it is that hour of that day by the workshop's clock."""
    moment = timezone.make_aware(datetime.combine(day, time(hour, minute)))
    with patch.object(timezone, "now", lambda: moment):
        yield moment
