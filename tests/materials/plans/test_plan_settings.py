"""A plan is made again with other settings of the saw."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import Person, Workshop
from materials.models import CuttingPlan, TakeoffItem
from tests import make

pytestmark = pytest.mark.django_db
TYPED = {"kerf": "2.5", "trim": "5", "least_offcut": "40 cm", "seconds": "5"}


@pytest.fixture
def plan(owner: Person) -> CuttingPlan:
    return make.plan(by=owner)


def again(browser: Browser, plan: CuttingPlan, **typed: str) -> str:
    address = reverse("materials:plan-again", args=[plan.pk])
    return browser.post(address, {**TYPED, **typed}, follow=True).content.decode()


def test_settings_are_used_and_kept(plan: CuttingPlan, as_maker: Browser) -> None:
    again(as_maker, plan)
    row = CuttingPlan.objects.get()
    assert (row.kerf_mm10, row.trim_mm10, row.least_offcut_mm10, row.seconds_granted) == (25, 50, 4000, 5)
    assert row.problem["kerf_mm10"] == 25


def test_without_a_kerf_it_costs_less(plan: CuttingPlan, as_owner: Browser) -> None:
    again(as_owner, plan, kerf="0", trim="0")
    assert CuttingPlan.objects.get().cost == Decimal(30)


@pytest.mark.parametrize(
    ("field", "typed", "said"),
    [
        ("kerf", "25", "At most 20."),
        ("kerf", "thick", "thick"),
        ("trim", "", "This field is required."),
        ("seconds", "0", "greater than or equal to 1"),
        ("seconds", "121", "less than or equal to 120"),
    ],
)
def test_what_is_amiss_is_said_beside_the_field(
    plan: CuttingPlan, as_maker: Browser, field: str, typed: str, said: str
) -> None:
    text = again(as_maker, plan, **{field: typed})
    assert said in text
    assert f'value="{typed}"' in text or not typed
    assert CuttingPlan.objects.get().kerf_mm10 == 32


def test_sheets_have_a_least_width_too(owner: Person, as_maker: Browser) -> None:
    job = make.job()
    make.taken_off(make.sheet((24400, 12200, "50.00")), (10000, 5000, 3), phase=make.phase(job=job))
    as_maker.post(reverse("materials:plan-make", args=[job.pk]))
    plan = CuttingPlan.objects.get()
    again(as_maker, plan, least_offcut_width="150")
    plan.refresh_from_db()
    assert plan.problem["least_offcut_short_mm10"] == 1500
    assert plan.problem["stock"][0]["trim"]["left_mm10"] == 50


def test_a_plan_of_nothing_is_gone(plan: CuttingPlan, as_maker: Browser) -> None:
    TakeoffItem.objects.all().delete()
    assert "so its plan is gone" in again(as_maker, plan)


def test_feet_and_inches_are_read(plan: CuttingPlan, as_maker: Browser) -> None:
    Workshop.objects.update(measurement="feet")
    again(as_maker, plan, kerf="1/8", trim="1/4", least_offcut="1' 6")
    row = CuttingPlan.objects.get()
    assert (row.kerf_mm10, row.trim_mm10, row.least_offcut_mm10) == (32, 64, 4572)
