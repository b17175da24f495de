"""What is cut stays; plans after it cover the rest."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from jobs.models import Job, Person
from jobs.refusals import RefusedError
from materials.models import CuttingPlan, SawnStock, StockItem, TakeoffItem
from materials.queries.plan_pages import plans_page
from materials.queries.plans import material_of_job
from materials.services.plans import plan_cutting
from materials.services.sawing import confirm_cut, undo_cut
from tests import make

pytestmark = pytest.mark.django_db


@pytest.fixture
def plan(owner: Person) -> CuttingPlan:
    """Ten shelves, three to a bar: three bars alike and one with a single shelf."""
    return make.plan(by=owner)


def test_what_came_off_is_kept_with_its_price(plan: CuttingPlan, owner: Person) -> None:
    sawn = make.sawn(plan)
    assert (sawn.words, sawn.price, sawn.length_mm10) == ("2400 mm", Decimal(10), 24000)
    assert [(part["mark"], part["quantity"], part["length_mm10"]) for part in sawn.parts] == [("A", 3, 6000)]
    assert sawn.left == [{"length_mm10": 24000 - 3 * 6032, "width_mm10": 0}]


def test_the_rest_of_the_plan_stands_and_is_not_stale(plan: CuttingPlan, owner: Person) -> None:
    make.sawn(plan, count=2)
    row = CuttingPlan.objects.get()
    assert row.problem["parts"][0]["quantity"] == 4
    assert (row.cost, row.lower_bound, row.proven) == (Decimal(40), Decimal(40), True)
    assert sum(share.cost for share in row.shares.all()) == Decimal(40)
    line = plans_page(row.job, owner).lines[0]
    assert line.stale == ()
    assert sum(buy.count for buy in line.to_buy) == 2


def test_re_planning_covers_the_rest_alone(plan: CuttingPlan, owner: Person) -> None:
    make.sawn(plan, count=2)
    make.taken_off(plan.material, (20000, 1), phase=plan.job.phases.get())
    again = plan_cutting(job=plan.job, person=owner)[0]
    assert SawnStock.objects.count() == 2
    assert sum(part["quantity"] for part in again.problem["parts"]) == 5
    assert again.cost == Decimal(50)


def test_cut_cost_stays_when_prices_rise(plan: CuttingPlan, owner: Person) -> None:
    make.sawn(plan, count=3)
    make.price("20.00", size=plan.material.sizes.get())
    plan.material.sizes.get().prices.filter(price=10).delete()
    assert plan_cutting(job=plan.job, person=owner)[0].cost == Decimal(50)


def of_packs(owner: Person, pack: int, price: str, number: int) -> CuttingPlan:
    """So many shelves, one from a board, of boards sold in packs."""
    job = make.job(state="bench")
    board = make.material()
    make.price(price, size=make.size(material=board, pack_quantity=Decimal(pack)))
    make.taken_off(board, (23000, number), phase=make.phase(job=job))
    return plan_cutting(job=job, person=owner)[0]


def test_a_pack_is_paid_for_once_however_many_of_it_are_sawn(owner: Person) -> None:
    plan = of_packs(owner, 6, "60.00", 7)
    costs = [plan.cost]
    for _ in range(7):
        make.sawn(CuttingPlan.objects.get())
        costs.append(CuttingPlan.objects.get().cost)
    assert costs == [Decimal(120)] * 8


def test_what_is_left_of_a_pack_that_is_begun_is_not_bought(owner: Person) -> None:
    plan = of_packs(owner, 6, "60.00", 8)
    make.sawn(plan, count=3)
    line = plans_page(plan.job, owner).lines[0]
    words = [(buy.count, buy.words, buy.cost) for buy in line.to_buy]
    assert words == [(5, "2400 mm, from packs of 6, 3 of them left of one begun", Decimal(60))]
    make.sawn(CuttingPlan.objects.get(), count=3)
    assert plans_page(plan.job, owner).lines[0].to_buy[0].words == "2400 mm, from packs of 6"
    make.sawn(CuttingPlan.objects.get())
    (last,) = plans_page(plan.job, owner).lines[0].to_buy
    assert (last.words, last.cost) == ("2400 mm, left of a pack of 6", 0)
    assert material_of_job(plan.job).to_buy == ()


@settings(max_examples=15, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.integers(1, 8),
    st.decimals("0.01", "99.99", places=2),
    st.lists(st.integers(1, 4), min_size=1, max_size=4),
)
def test_sawing_changes_no_cost(owner: Person, pack: int, price: Decimal, times: list[int]) -> None:
    CuttingPlan.objects.all().delete()
    plan = of_packs(owner, pack, str(price), sum(times))
    for count in times:
        make.sawn(CuttingPlan.objects.get(), count=count)
        row = CuttingPlan.objects.get()
        assert row.cost == plan.cost == price * -(-sum(times) // pack)
        assert row.lower_bound <= row.cost == sum(share.cost for share in row.shares.all())


def test_everything_cut_leaves_nothing_to_buy(plan: CuttingPlan, owner: Person) -> None:
    make.sawn(plan, count=3)
    make.sawn(CuttingPlan.objects.get())
    found = material_of_job(plan.job)
    assert found.to_buy == ()
    assert found.cost == Decimal(40)
    assert found.gaps == ()


def test_cut_pieces_that_nobody_wants_any_more_still_cost(plan: CuttingPlan, owner: Person) -> None:
    make.sawn(plan, count=3)
    TakeoffItem.objects.all().delete()
    again = plan_cutting(job=plan.job, person=owner)[0]
    assert again.cost == Decimal(30)
    assert material_of_job(plan.job).cost == Decimal(30)


def test_undoing_wants_the_pieces_again(plan: CuttingPlan, owner: Person) -> None:
    undo_cut(sawn=make.sawn(plan), person=owner)
    assert plans_page(plan.job, owner).lines[0].stale == ("the take-off has changed",)
    assert plan_cutting(job=plan.job, person=owner)[0].cost == Decimal(40)


@pytest.mark.parametrize(
    ("index", "count", "seen"), [(0, 4, 1), (0, 0, 1), (9, 1, 1), (0, 1, 0)],
    ids=["too many", "none", "no such bar", "looked at another plan"],
)  # fmt: skip
def test_what_the_plan_has_not_cannot_be_cut(
    plan: CuttingPlan, owner: Person, index: int, count: int, seen: int
) -> None:
    with pytest.raises(RefusedError):
        confirm_cut(plan=plan, index=index, count=count, seen=seen, person=owner)
    assert not SawnStock.objects.exists()


def test_a_search_ends_when_something_is_cut(plan: CuttingPlan) -> None:
    CuttingPlan.objects.update(state="running", run="6f1c3a5e-0000-4000-8000-000000000000")
    make.sawn(plan)
    plan.refresh_from_db()
    assert (plan.state, plan.run) == ("stopped", None)


def test_a_maker_writes_down_what_is_cut(plan: CuttingPlan, as_maker: Browser) -> None:
    typed = {"index": 0, "count": 2, "seen": plan.better_count}
    answer = as_maker.post(reverse("materials:plan-cut", args=[plan.pk]), typed, follow=True)
    text = answer.content.decode()
    assert "Cut: 2 × 2400 mm" in text
    assert "Cut already" in text
    assert "£" not in text
    assert SawnStock.objects.filter(cut_by__name="Miles Maker").count() == 2


def test_sent_twice_is_written_once(plan: CuttingPlan, as_maker: Browser) -> None:
    typed = {"index": 0, "count": 1, "seen": plan.better_count}
    for _ in range(2):
        answer = as_maker.post(reverse("materials:plan-cut", args=[plan.pk]), typed, follow=True)
    assert "The plan has changed since you looked" in answer.content.decode()
    assert SawnStock.objects.count() == 1


def test_words_for_a_number_are_refused(plan: CuttingPlan, as_maker: Browser) -> None:
    typed = {"index": 0, "count": "some", "seen": plan.better_count}
    answer = as_maker.post(reverse("materials:plan-cut", args=[plan.pk]), typed, follow=True)
    assert "Say how many are cut" in answer.content.decode()


def test_undo_from_the_page(plan: CuttingPlan, as_maker: Browser) -> None:
    sawn = make.sawn(plan)
    answer = as_maker.post(reverse("materials:plan-uncut", args=[sawn.pk]), follow=True)
    assert "Not cut after all" in answer.content.decode()
    assert not SawnStock.objects.exists()
    as_maker.post(reverse("materials:plan-uncut", args=[sawn.pk]))
    assert CuttingPlan.objects.get().problem["parts"][0]["quantity"] == 10


def test_leftovers_lie_in_stock_with_a_label(plan: CuttingPlan, owner: Person) -> None:
    make.sawn(plan, count=2)
    first, second = StockItem.objects.order_by("label")
    assert first.length_mm10 == second.length_mm10 == 24000 - 3 * 6032
    assert (first.origin_job, first.source, first.value) == (plan.job, "leftover", 0)


def test_the_next_job_is_offered_them_first(plan: CuttingPlan, owner: Person) -> None:
    make.sawn(plan)
    other = make.job()
    make.taken_off(plan.material, (5000, 1), phase=make.phase(job=other))
    found = plan_cutting(job=other, person=owner)[0]
    assert found.cost == 0
    assert material_of_job(other).to_buy == ()
    assert plans_page(other, owner).lines[0].to_buy[0].is_offcut


def test_an_offcut_that_is_cut_leaves_stock_at_its_value(plan: CuttingPlan, owner: Person) -> None:
    Job.objects.update(state="bench")
    plan.job.refresh_from_db()
    item = make.stock_item(material=plan.material, length_mm10=13000, value=Decimal(3), person=owner)
    again = plan_cutting(job=plan.job, person=owner)[0]
    assert again.cost == Decimal(33)
    at = next(at for at, bar in enumerate(again.result["bars"]) if again.stock[bar["stock"]]["offcut"])
    sawn = make.sawn(again, index=at)
    item.refresh_from_db()
    assert item.quantity == 0
    assert plan.job.phases.get().cost_entries.get().net == Decimal(3)
    assert plans_page(plan.job, owner).lines[0].stale == ()
    undo_cut(sawn=sawn, person=owner)
    item.refresh_from_db()
    assert item.quantity == 1


def test_a_plan_whose_offcut_is_gone_is_stale(plan: CuttingPlan, owner: Person) -> None:
    item = make.stock_item(material=plan.material, length_mm10=13000, person=owner)
    plan_cutting(job=plan.job, person=owner)
    assert plans_page(plan.job, owner).lines[0].stale == ()
    StockItem.objects.filter(pk=item.pk).update(used_up_at=timezone.now(), quantity=0)
    assert plans_page(plan.job, owner).lines[0].stale == ("offcuts that it uses are no longer in stock",)


def test_what_is_kept_for_another_job_is_not_offered(plan: CuttingPlan, owner: Person) -> None:
    item = make.stock_item(material=plan.material, length_mm10=13000, person=owner)
    StockItem.objects.filter(pk=item.pk).update(reserved_for=make.job())
    assert plan_cutting(job=plan.job, person=owner)[0].cost == Decimal(40)


def test_undoing_takes_the_leftovers_out_of_stock(plan: CuttingPlan, owner: Person) -> None:
    undo_cut(sawn=make.sawn(plan), person=owner)
    assert StockItem.objects.get().quantity == 0


def test_a_leftover_that_is_used_cannot_be_undone(plan: CuttingPlan, as_owner: Browser) -> None:
    sawn = make.sawn(plan)
    StockItem.objects.update(used_up_at=timezone.now(), quantity=0)
    answer = as_owner.post(reverse("materials:plan-uncut", args=[sawn.pk]), follow=True)
    assert "is used already" in answer.content.decode()
    assert SawnStock.objects.exists()
