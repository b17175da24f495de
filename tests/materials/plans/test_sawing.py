"""What is cut stays; plans after it cover the rest."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import Person
from materials.models import CuttingPlan, SawnStock, TakeoffItem
from materials.queries.plan_pages import plans_page
from materials.queries.plans import material_of_job
from materials.services.plans import plan_cutting
from materials.services.sawing import OverlookedError, confirm_cut, undo_cut
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
    with pytest.raises(OverlookedError):
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
    assert CuttingPlan.objects.get().problem["parts"][0]["quantity"] == 10
