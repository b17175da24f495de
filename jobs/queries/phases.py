"""One phase, and a job's phases to arrange or to say how far they are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from jobs.cautions import Warned, warnings
from jobs.job_links import Shown, phase_places_for
from jobs.models import Job, Person, Phase
from jobs.progress import PhaseProgress, measure
from jobs.queries.figures import phase_rows
from jobs.queries.jobs import get_job_for, get_phase_for
from jobs.queries.notes import BenchNotes, notes_of
from jobs.workshop import current_workshop


@dataclass(frozen=True)
class PhasePage:
    """One phase: plan, cautions, figures, and where to go from it."""

    phase: Phase
    measured: PhaseProgress
    warnings: Sequence[Warned]
    places: Sequence[Shown]
    notes: BenchNotes


@dataclass(frozen=True)
class PhasesPage:
    """A job's phases in their order."""

    job: Job
    phases: Sequence[Phase]


def phase_page(person: Person, pk: int) -> PhasePage:
    """One phase with its figures, in a fixed number of queries."""
    phase = get_phase_for(person, pk)
    currency = current_workshop().currency
    row = phase_rows([phase], currency=currency)[phase.pk]
    return PhasePage(
        phase=phase,
        measured=measure(row, currency=currency, finished=phase.job.is_closed),
        warnings=warnings(phase.cautions),
        places=phase_places_for(phase, person),
        notes=notes_of(phase),
    )


def phases_page(person: Person, pk: int) -> PhasesPage:
    """A job with its phases, in two queries."""
    job = get_job_for(person, pk)
    return PhasesPage(job, list(job.phases.order_by("position", "pk")))
