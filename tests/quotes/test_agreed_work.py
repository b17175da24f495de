"""Which lines of labour finished jobs are learnt from."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from jobs.agreed_work import agreed_work
from jobs.models import Phase
from quotes.models import QuoteLine
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


def test_other_phases_are_left_out() -> None:
    labour()
    assert agreed_work([make.phase().pk]) == []
