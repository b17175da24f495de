"""The records of this room whose history is told."""

from __future__ import annotations

from django.urls import reverse

from jobs.models import (
    Client,
    CostEntry,
    Job,
    LabourRate,
    Person,
    PersonRate,
    Phase,
    PhaseList,
    TaxRate,
    TimeEntry,
    Workshop,
)
from jobs.queries.sheets import Week
from jobs.services.hours import monday_of
from jobs.templatetags.figures import day
from jobs.told import OWNER, Parts, Told, register


def register_all() -> None:
    """Called when the room is ready."""
    register(
        Told(Workshop, "Workshop", OWNER, parts=_rates, back=lambda _: reverse("jobs:workshop")),
        Told(TaxRate, "Tax rate", OWNER, back=lambda rate: reverse("jobs:tax-rate", args=[rate.pk])),
        Told(LabourRate, "Trade rate", OWNER, back=lambda rate: reverse("jobs:labour-rate", args=[rate.pk])),
        Told(Person, "Person", OWNER, parts=_rates_of_person, back=_page_of_person),
        Told(PersonRate, "Rate", OWNER, back=lambda rate: _page_of_person(rate.person), leans_on=("person",)),
        Told(PhaseList, "Phase list", OWNER, back=lambda kept: reverse("jobs:phase-list", args=[kept.pk])),
        Told(Client, "Client"),
        Told(Job, "Job", whole_job=True),
        Told(Phase, "Phase", parts=_booked_on),
        Told(
            TimeEntry,
            "Hours",
            parts=_corrections,
            own=lambda entry: entry.person_id,
            back=_sheet_of,
            leans_on=("person",),
            name=_entry,
        ),
        Told(CostEntry, "Cost", own=lambda cost: cost.person_id, parts=_reversal, back=_costs_of_job),
    )


def _rates(_: Workshop) -> Parts:
    every = (TaxRate, LabourRate)
    return {str(kind._meta.model_name): kind.objects.values_list("pk", flat=True) for kind in every}


def _rates_of_person(person: Person) -> Parts:
    return {"personrate": person.rates.values_list("pk", flat=True)}


def _booked_on(phase: Phase) -> Parts:
    """The hours and costs of a phase; of those a maker is told their own."""
    hours = TimeEntry.objects.filter(phase=phase).values_list("pk", flat=True)
    return {"timeentry": hours, "costentry": phase.cost_entries.values_list("pk", flat=True)}


def _corrections(entry: TimeEntry) -> Parts:
    """An entry with the one it replaces and the one that replaced it."""
    beside = TimeEntry.objects.filter(corrects=entry).values_list("pk", flat=True)
    return {"timeentry": [*beside, *([entry.corrects_id] if entry.corrects_id else [])]}


def _reversal(cost: CostEntry) -> Parts:
    beside = CostEntry.objects.filter(reverses=cost).values_list("pk", flat=True)
    return {"costentry": [*beside, *([cost.reverses_id] if cost.reverses_id else [])]}


def _page_of_person(person: Person) -> str:
    return reverse("jobs:person", args=[person.pk])


def _sheet_of(entry: TimeEntry) -> str:
    return reverse("jobs:sheet", args=[entry.person_id, Week(monday_of(entry.on_date)).word])


def _costs_of_job(cost: CostEntry) -> str:
    return reverse("jobs:costs", args=[cost.phase.job_id])


def _entry(entry: TimeEntry) -> str:
    return f"{entry.person} on {day(entry.on_date)}"
