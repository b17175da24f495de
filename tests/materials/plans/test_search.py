"""The search as its process runs it."""

from __future__ import annotations

import uuid
from decimal import Decimal
from typing import Any

import pytest
from django.core.management import call_command

from jobs.models import Person
from materials.cutting.solve import solve
from materials.cutting.stored import plan_data, problem_from
from materials.models import CuttingPlan
from materials.queries.plan_beside import beside
from materials.queries.plan_read import plan_in
from materials.services.plan_search import search_run
from materials.services.plans import plan_cutting
from tests import make

pytestmark = pytest.mark.django_db


@pytest.fixture
def waiting(owner: Person) -> CuttingPlan:
    """A plan that is to be searched and has no result yet."""
    plan = make.plan(by=owner)
    fields: dict[str, Any] = {"state": "running", "run": uuid.uuid4(), "result": None, "cost": None}
    CuttingPlan.objects.update(**fields, seconds_granted=1, better_count=0)
    plan.refresh_from_db()
    return plan


def test_a_search_keeps_what_it_finds_and_ends(waiting: CuttingPlan) -> None:
    assert search_run(waiting.run) == 1
    waiting.refresh_from_db()
    assert (waiting.state, waiting.run, waiting.cost) == ("done", None, 40)
    assert waiting.proven
    assert sum(share.cost for share in waiting.shares.all()) == 40


def test_simpler_ways_are_costed_once_the_search_is_over(waiting: CuttingPlan) -> None:
    search_run(waiting.run)
    waiting.refresh_from_db()
    assert [(way["way"], way["cost"], way["is_enough"]) for way in waiting.compared][:2] == [
        ("ALLOWANCE", "30", False),
        ("ONE_SIZE", "40", True),
    ]
    own, allowance, *_ = beside(waiting, plan_in(waiting))
    assert (own.cost, allowance.cost, allowance.more, allowance.less) == (40, 30, -10, 10)


def test_simpler_ways_are_paid_for_in_whole_packs_too(owner: Person) -> None:
    """Two boards of a pack of six at 60.00 are a pack whichever way they are cut."""
    board = make.material()
    make.price("60.00", size=make.size(material=board, pack_quantity=6))
    item = make.taken_off(board, (23000, 2))
    (plan,) = plan_cutting(job=item.phase.job, person=owner)
    search_run(plan.run)
    plan.refresh_from_db()
    assert {way.cost for way in beside(plan, plan_in(plan))} == {Decimal(60)}


def test_the_command_does_the_same(waiting: CuttingPlan, capsys: pytest.CaptureFixture[str]) -> None:
    call_command("solve_plan", str(waiting.run))
    assert CuttingPlan.objects.get().state == "done"
    assert capsys.readouterr().out == "1 searched\n"


def test_a_run_that_is_gone_does_nothing(waiting: CuttingPlan) -> None:
    assert search_run(uuid.uuid4()) == 0
    waiting.refresh_from_db()
    assert waiting.state == "running"


def test_a_search_told_to_stop_ends_stopped(waiting: CuttingPlan) -> None:
    CuttingPlan.objects.update(stop_asked=True)
    search_run(waiting.run)
    waiting.refresh_from_db()
    assert waiting.state in ("stopped", "done"), "what is proven at once needs no stopping"
    assert waiting.cost is not None


def test_a_worse_plan_does_not_replace_a_better(waiting: CuttingPlan) -> None:
    best = solve(problem_from(waiting.problem), seconds=0.5)
    CuttingPlan.objects.update(result=plan_data(best), cost=40)
    search_run(waiting.run)
    waiting.refresh_from_db()
    assert waiting.better_count == 0
    assert waiting.state == "done"


def test_what_cannot_be_cut_fails_with_words(waiting: CuttingPlan) -> None:
    waiting.problem["parts"][0]["length_mm10"] = 30000
    waiting.save()
    search_run(waiting.run)
    waiting.refresh_from_db()
    assert waiting.state == "failed"
    assert "is longer than any stock" in waiting.faults[0]
