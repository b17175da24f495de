"""On what a vehicle stands: typed once, kept, shared by moments, against what each support may carry."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from django.db import IntegrityError, transaction
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import HistoryEntry, Job
from materials.models import Supports
from materials.queries.loads import loaded
from materials.queries.rates import labour_rates
from materials.queries.takeoff import JobTakeoff, PhaseRow, job_takeoff
from tests import make
from tests.checks import queries_of, says


@pytest.fixture
def job(workshop: Any) -> Job:
    """A wall of 4.32 m² of board 12 mm thick: some mass in its one phase."""
    return make.takeoff(phase=make.phase(title="Lining")).phase.job


@pytest.fixture
def address(job: Job) -> str:
    return reverse("materials:supports", args=[job.pk])


def typed(job: Job, **more: str) -> dict[str, str]:
    phase = job.phases.get()
    return {"version": "", "apart_mm10": "3 m", f"phase_{phase.pk}": "1 m"} | more


def mass_of(job: Job) -> Decimal:
    mass = job_takeoff(job, labour_rates()).mass_kg
    assert mass
    return mass


def test_the_page_shows_what_was_typed_and_what_follows(job: Job, address: str, as_maker: Browser) -> None:
    front = {"front_empty_kg": "400", "front_limit_kg": "900"}
    rear = {"rear_empty_kg": "700", "rear_limit_kg": "701"}
    answer = as_maker.post(address, typed(job, **front, **rear))
    assert (answer.status_code, answer.url) == (302, reverse("materials:mass", args=[job.pk]))
    page = as_maker.get(answer.url)
    third = (mass_of(job) / 3).quantize(Decimal("0.1"))  # a metre ahead of three: a third in front
    shown = page.context["loaded"]
    assert (shown.front.built_in_kg, shown.rear.built_in_kg) == (third, mass_of(job) - third)
    assert shown.front.left_kg == 900 - 400 - third
    assert shown.rear.left_kg == 701 - 700 - (mass_of(job) - third) < 0
    assert says(page, 'value="3000"', 'value="1000"', "Left for people", "over")


def test_behind_the_rear_support_it_lifts_the_front(job: Job, address: str, as_owner: Browser) -> None:
    phase = job.phases.get()
    as_owner.post(address, typed(job, **{f"phase_{phase.pk}_behind": "on"}))
    assert Supports.objects.get().ahead_mm10 == {str(phase.pk): -10_000}
    page = as_owner.get(reverse("materials:mass", args=[job.pk]))
    assert page.context["loaded"].front.built_in_kg < 0
    assert page.context["form"][f"phase_{phase.pk}_behind"].value()


def test_a_phase_of_which_nothing_is_said_counts_over_the_rear_support(
    job: Job, address: str, as_owner: Browser
) -> None:
    as_owner.post(address, typed(job, **{f"phase_{job.phases.get().pk}": ""}))
    shown = loaded(job_takeoff(job, labour_rates()), Supports.objects.get())
    assert shown
    assert (shown.front.built_in_kg, shown.rear.built_in_kg) == (0, mass_of(job))


def test_without_mass_or_supports_nothing_is_shared(job: Job) -> None:
    assert loaded(job_takeoff(job, labour_rates()), None) is None
    nothing = JobTakeoff(job, (PhaseRow(job.phases.get(), ()),))
    shown = loaded(nothing, Supports(job=job, apart_mm10=10_000, front_empty_kg=Decimal(5)))
    assert shown
    assert (shown.front.laden_kg, shown.rear.laden_kg) == (5, None)


@pytest.mark.parametrize(
    ("field", "value", "says_why"),
    [
        ("apart_mm10", "0", "At least"),
        ("apart_mm10", "", "required"),
        ("apart_mm10", "200 m", "At most"),
        ("front_empty_kg", "-1", "greater than or equal"),
        ("rear_limit_kg", "a lot", "number"),
    ],
)
def test_what_is_amiss_stands_beside_the_field(
    job: Job, address: str, as_owner: Browser, field: str, value: str, says_why: str
) -> None:
    answer = as_owner.post(address, typed(job, **{field: value}))
    assert answer.status_code == 422
    assert says_why in str(answer.context["form"].errors[field])
    assert not Supports.objects.exists()


def test_the_later_save_is_shown_both(job: Job, address: str, as_owner: Browser) -> None:
    assert as_owner.post(address, typed(job)).status_code == 302
    answer = as_owner.post(address, typed(job, apart_mm10="4 m"))
    assert answer.status_code == 409
    assert says(answer, "Somebody else saved this meanwhile", "3000", "4000")
    assert Supports.objects.get().apart_mm10 == 30_000
    again = typed(job, apart_mm10="4 m", version=str(answer.context["form"]["version"].value()))
    assert as_owner.post(address, again).status_code == 302
    assert (Supports.objects.get().apart_mm10, Supports.objects.get().version) == (40_000, 2)


def test_sent_twice_it_is_saved_once(job: Job, address: str, as_owner: Browser) -> None:
    for _ in range(2):
        assert as_owner.post(address, typed(job)).status_code == 302
    assert Supports.objects.get().version == 1
    assert HistoryEntry.objects.filter(record="supports").count() == 1


def test_a_bookkeeper_reads_and_does_not_say(job: Job, address: str, as_bookkeeper: Browser) -> None:
    assert address not in as_bookkeeper.get(reverse("materials:mass", args=[job.pk])).text
    assert as_bookkeeper.post(address, typed(job)).status_code == 403


def test_the_database_refuses_supports_that_are_not_apart(job: Job) -> None:
    with pytest.raises(IntegrityError), transaction.atomic():
        Supports.objects.create(job=job, apart_mm10=0)


@pytest.mark.parametrize("count", [1, 3])
def test_queries_do_not_grow(job: Job, as_owner: Browser, count: int) -> None:
    for _ in range(count):
        make.takeoff(phase=make.phase(job=job))
    Supports.objects.create(job=job, apart_mm10=30_000)
    assert queries_of(as_owner, reverse("materials:mass", args=[job.pk])) == 9
