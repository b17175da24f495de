"""Plans of a job: what is asked, what is found, what it costs and who bears it."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from uuid import uuid4

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from jobs.models import Person
from materials.cutting.uses import uses_of
from materials.models import CuttingPlan, Price, TakeoffItem
from materials.queries.plan_pages import nearness, plans_page
from materials.queries.plan_read import plan_in
from materials.queries.plan_tasks import SawSettings, tasks_of
from materials.services.plan_search import search_run
from materials.services.plans import plan_cutting
from tests import make

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _set_up(owner: Person) -> None:
    """There is a workshop and somebody to plan."""


def test_shelves_come_three_to_a_bar(owner: Person) -> None:
    plan = make.plan(by=owner)
    assert (plan.cost, plan.lower_bound, plan.proven) == (Decimal(40), Decimal(40), True)
    assert plan.state == "done"
    assert nearness(plan) == "no plan costs less"


def test_without_a_kerf_four_come_from_a_bar(owner: Person) -> None:
    plan = make.plan(by=owner)
    again = plan_cutting(job=plan.job, person=owner, settings={plan.material_id: SawSettings(kerf_mm10=0)})
    assert [p.pk for p in again] == [plan.pk]
    assert again[0].cost == Decimal(30)
    assert again[0].kerf_mm10 == 0


def test_the_settings_of_the_last_plan_are_remembered(owner: Person) -> None:
    plan = make.plan(by=owner)
    plan_cutting(job=plan.job, person=owner, settings={plan.material_id: SawSettings(kerf_mm10=25)})
    assert make.plan(by=owner).kerf_mm10 == 25


def test_phases_share_one_bar_and_its_cost(owner: Person) -> None:
    job = make.job()
    board = make.board((24000, "10.00"))
    one, two = make.phase(job=job), make.phase(job=job)
    make.taken_off(board, (12000, 1), phase=one)
    make.taken_off(board, (6000, 1), phase=two)
    plan = plan_cutting(job=job, person=owner)[0]
    assert plan.cost == Decimal(10)
    assert {share.phase_id: share.cost for share in plan.shares.all()} == {
        one.pk: Decimal("6.66"),
        two.pk: Decimal("3.34"),
    }


def test_of_two_suppliers_the_cheaper_of_today_is_taken(owner: Person) -> None:
    job = make.job()
    board = make.board((24000, "10.00"))
    size = board.sizes.get()
    cheap = make.supplier(name="Cheaper")
    make.price("9.00", size=size, supplier=cheap, from_date=date(2026, 1, 1))
    make.price("8.00", size=size, supplier=cheap, from_date=date(2999, 1, 1))
    make.taken_off(board, (6000, 1), phase=make.phase(job=job))
    plan = plan_cutting(job=job, person=owner)[0]
    assert plan.cost == Decimal(9)
    assert plan.stock[0]["supplier_name"] == "Cheaper"


def test_boards_sold_by_the_pack_are_paid_for_by_the_pack(owner: Person) -> None:
    job = make.job()
    board = make.material()
    make.price("45.00", size=make.size(material=board, pack_quantity=5))
    make.taken_off(board, (12000, 6), phase=make.phase(job=job))
    plan = plan_cutting(job=job, person=owner)[0]
    assert plan.cost == Decimal(90), "six bars are two packs of five"
    assert not plan.proven


@pytest.mark.parametrize(
    ("singly", "number", "cost", "words"),
    [
        ((24000, "11.00"), 1, "11.00", [(1, "2400 mm")]),
        ((24000, "11.00"), 7, "71.00", [(1, "2400 mm"), (6, "2400 mm, from packs of 6")]),
        ((30000, "14.00"), 1, "14.00", [(1, "3000 mm")]),
        ((30000, "14.00"), 5, "60.00", [(5, "2400 mm, from packs of 6")]),
    ],
)
def test_a_pack_is_bought_only_where_it_is_cheaper(owner: Person, singly, number, cost, words) -> None:
    """In packs of six of 2400 at 60.00, and singly as given; the search keeps to it, and so does the saw."""
    job = make.job(state="bench")
    board = make.board(singly)
    make.price("60.00", size=make.size(material=board, pack_quantity=6))
    make.taken_off(board, (23000, number), phase=make.phase(job=job))
    (plan,) = plan_cutting(job=job, person=owner)
    assert plan.cost == Decimal(cost)
    lines = plans_page(job, owner).lines[0].to_buy
    assert sorted((buy.count, buy.words) for buy in lines) == words
    CuttingPlan.objects.update(state="running", run=(run := uuid4()))
    search_run(run)
    assert CuttingPlan.objects.get().cost == Decimal(cost)
    make.sawn(CuttingPlan.objects.get())
    assert CuttingPlan.objects.get().cost == Decimal(cost)


def test_a_part_longer_than_any_bar_says_what_would_do(owner: Person) -> None:
    job = make.job()
    make.taken_off(make.board((24000, "10.00")), (30000, 1), phase=make.phase(job=job))
    plan = plan_cutting(job=job, person=owner)[0]
    assert plan.state == "failed"
    assert plan.result is None
    assert plan.cost is None
    assert "3000 mm is longer than any stock" in plan.faults[0]
    assert "a bar of 3000 mm would do" in plan.faults[0]


def test_without_a_price_there_is_no_plan_but_words(owner: Person) -> None:
    job = make.job()
    board = make.material(name="Oak")
    make.size(material=board, length_mm10=30000)
    make.taken_off(board, (26000, 1), phase=make.phase(job=job))
    plan = plan_cutting(job=job, person=owner)[0]
    assert plan.faults == [
        "Oak: no size has a price yet (3000 mm); what would fit: a length from 2600 mm up."
    ]


def test_a_sheet_without_any_size_says_what_would_fit(owner: Person) -> None:
    job = make.job()
    make.taken_off(make.material(name="Ply", kind="sheet"), (8000, 5000, 1), phase=make.phase(job=job))
    plan = plan_cutting(job=job, person=owner)[0]
    assert plan.faults[0].startswith("Ply: no stock size and no offcut to cut from; what would fit: a sheet")


def test_grain_decides_whether_a_part_may_turn(owner: Person) -> None:
    job = make.job()
    ply = make.sheet((24000, 6000, "50.00"))
    make.taken_off(ply, (6000, 20000, 1), phase=make.phase(job=job), grain="along_length")
    assert plan_cutting(job=job, person=owner)[0].state == "failed"
    TakeoffItem.objects.all().delete()
    make.taken_off(ply, (6000, 20000, 1), phase=make.phase(job=job), grain="any")
    settings = {ply.pk: SawSettings()}
    plan = plan_cutting(job=job, person=owner, settings=settings)[0]
    assert plan.cost == Decimal(50)


def test_grain_along_the_width_lies_along_the_sheet(owner: Person) -> None:
    job = make.job()
    ply = make.sheet((24000, 6000, "50.00"))
    make.taken_off(ply, (6000, 20000, 1), phase=make.phase(job=job), grain="along_width")
    plan = plan_cutting(job=job, person=owner, settings={ply.pk: SawSettings()})[0]
    assert plan.problem["parts"][0]["width_mm10"] == 20000
    assert plan.cost == Decimal(50)


def test_a_plan_is_stale_once_prices_or_pieces_change(owner: Person) -> None:
    plan = make.plan(by=owner)
    assert plans_page(plan.job, owner).lines[0].stale == ()
    Price.objects.update(price=Decimal(11))
    assert plans_page(plan.job, owner).lines[0].stale == ("sizes or prices have changed",)
    make.taken_off(plan.material, (7000, 1), phase=plan.job.phases.get())
    assert "the take-off has changed" in plans_page(plan.job, owner).lines[0].stale
    plan_cutting(job=plan.job, person=owner)
    assert plans_page(plan.job, owner).lines[0].stale == ()


def test_a_material_no_longer_asked_for_has_no_plan(owner: Person) -> None:
    plan = make.plan(by=owner)
    TakeoffItem.objects.all().delete()
    assert plans_page(plan.job, owner).lines[0].stale == ("the take-off has changed",)
    assert plan_cutting(job=plan.job, person=owner) == []
    assert not CuttingPlan.objects.exists()


def test_an_unknown_material_is_named(owner: Person) -> None:
    item = make.taken_off(make.material(), (6000, 1))
    item.result["pieces"][0]["material_key"] = "999999"
    item.save()
    assert tasks_of(item.phase.job).demand.unknown == ("Shelf: 999999",)


prices = st.decimals("0", "99.9999", places=4)


@settings(max_examples=12, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.lists(st.tuples(st.integers(100, 24000), st.integers(1, 4)), min_size=1, max_size=6),
    st.lists(prices, min_size=1, max_size=3),
)
def test_shares_add_up_to_the_cost_and_lines_to_both(
    owner: Person, pieces: list[tuple[int, int]], amounts: list[Decimal]
) -> None:
    job = make.job()
    board = make.board(*[(24000 + 6000 * at, str(amount)) for at, amount in enumerate(amounts)])
    for piece in pieces:
        make.taken_off(board, piece, phase=make.phase(job=job))
    plan = plan_cutting(job=job, person=owner)[0]
    found = plan_in(plan)
    assert found is not None
    shares = [share.cost for share in plan.shares.all()]
    assert sum(shares) == plan.cost
    assert all(share >= 0 and share == round(share, 2) for share in shares)
    assert plan.lower_bound <= plan.cost
    made = sum(len(use.parts) * use.repeat for use in uses_of(found))
    assert made == sum(number for _, number in pieces)
