"""One phase, and a job's phases to arrange or to say how far they are."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from jobs.cautions import Warned, warnings
from jobs.job_links import Shown, phase_places_for
from jobs.models import Job, Person, Phase
from jobs.progress import PhaseProgress, PhaseRow, measure
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


@dataclass(frozen=True)
class HowFarPage(PhasesPage):
    """A job's phases with their hours agreed and spent, by the phase's key."""

    rows: Mapping[int, PhaseRow]


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


def how_far_page(person: Person, pk: int) -> HowFarPage:
    """A job with its phases and their hours, in six queries."""
    page = phases_page(person, pk)
    return HowFarPage(page.job, page.phases, phase_rows(page.phases, currency=current_workshop().currency))
