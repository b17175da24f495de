"""Hours come into a draft from take-off by operation and grade, and again when they change."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.urls import reverse

from jobs.models import Workshop
from jobs.refusals import RefusedError
from materials.models import OperationRate, TakeoffItem
from materials.queries.labour import labour_of_job
from quotes.models import QuoteLine
from quotes.queries.figures import figures_of
from quotes.services.bringing_in_hours import bring_in_hours
from tests import make
from tests.checks import says

pytestmark = pytest.mark.usefixtures("workshop")


@pytest.fixture
def wall():
    """A wall of 4.32 m² in a phase that stays concealed, and a trade rate of 20 an hour."""
    make.labour_rate(name="Joiner")
    return make.takeoff(phase=make.phase(grade="concealed"))


def brought(item, owner):
    quote = make.quote(job=item.phase.job)
    return quote, bring_in_hours(quote=quote, person=owner)


def test_a_line_says_quantity_hours_and_grade(wall, owner):
    quote, _ = brought(wall, owner)
    line = QuoteLine.objects.get()
    assert (line.description, line.quantity, line.unit) == ("Clad in boards", Decimal("4.32"), "m²")
    assert (line.hours_each, line.grade, line.grade_factor) == (Decimal("0.8"), "concealed", Decimal("0.7"))
    assert line.hours == Decimal("2.42")
    assert figures_of(quote, on=quote.created_at.date()).priced.cost == Decimal("48.40")


def test_two_walls_of_a_phase_are_one_line(wall, owner):
    make.takeoff(phase=wall.phase)
    brought(wall, owner)
    assert QuoteLine.objects.get().quantity == Decimal("8.64")


def test_again_it_renews_and_keeps_words(wall, owner):
    quote, _ = brought(wall, owner)
    QuoteLine.objects.update(description="Line the hut")
    OperationRate.objects.create(operation="clad", hours_each=Decimal(1))
    again = bring_in_hours(quote=quote, person=owner)
    line = QuoteLine.objects.get()
    assert (again.added, again.renewed, line.hours, line.description) == (
        0,
        1,
        Decimal("3.02"),
        "Line the hut",
    )


def test_what_is_no_longer_taken_off_goes_and_hand_lines_stay(wall, owner):
    quote, _ = brought(wall, owner)
    make.quote_line(quote=quote, phase=wall.phase)
    TakeoffItem.objects.all().delete()
    assert bring_in_hours(quote=quote, person=owner).taken_off == 1
    assert QuoteLine.objects.get().description == "Board"


def test_without_a_trade_rate_it_is_refused_in_words(owner, as_owner):
    item = make.takeoff()
    quote = make.quote(job=item.phase.job)
    with pytest.raises(RefusedError, match="no trade rate yet"):
        bring_in_hours(quote=quote, person=owner)
    answer = as_owner.post(reverse("quotes:bring_in_hours", args=[quote.pk]), follow=True)
    assert "no trade rate yet" in answer.content.decode()


def test_the_button_brings_them_in(wall, as_owner):
    quote = make.quote(job=wall.phase.job)
    as_owner.post(reverse("quotes:bring_in_hours", args=[quote.pk]))
    assert QuoteLine.objects.count() == 1


@pytest.mark.parametrize("count", [1, 3])
def test_four_queries_whatever_was_taken_off(django_assert_num_queries, count):
    job = make.job()
    for _ in range(count):
        phase = make.phase(job=job)
        for _ in range(count):
            make.takeoff(phase=phase)
    with django_assert_num_queries(4):
        assert len(labour_of_job(job)) == count


def test_hours_come_in_at_the_charge_rate_where_the_workshop_prices_so(wall, owner):
    Workshop.objects.update(labour_at_charge_rate=True)
    quote, _ = brought(wall, owner)
    rate = quote.lines.first().labour_rate
    assert {line.unit_price for line in quote.lines.all()} == {rate.charge_rate}


@pytest.mark.parametrize("name", ["quotes:bring_in", "quotes:bring_in_hours"])
def test_a_change_order_takes_no_whole_take_off_in(wall, as_owner, name):
    order = make.quote(job=wall.phase.job, change=make.change(job=wall.phase.job))
    assert not says(as_owner.get(order.get_absolute_url()), "Bring in")
    answer = as_owner.post(reverse(name, args=[order.pk]), follow=True)
    assert says(answer, "A change order holds what is different")
    assert not order.lines.exists()
