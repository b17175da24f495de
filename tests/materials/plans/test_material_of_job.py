"""What other rooms ask: the cost of material by phase, and what to buy."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from jobs.models import Job, Person
from jobs.workshop import begin_request, end_request
from materials.queries.plans import material_of_job
from materials.services.plans import plan_cutting
from tests import make

pytestmark = pytest.mark.django_db
QUERIES = 12


@pytest.fixture
def job(owner: Person) -> Job:
    """Shelves in two phases, and screws for both."""
    made = make.job()
    board = make.board((24000, "10.00"))
    one, two = make.phase(job=made, position=1), make.phase(job=made, position=2)
    make.taken_off(board, (12000, 1), phase=one)
    make.taken_off(board, (6000, 1), phase=two)
    screws = make.material(kind="fixing")
    make.price("8.00", size=make.size(material=screws, length_mm10=None, pack_quantity=200))
    make.price("13.00", size=make.size(material=screws, length_mm10=None, pack_quantity=500))
    make.amount_taken_off(screws, "300", phase=one)
    make.amount_taken_off(screws, "150", phase=two)
    return made


def test_before_there_is_a_plan_a_gap_is_told(job: Job) -> None:
    found = material_of_job(job)
    assert [gap for gap in found.gaps if "no cutting plan yet" in gap]
    assert found.cost == Decimal(13)
    assert [line.cost for line in found.lines][:2] == [None, None]


@pytest.mark.parametrize(
    ("minutes", "state", "words"),
    [
        (0, "running", "Slat has no cutting plan yet: it is still being searched for"),
        (1, "running", "Slat has no cutting plan yet"),
        (0, "failed", "Slat cannot be cut from what there is"),
    ],
    ids=["searched for", "ended without a word", "failed"],
)
def test_a_plan_that_takes_a_while_is_no_plan_that_failed(
    owner: Person, minutes: int, state: str, words: str
) -> None:
    """Of more than a thousand pieces no plan is made while somebody waits."""
    item = make.taken_off(make.board((24000, "10.00"), name="Slat"), (5000, 1200))
    (plan,) = plan_cutting(job=item.phase.job, person=owner)
    assert plan.state == "running"
    type(plan).objects.update(state=state, heard_at=timezone.now() - timedelta(minutes=minutes))
    assert material_of_job(item.phase.job).gaps == (words,)


def test_planned_and_packed_material_is_shared_among_phases(job: Job, owner: Person) -> None:
    plan_cutting(job=job, person=owner)
    found = material_of_job(job)
    one, two = job.phases.all()
    assert found.gaps == ()
    assert found.cost == Decimal(23)
    assert found.cost_by_phase() == {one.pk: Decimal("15.33"), two.pk: Decimal("7.67")}


def test_quantities_are_in_metres_and_pieces(job: Job, owner: Person) -> None:
    plan_cutting(job=job, person=owner)
    lines = [(line.quantity, line.unit) for line in material_of_job(job).lines]
    assert lines == [(Decimal("1.2"), "m"), (Decimal("0.6"), "m"), (300, "each"), (150, "each")]


def test_a_sheet_is_counted_in_square_metres(owner: Person) -> None:
    job = make.job()
    make.taken_off(make.sheet((24400, 12200, "50.00")), (10000, 5000, 3), phase=make.phase(job=job))
    plan_cutting(job=job, person=owner)
    line = material_of_job(job).lines[0]
    assert (line.quantity, line.unit, line.cost) == (Decimal("1.5"), "m²", Decimal(50))


def test_the_buy_list_adds_up(job: Job, owner: Person) -> None:
    plan_cutting(job=job, person=owner)
    found = material_of_job(job)
    assert sum(line.cost for line in found.to_buy) == found.cost
    for line in found.to_buy:
        assert sum(line.shares.values()) == line.cost == line.count * line.price
    words = sorted((line.count, line.words) for line in found.to_buy)
    assert words == [(1, "2400 mm"), (1, "pack of 500")]


def test_it_is_sorted_by_supplier(job: Job, owner: Person) -> None:
    plan_cutting(job=job, person=owner)
    lists = material_of_job(job).by_supplier()
    assert list(lists) == sorted(lists)
    assert sum(len(lines) for lines in lists.values()) == 2


def test_what_has_no_price_is_a_gap(owner: Person) -> None:
    item = make.amount_taken_off(make.material(name="Gold leaf"), "3")
    found = material_of_job(item.phase.job)
    assert found.gaps == ("Gold leaf has no price",)
    assert found.lines[0].cost is None


def test_a_stale_plan_is_said(job: Job, owner: Person) -> None:
    plan = plan_cutting(job=job, person=owner)[0]
    make.taken_off(plan.material, (7000, 1), phase=job.phases.first())
    assert "out of date: the take-off has changed" in material_of_job(job).gaps[0]


@pytest.mark.parametrize("more", [0, 3])
def test_the_number_of_queries_stays(job: Job, owner: Person, more: int) -> None:
    for _ in range(more):
        make.taken_off(make.board((24000, "10.00")), (6000, 2), phase=make.phase(job=job))
    plan_cutting(job=job, person=owner)
    token = begin_request()  # the workshop is read once a request
    with CaptureQueriesContext(connection) as queries:
        material_of_job(job)
    end_request(token)
    assert len(queries) == QUERIES
