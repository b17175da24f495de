"""A job's and a phase's take-off, its mass against the limit, and copies of it."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.urls import reverse

from jobs.services.copying import copy_phases
from materials.models import GradeFactor, OperationRate, TakeoffItem
from materials.queries.rates import labour_rates
from materials.queries.takeoff import job_takeoff, phase_takeoff
from materials.takeoff.counted import Manual
from materials.takeoff.labour import STARTING_RATES
from materials.takeoff.setting_out import SettingOut
from tests import make

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("workshop")]


def at(name, *args):
    return reverse(f"materials:{name}", args=args)


def weighs(kg, **fields):
    return make.takeoff(Manual("weighed on the scales", (), Decimal(kg)), "manual", **fields)


@pytest.mark.parametrize("count", [1, 3, 30])
def test_a_phase_takes_the_same_queries_whatever_was_taken_off(as_maker, django_assert_num_queries, count):
    phase = make.phase()
    for _ in range(count):
        make.takeoff(phase=phase)
    with django_assert_num_queries(7):
        as_maker.get(at("phase-takeoff", phase.pk))


@pytest.mark.parametrize("count", [1, 3])
def test_a_job_takes_the_same_queries_whatever_was_taken_off(as_maker, django_assert_num_queries, count):
    job = make.job()
    for _ in range(count):
        phase = make.phase(job=job)
        for _ in range(count):
            make.takeoff(phase=phase)
    for name, queries in (("takeoff", 8), ("mass", 9)):
        with django_assert_num_queries(queries):
            as_maker.get(at(name, job.pk))


def test_empty_pages_say_what_to_do(as_maker):
    phase = make.phase()
    assert (
        "Start with what you measured first" in as_maker.get(at("phase-takeoff", phase.pk)).content.decode()
    )
    assert "No phases yet" in as_maker.get(at("takeoff", make.job().pk)).content.decode()


def test_the_bookkeeper_reads_and_is_offered_no_kinds(as_bookkeeper):
    page = as_bookkeeper.get(at("phase-takeoff", make.takeoff().phase_id)).content.decode()
    assert "17 courses" in page
    assert "/new/" not in page


@pytest.mark.parametrize("name", ["takeoff", "mass"])
def test_makers_see_no_prices(as_maker, name):
    item = make.takeoff()
    make.price("987.65", size=make.size(material=make.tongued_board(), length_mm10=30_000))
    assert "£" not in as_maker.get(at(name, item.phase.job_id)).content.decode()


def test_masses_add_up_by_phase_and_job():
    job = make.job(empty_mass_kg=Decimal(2150), gross_mass_limit_kg=Decimal(3500))
    for kg in ("100.5", "49.5"):
        weighs(kg, phase=make.phase(job=job))
    takeoff = job_takeoff(job, labour_rates())
    assert [phase.mass_kg for phase in takeoff.phases] == [Decimal("100.5"), Decimal("49.5")]
    assert (takeoff.mass_kg, takeoff.laden_kg, takeoff.left_kg) == (150, 2300, 1200)


def test_an_item_without_mass_is_said_not_to_be_in_the_sum(as_owner):
    item = make.takeoff(SettingOut("Lamps", 36_000, 4), "setting_out")
    assert "1 item here has no known mass" in as_owner.get(at("mass", item.phase.job_id)).content.decode()


def test_over_the_limit_is_said(as_owner):
    job = make.job(empty_mass_kg=Decimal(3450), gross_mass_limit_kg=Decimal(3500))
    weighs("60", phase=make.phase(job=job))
    assert "over the limit" in as_owner.get(at("mass", job.pk)).content.decode()


@pytest.mark.parametrize("name", ["takeoff", "mass"])
def test_every_screen_of_mass_says_to_weigh_the_thing(as_owner, name):
    item = weighs("60")
    assert "Weigh the finished thing" in as_owner.get(at(name, item.phase.job_id)).content.decode()


def test_hours_go_by_the_workshops_own_rates_and_the_phases_grade():
    item = make.takeoff(phase=make.phase(grade="concealed"))
    OperationRate.objects.create(operation="clad", hours_each=Decimal("0.5"))
    GradeFactor.objects.create(grade="concealed", factor=Decimal("0.4"))
    row = phase_takeoff(item.phase, labour_rates())
    assert row.hours_total == Decimal("0.86")
    assert row.rows[0].hours[0].figures == "4.32 m² × 0.5 h × 0.4 (concealed) = 0.86 h"


def test_without_own_rates_the_starting_ones_hold():
    assert labour_rates() == STARTING_RATES


def test_a_copied_job_takes_its_take_off_along():
    item = make.takeoff(version=7)
    new = make.phase()
    copy_phases({item.phase: new})
    copy = TakeoffItem.objects.get(phase=new)
    assert (copy.title, copy.inputs, copy.result, copy.version) == (item.title, item.inputs, item.result, 1)
    assert TakeoffItem.objects.count() == 2
