"""Which pictures may this person see?"""

from __future__ import annotations

from django.db.models import Q
from django.shortcuts import get_object_or_404

from jobs.models import Person, Photo


def photo_for(person: Person, sha256: str) -> Photo:
    """The picture, or 404. Receipts show prices: a maker sees those they took, and pictures of notes."""
    seen = Photo.objects.all()
    if not person.sees_prices:
        theirs = Q(added_by=person) | Q(cost_entries__person=person) | Q(bench_notes__isnull=False)
        seen = seen.filter(theirs).distinct()
    return get_object_or_404(seen, sha256=sha256)
