"""Is this Kerfbook well? For a monitor on the same box or a reverse proxy."""

from __future__ import annotations

from django.contrib.auth.decorators import login_not_required
from django.db import DatabaseError, connection
from django.http import HttpRequest, JsonResponse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from jobs.backup.archive import last_good_backup


@login_not_required
@never_cache
@require_safe
def health(request: HttpRequest) -> JsonResponse:
    """200 when the database answers, else 503. It tells nothing of what is kept."""
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT 1")
    except DatabaseError:
        return JsonResponse({"database": "does not answer"}, status=503)
    last = last_good_backup()
    days = last.days_old(timezone.now()) if last else None
    missing = len(last.missing_photos) if last else None
    return JsonResponse({"database": "answers", "days_since_backup": days, "photos_missing": missing})
