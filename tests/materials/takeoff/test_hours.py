"""The workshop's own hours: set, left empty, refused."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.db import IntegrityError
from django.urls import reverse

from jobs import agreed_work
from jobs.progress import AgreedWork
from materials.models import GradeFactor, OperationRate
from materials.queries.rates import labour_rates
from materials.takeoff.labour import OPERATION_UNITS, STARTING_RATES, Grade
from materials.takeoff.result import Operation
from tests import make
from tests.checks import says

pytestmark = pytest.mark.django_db
AT = "/materials/hours/"


def test_it_stands_where_its_name_says():
    assert reverse("materials:operation-hours") == AT


def test_own_hours_hold_from_now_on(as_owner):
    as_owner.post(AT, {"clad": "0.55", "grade_concealed": "0.5"})
    rates = labour_rates()
    assert rates.hours[Operation.CLAD] == Decimal("0.55")
    assert rates.factors[Grade.CONCEALED] == Decimal("0.5")
    assert rates.hours[Operation.FRAME] == STARTING_RATES.hours[Operation.FRAME]


def test_sent_twice_it_is_the_same(as_owner):
    for _ in range(2):
        as_owner.post(AT, {"clad": "0.55"})
    assert OperationRate.objects.count() == 1


def test_left_empty_the_starting_figure_holds_again(as_owner):
    as_owner.post(AT, {"clad": "0.55"})
    as_owner.post(AT, {"clad": ""})
    assert labour_rates() == STARTING_RATES


def test_a_starting_figure_typed_again_is_not_kept(as_owner):
    as_owner.post(AT, {"clad": str(STARTING_RATES.hours[Operation.CLAD])})
    assert not OperationRate.objects.exists()


@pytest.mark.parametrize("typed", [{"clad": "-1"}, {"clad": "much"}, {"grade_seen": "0"}, {"clad": "1001"}])
def test_a_bad_figure_is_refused_and_kept_on_the_page(as_owner, typed):
    page = as_owner.post(AT, typed)
    assert page.status_code == 200
    assert f'value="{next(iter(typed.values()))}"' in page.content.decode()
    assert labour_rates() == STARTING_RATES


def test_the_makers_do_not_set_them(as_maker):
    assert as_maker.post(AT, {"clad": "9"}).status_code == 403


@pytest.mark.parametrize(
    "make_nonsense",
    [
        lambda: OperationRate.objects.create(operation="clad", hours_each=Decimal(-1)),
        lambda: GradeFactor.objects.create(grade="seen", factor=Decimal(0)),
    ],
)
def test_the_database_refuses_nonsense(make_nonsense):
    with pytest.raises(IntegrityError):
        make_nonsense()


def test_every_operation_has_its_unit():
    assert set(OPERATION_UNITS) == set(Operation)


@pytest.mark.parametrize(("jobs", "there"), [(2, False), (3, True)])
def test_what_jobs_took_stands_beside_the_figure_and_changes_nothing(as_owner, monkeypatch, jobs, there):
    def lines(phases):
        unit = OPERATION_UNITS[Operation.CLAD].value
        return [
            AgreedWork(str(one), one, "Clad in boards", unit, "seen", Decimal(10), Decimal(8))
            for one in phases
        ]

    monkeypatch.setattr(agreed_work, "_sources", [lines])
    for _ in range(jobs):
        phase = make.phase(job=make.job(state="closed"))
        make.hours(phase=phase, seconds=12 * 3600)
    page = as_owner.get(AT)
    assert says(page, "your jobs took 1.20 (half of them 1.20 to 1.20), from 3 jobs") is there
    assert labour_rates().hours[Operation.CLAD] == STARTING_RATES.hours[Operation.CLAD]
