"""What was noted at the bench?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from jobs.models import Job, Note, Phase

SHOWN = 12


@dataclass(frozen=True)
class BenchNotes:
    """The latest notes; `has_more` when older ones are not among them."""

    rows: Sequence[Note]
    has_more: bool


def notes_of(thing: Job | Phase) -> BenchNotes:
    """The latest notes of a job or of one of its phases, newest first; one query."""
    notes = Note.objects.filter(phase__job=thing) if isinstance(thing, Job) else thing.bench_notes.all()
    found = list(notes.select_related("person", "phase", "photo").order_by("-written_at", "-pk")[: SHOWN + 1])
    return BenchNotes(found[:SHOWN], len(found) > SHOWN)
