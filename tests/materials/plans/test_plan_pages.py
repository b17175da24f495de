"""The pages of cutting plans."""

from __future__ import annotations

import re
from datetime import timedelta
from decimal import Decimal

import pytest
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone
from pytest_django import DjangoAssertNumQueries

from jobs.models import Person
from materials.models import CuttingPlan
from materials.services.plans import plan_cutting
from tests import make

pytestmark = pytest.mark.django_db
LIST_QUERIES = 12
PLAN_QUERIES = 16


def page(browser: Browser, address: str) -> str:
    answer = browser.get(address)
    assert answer.status_code == 200
    return answer.content.decode()


def without_token(text: str) -> str:
    """Each answer hides its token against forgery in another way."""
    return re.sub(r'name="csrfmiddlewaretoken" value="[^"]*"', "", text)


def running(plan: CuttingPlan, seconds_ago: int = 0) -> None:
    heard = timezone.now() - timedelta(seconds=seconds_ago)
    CuttingPlan.objects.filter(pk=plan.pk).update(
        state="running", proven=False, lower_bound=Decimal(32), heard_at=heard, progress="3 s"
    )


def test_a_job_without_take_off_says_what_to_do(as_owner: Browser) -> None:
    assert "Nothing to cut yet" in page(as_owner, reverse("materials:plans", args=[make.job().pk]))


def test_the_list_shows_cost_and_what_to_buy(as_owner: Browser, owner: Person) -> None:
    plan = make.plan(by=owner)
    text = page(as_owner, reverse("materials:plans", args=[plan.job_id]))
    assert "£40.00" in text
    assert "2400 mm" in text
    assert "no plan costs less" in text


def test_a_maker_sees_counts_but_no_prices(as_maker: Browser, owner: Person) -> None:
    plan = make.plan(by=owner)
    for address in (reverse("materials:plans", args=[plan.job_id]), plan.get_absolute_url()):
        text = page(as_maker, address)
        assert "2400 mm" in text
        assert "4 ×" in text
        assert "£" not in text


def test_the_bookkeeper_reads_but_does_not_plan(as_bookkeeper: Browser, owner: Person) -> None:
    plan = make.plan(by=owner)
    text = page(as_bookkeeper, reverse("materials:plans", args=[plan.job_id]))
    assert "£40.00" in text
    assert "Plan all" not in text


@pytest.mark.parametrize("count", [1, 3])
def test_queries_of_the_list(
    as_owner: Browser, owner: Person, count: int, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    job = make.job()
    for _ in range(count):
        make.plan(job, by=owner)
    with django_assert_num_queries(LIST_QUERIES):
        as_owner.get(reverse("materials:plans", args=[job.pk]))


@pytest.mark.parametrize("count", [1, 3])
def test_queries_of_a_plan(
    as_owner: Browser, owner: Person, count: int, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    plan = make.plan(by=owner)
    for at in range(count):
        make.taken_off(plan.material, (5000 + at, 3), phase=make.phase(job=plan.job))
    as_owner.post(reverse("materials:plan-make", args=[plan.job_id]))
    with django_assert_num_queries(PLAN_QUERIES):
        as_owner.get(plan.get_absolute_url())


def test_the_plan_draws_every_bar(as_owner: Browser, owner: Person) -> None:
    plan = make.plan(by=owner)
    text = page(as_owner, plan.get_absolute_url())
    assert "Bars 1–3, all 3 alike" in text
    assert text.count("<svg") == 2
    assert "Shelf, part 1" in text
    assert 'style="' not in text


def test_a_sheet_is_drawn_with_its_cuts(as_owner: Browser, owner: Person) -> None:
    job = make.job()
    make.taken_off(make.sheet((24400, 12200, "50.00")), (10000, 5000, 3), phase=make.phase(job=job))
    as_owner.post(reverse("materials:plan-make", args=[job.pk]))
    text = page(as_owner, CuttingPlan.objects.get().get_absolute_url())
    assert "Sheet 1" in text
    assert "1000 × 500" in text
    assert "1 trim" in text
    assert "5 rip" in text or "5 crosscut" in text


def test_a_piece_that_is_too_long_leads_to_its_item_and_to_a_new_size(
    as_owner: Browser, as_maker: Browser, owner: Person
) -> None:
    job = make.job()
    phase, board = make.phase(job=job), make.board((24000, "10.00"), name="Ash")
    make.taken_off(board, (20000, 1), phase=phase, title="Short shelf")
    long = make.taken_off(board, (42000, 1), phase=phase, title="Long shelf")
    (plan,) = plan_cutting(job=job, person=owner)
    for address in (plan.get_absolute_url(), reverse("materials:plans", args=[job.pk])):
        text = page(as_owner, address)
        assert "4200 mm is longer than any stock" in text
        assert f'<a href="{long.get_absolute_url()}">Long shelf in the take-off</a>' in text
        assert "Short shelf in the take-off" not in text
        add = f"{board.get_absolute_url()}#add-size"
        assert f'<a href="{add}">Add a size of Ash</a>' in text
        assert f'<a href="{add}">Ash</a>' in page(as_maker, address)
    assert 'id="add-size"' in page(as_owner, board.get_absolute_url())


def test_a_part_too_large_for_any_sheet_leads_to_its_item(as_owner: Browser, owner: Person) -> None:
    sheet = make.sheet((24400, 12200, "60.00"))
    item = make.taken_off(sheet, (26000, 6000, 1), phase=make.phase(), title="Worktop")
    (plan,) = plan_cutting(job=item.phase.job, person=owner)
    assert "Worktop in the take-off" in page(as_owner, plan.get_absolute_url())


def test_a_running_search_is_polled_and_can_be_stopped(as_owner: Browser, owner: Person) -> None:
    plan = make.plan(by=owner)
    running(plan)
    text = page(as_owner, plan.get_absolute_url())
    assert "Stop with what there is" in text
    assert "at most 25.0 % above the least there can be" in text
    assert f'hx-get="{plan.get_absolute_url()}?shown=1"' in text


def test_a_poll_gets_the_progress_until_there_is_more(as_owner: Browser, owner: Person) -> None:
    plan = make.plan(by=owner)
    running(plan)
    same = as_owner.get(plan.get_absolute_url(), {"shown": "1"}, headers={"hx-request": "true"})
    assert "HX-Retarget" not in same.headers
    assert "<svg" not in same.content.decode()
    more = as_owner.get(plan.get_absolute_url(), {"shown": "0"}, headers={"hx-request": "true"})
    assert more.headers["HX-Retarget"] == "#plan"
    whole = page(as_owner, plan.get_absolute_url())
    body, sum_at_the_head = without_token(more.content.decode()).split('<div class="sum"')
    assert body.strip() in without_token(whole)
    assert 'hx-swap-oob="true">£40.00' in sum_at_the_head


def test_the_sum_of_the_list_follows_its_rows(as_owner: Browser, owner: Person) -> None:
    plan = make.plan(by=owner)
    running(plan)
    text = page(as_owner, reverse("materials:plans", args=[plan.job_id]))
    assert 'hx-select-oob="#plans-sum"' in text
    assert '<div class="sum" id="plans-sum">£40.00' in text


def test_the_sum_says_which_material_it_leaves_out(as_owner: Browser, owner: Person) -> None:
    plan = make.plan(by=owner)
    address = reverse("materials:plans", args=[plan.job_id])
    assert "and without" not in page(as_owner, address)
    batten = make.board((24000, "3.95"), name="Sawn batten")
    make.taken_off(batten, (42000, 1), phase=make.phase(job=plan.job))
    assert "and without Sawn batten: no plan" in page(as_owner, address)


def test_a_search_that_went_silent_is_said_to_have_ended(as_owner: Browser, owner: Person) -> None:
    plan = make.plan(by=owner)
    running(plan, seconds_ago=60)
    text = page(as_owner, plan.get_absolute_url())
    assert "The search ended without a word" in text
    assert "Stop with what there is" not in text


def test_planning_leads_to_the_plan(as_maker: Browser) -> None:
    item = make.taken_off(make.board((24000, "10.00")), (6000, 3))
    answer = as_maker.post(reverse("materials:plan-make", args=[item.phase.job_id]))
    plan = CuttingPlan.objects.get()
    assert answer.headers["Location"] == plan.get_absolute_url()
    assert plan.made_by is not None


def test_planning_twice_keeps_one_plan(as_maker: Browser) -> None:
    item = make.taken_off(make.board((24000, "10.00")), (6000, 3))
    for _ in range(2):
        as_maker.post(reverse("materials:plan-make", args=[item.phase.job_id]))
    assert CuttingPlan.objects.count() == 1


def test_only_the_material_named_is_planned(as_maker: Browser) -> None:
    job = make.job()
    boards = [make.board((24000, "10.00")) for _ in range(2)]
    for board in boards:
        make.taken_off(board, (6000, 3), phase=make.phase(job=job))
    as_maker.post(reverse("materials:plan-make", args=[job.pk]), {"material": boards[0].pk})
    assert CuttingPlan.objects.get().material == boards[0]


def test_nothing_to_cut_is_said(as_maker: Browser) -> None:
    answer = as_maker.post(reverse("materials:plan-make", args=[make.job().pk]), follow=True)
    assert "Nothing to cut yet" in answer.content.decode()


def test_stopping_asks_the_search_to_end(as_maker: Browser, owner: Person) -> None:
    plan = make.plan(by=owner)
    running(plan)
    as_maker.post(reverse("materials:plan-stop", args=[plan.pk]))
    plan.refresh_from_db()
    assert plan.stop_asked


def test_stopping_what_has_ended_changes_nothing(as_maker: Browser, owner: Person) -> None:
    plan = make.plan(by=owner)
    as_maker.post(reverse("materials:plan-stop", args=[plan.pk]))
    plan.refresh_from_db()
    assert not plan.stop_asked


@pytest.mark.parametrize("name", ["plan-make", "plan-stop"])
def test_writes_refuse_wrong_ways(
    name: str, as_owner: Browser, as_bookkeeper: Browser, as_stranger: Browser
) -> None:
    plan = make.plan()
    address = reverse(f"materials:{name}", args=[plan.job_id if name == "plan-make" else plan.pk])
    assert as_owner.get(address).status_code == 405
    assert as_bookkeeper.post(address).status_code == 403
    assert as_stranger.post(address).status_code == 302
    assert as_owner.post(reverse(f"materials:{name}", args=[999999])).status_code == 404
