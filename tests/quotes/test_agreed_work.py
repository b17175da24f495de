"""Which lines of labour finished jobs are learnt from."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from jobs.agreed_work import agreed_work
from jobs.models import Phase
from quotes.models import QuoteLine
from quotes.services import changes
from quotes.services.issuing import issue
from tests import make

pytestmark = pytest.mark.usefixtures("workshop")


def labour(agreed: bool = True, **fields: Any) -> Phase:
    """A phase with a line of labour, and a yes to it."""
    quote = make.quote()
    told = {"kind": "labour", "description": "Lining", "quantity": 4, "hours": Decimal(7)}
    line = make.quote_line(20, quote=quote, **{**told, **fields})
    make.quote_line(20, quote=quote)
    if agreed:
        make.answer(issue(quote=quote, person=make.person(role="owner")))
    return line.phase


def test_agreed_labour_is_learnt_from() -> None:
    phase = labour()
    [line] = agreed_work([phase.pk])
    assert (line.job, line.operation, line.quantity, line.hours) == (phase.job.number, "Lining", 4, 7)


@pytest.mark.parametrize(
    "fields",
    [
        pytest.param({"agreed": False}, id="not accepted"),
        pytest.param({"kind": "material"}, id="not labour"),
        pytest.param({"optional": True}, id="an extra nobody chose"),
    ],
)
def test_other_lines_are_not(fields: dict[str, Any]) -> None:
    assert agreed_work([labour(**fields).pk]) == []


def test_a_chosen_extra_is_learnt_from() -> None:
    phase = labour(optional=True)
    QuoteLine.objects.filter(phase=phase, kind="labour").update(chosen=True)
    assert len(agreed_work([phase.pk])) == 1


@pytest.fixture
def lined() -> QuoteLine:
    """An agreed line: lining of 4 in 7 h."""
    return QuoteLine.objects.get(phase=labour(), kind="labour")


def leave_out(line: QuoteLine, percent: int, agreed: bool = True) -> None:
    owner = make.person(role="owner")
    change = changes.raise_change(job=line.quote.job, person=owner, title="Less of it")
    order = changes.price_change(change=change, person=owner)
    changes.omit_line(order=order, line=line, percent=Decimal(percent), person=owner)
    if agreed:
        make.answer(issue(quote=order, person=owner))


def figures(line: QuoteLine) -> list[tuple[Decimal, Decimal]]:
    return [(each.quantity, each.hours) for each in agreed_work([line.phase_id])]


def test_what_is_left_of_a_line_is_learnt_from(lined: QuoteLine) -> None:
    leave_out(lined, 10)
    leave_out(lined, 40)
    assert figures(lined) == [(2, Decimal("3.5"))]


def test_a_line_left_out_whole_has_nothing_to_teach(lined: QuoteLine) -> None:
    leave_out(lined, 100)
    assert figures(lined) == [(0, 0)]


def test_leaving_out_that_is_only_a_draft_changes_nothing(lined: QuoteLine) -> None:
    leave_out(lined, 10, agreed=False)
    assert figures(lined) == [(4, 7)]


def test_two_lines_alike_are_two(lined: QuoteLine) -> None:
    lined.pk = None
    lined.save()
    assert figures(lined) == [(4, 7), (4, 7)]


def test_hours_of_another_way_count_without_an_operation(lined: QuoteLine) -> None:
    QuoteLine.objects.filter(phase=lined.phase, kind="material").update(source="ways", hours=-3)
    assert {(each.operation, each.hours) for each in agreed_work([lined.phase_id])} == {
        ("Lining", 7),
        ("", -3),
    }


def test_other_phases_are_left_out() -> None:
    labour()
    assert agreed_work([make.phase().pk]) == []
