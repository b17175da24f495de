"""Leave words or a picture with a phase."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

from django.db import transaction
from django.utils import timezone

from jobs.models import Note, Person, Phase, Photo
from jobs.refusals import RefusedError
from jobs.services.hours import Stored, hold


@transaction.atomic
def leave_note(
    *,
    person: Person,
    key: UUID,
    phase: Phase,
    text: str,
    photo: Photo | None = None,
    at: datetime | None = None,
) -> Stored[Note]:
    """The note is with the phase, whatever the state of its job. Refused when it says nothing."""
    hold(person)
    if same := Note.objects.filter(person=person, key=key).first():
        return Stored(same, new=False)
    if not text.strip() and photo is None:
        raise RefusedError("Write a few words or take a picture.")
    note = Note.objects.create(
        person=person, key=key, phase=phase, text=text.strip(), photo=photo, written_at=at or timezone.now()
    )
    return Stored(note, new=True)
