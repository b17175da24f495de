"""What is set for the workshop: rules, rates, people, lists of phases."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.db.models import Count
from django.shortcuts import get_object_or_404
from django.utils import timezone

from jobs.models import LabourRate, Person, PersonRate, PhaseList, TaxRate, Workshop
from jobs.queries.copies import Copies, copies
from jobs.workshop import current_workshop


@dataclass(frozen=True)
class PersonLine:
    """Somebody of the workshop and what an hour of theirs costs today."""

    person: Person
    rate: PersonRate | None


@dataclass(frozen=True)
class WorkshopPage:
    """Everything that is set, on one page."""

    workshop: Workshop
    people: Sequence[PersonLine]
    taxes: Sequence[TaxRate]
    trades: Sequence[LabourRate]
    phase_lists: Sequence[PhaseList]
    copies: Copies


@dataclass(frozen=True)
class PersonPage:
    """Somebody, and all their rates."""

    person: Person
    rates: Sequence[PersonRate]


def workshop_page() -> WorkshopPage:
    """The page in five queries."""
    return WorkshopPage(
        workshop=current_workshop(),
        people=people_with_rates(timezone.localdate()),
        taxes=list(TaxRate.objects.order_by("name", "-from_date")),
        trades=list(LabourRate.objects.order_by("name", "-from_date")),
        phase_lists=list(PhaseList.objects.annotate(item_count=Count("items")).order_by("name")),
        copies=copies(timezone.now()),
    )


def people_with_rates(on: date) -> list[PersonLine]:
    """Everybody with the rate of that day, in two queries."""
    rates: dict[int, PersonRate] = {}
    for rate in PersonRate.objects.filter(from_date__lte=on).order_by("from_date"):
        rates[rate.person_id] = rate
    people = Person.objects.order_by("-is_active", "name")
    return [PersonLine(person, rates.get(person.pk)) for person in people]


def get_person(pk: int) -> Person:
    """Somebody of the workshop; 404 for an unknown one."""
    return get_object_or_404(Person, pk=pk)


def person_page(pk: int) -> PersonPage:
    """Somebody with their rates, the latest first, in two queries."""
    person = get_person(pk)
    return PersonPage(person, list(person.rates.order_by("-from_date")))


def get_phase_list(pk: int) -> PhaseList:
    """A list of phases; 404 for an unknown one."""
    return get_object_or_404(PhaseList, pk=pk)
