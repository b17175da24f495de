"""What was taken off for this job, this phase; what does it weigh and how long does it take?"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from django.shortcuts import get_object_or_404
from django.urls import reverse

from jobs.enums import JobState, Role
from jobs.job_links import Look, Shown
from jobs.models import Job, Person, Phase
from materials.models import TakeoffItem
from materials.takeoff import registry
from materials.takeoff.errors import MeasureAgain
from materials.takeoff.labour import Grade, HoursLine, Rates, hours_for
from materials.takeoff.mass import added
from materials.takeoff.result import Result


@dataclass(frozen=True)
class ItemRow:
    """One item as a list shows it; `result` is None where it was computed by rules no longer known."""

    item: TakeoffItem
    kind_name: str
    result: Result | None
    hours: tuple[HoursLine, ...]

    @property
    def mass_kg(self) -> Decimal | None:
        """What the item weighs, if known."""
        return self.result.mass_kg if self.result else None

    @property
    def hours_total(self) -> Decimal:
        """All its hours."""
        return sum((line.hours for line in self.hours), Decimal(0))


@dataclass(frozen=True)
class PhaseRow:
    """A phase with its items."""

    phase: Phase
    rows: tuple[ItemRow, ...]

    @property
    def mass_kg(self) -> Decimal | None:
        """What its items weigh, as far as is known."""
        return added(row.mass_kg for row in self.rows)

    @property
    def hours_total(self) -> Decimal:
        """All its hours."""
        return sum((row.hours_total for row in self.rows), Decimal(0))

    @property
    def without_mass(self) -> int:
        """How many items have no mass."""
        return sum(row.mass_kg is None for row in self.rows)


@dataclass(frozen=True)
class JobTakeoff:
    """A job's take-off by phase, and its mass against the limit."""

    job: Job
    phases: tuple[PhaseRow, ...]

    @property
    def mass_kg(self) -> Decimal | None:
        """What all of it weighs, as far as is known."""
        return added(phase.mass_kg for phase in self.phases)

    @property
    def hours_total(self) -> Decimal:
        """All the hours."""
        return sum((phase.hours_total for phase in self.phases), Decimal(0))

    @property
    def laden_kg(self) -> Decimal | None:
        """Empty mass and what is built in, where the empty mass is known."""
        return (
            None if self.job.empty_mass_kg is None else self.job.empty_mass_kg + (self.mass_kg or Decimal(0))
        )

    @property
    def left_kg(self) -> Decimal | None:
        """What the gross limit still allows; below nothing it is over."""
        limit = self.job.gross_mass_limit_kg
        return None if limit is None or self.laden_kg is None else limit - self.laden_kg

    @property
    def without_mass(self) -> int:
        """How many items have no mass."""
        return sum(phase.without_mass for phase in self.phases)


def get_takeoff_job_for(person: Person, pk: int) -> Job:
    """The job, for anybody of the workshop."""
    return get_object_or_404(Job.objects.select_related("client"), pk=pk)


def get_takeoff_phase_for(person: Person, pk: int) -> Phase:
    """The phase with its job, for anybody of the workshop."""
    return get_object_or_404(Phase.objects.select_related("job__client"), pk=pk)


def get_takeoff_item_for(person: Person, pk: int) -> TakeoffItem:
    """The item with its phase and job, for anybody of the workshop."""
    return get_object_or_404(TakeoffItem.objects.select_related("phase__job__client"), pk=pk)


def item_row(item: TakeoffItem, grade: str, rates: Rates) -> ItemRow:
    """The item with its stored result and its hours."""
    result = stored_result(item)
    work = result.work if result else ()
    return ItemRow(item, kind_name(item.kind), result, hours_for(work, Grade(grade), rates))


def stored_result(item: TakeoffItem) -> Result | None:
    """The result as it was computed; None where today's rules can't read it."""
    try:
        return registry.result_from_json(item.result)
    except MeasureAgain:
        return None


def kind_name(key: str) -> str:
    """The kind's name, or its key where it is no longer known."""
    return registry.KINDS[key].name if key in registry.KINDS else key


def phase_takeoff(phase: Phase, rates: Rates) -> PhaseRow:
    """A phase with its items, in one query."""
    return _phase_row(phase, TakeoffItem.objects.filter(phase=phase), rates)


def job_takeoff(job: Job, rates: Rates) -> JobTakeoff:
    """A job's phases with their items, in two queries."""
    phases = list(job.phases.all())
    by_phase: dict[int, list[TakeoffItem]] = defaultdict(list)
    for item in TakeoffItem.objects.filter(phase__in=phases):
        by_phase[item.phase_id].append(item)
    return JobTakeoff(job, tuple(_phase_row(phase, by_phase[phase.pk], rates) for phase in phases))


def _phase_row(phase: Phase, items: Iterable[TakeoffItem], rates: Rates) -> PhaseRow:
    return PhaseRow(phase, tuple(item_row(item, phase.grade, rates) for item in items))


def look_at_takeoff(job: Job, person: Person) -> Look:
    """For the job's page: how many items, or that an enquiry waits for its first."""
    count = TakeoffItem.objects.filter(phase__job=job).count()
    if count:
        return Look(f"{count} item{'' if count == 1 else 's'}")
    waits = job.state == JobState.ENQUIRY and person.role != Role.BOOKKEEPER
    step = Shown("Take off the first phase", reverse("materials:takeoff", args=[job.pk]))
    return Look(next_step=step if waits else None)
