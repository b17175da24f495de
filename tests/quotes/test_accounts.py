"""The accountant's tables of a period."""

from __future__ import annotations

from datetime import date

import pytest
import time_machine

from jobs.models import Person
from quotes.queries.accounts import invoices_table
from quotes.services import invoicing
from tests import make

pytestmark = pytest.mark.usefixtures("workshop")


def test_invoices_stand_in_the_order_of_days_and_numbers(owner: Person) -> None:
    job = make.contract(1000, stages=(20, 30, 50))
    drafts = [invoicing.draft_stage(job=job, stage=stage, person=owner) for stage in range(3)]
    for draft, day in zip(reversed(drafts), (3, 3, 4), strict=True):
        with time_machine.travel(f"2031-03-0{day} 12:00 +0000"):
            invoicing._number(draft, owner)
    credited = invoicing.draft_credit(invoice=drafts[2], person=owner)
    with time_machine.travel("2031-03-05 12:00 +0000"):
        invoicing._number(credited, owner)
    numbers = [row[0] for row in invoices_table(date(2031, 1, 1), date(2031, 12, 31)).rows]
    assert numbers == ["2031-0001", "2031-0002", "2031-0003", "C2031-0001"]
