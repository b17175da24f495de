"""A draft is drawn up, changed, and never changed behind somebody's back."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from jobs.models import HistoryEntry, Workshop
from jobs.refusals import RefusedError
from jobs.versions import StaleError
from quotes.enums import OverheadOn
from quotes.models import QuoteLine
from quotes.queries.figures import figures_of
from quotes.services import drafting
from tests import make

TODAY = date(2026, 3, 2)
LABOUR = {
    "kind": "labour",
    "description": "Line the walls",
    "quantity": Decimal(12),
    "unit": "m²",
    "hours_each": Decimal("0.5"),
    "grade": "concealed",
    "grade_factor": Decimal("0.7"),
    "unit_cost": Decimal(20),
    "tax_name": "Standard",
}


@pytest.fixture
def quote(workshop):
    return make.quote()


def test_a_quote_starts_with_the_workshops_own_rules(owner):
    Workshop.objects.update(
        overhead_an_hour=Decimal("7.50"),
        labour_markup_percent=Decimal(30),
        payment_stages=[{"title": "All", "percent": "100"}],
    )
    quote = drafting.start_quote(job=make.job(number="26-001"), person=owner)
    assert (quote.number, quote.revision, quote.overhead_on) == ("Q26-001", 1, OverheadOn.LABOUR_HOURS)
    assert quote.profit["labour"] == {"basis": "markup", "percent": "30"}
    assert quote.payment_stages == [{"title": "All", "percent": "100"}]


def test_a_second_quote_of_a_job_has_a_number_of_its_own(owner):
    job = make.job(number="26-001")
    numbers = [drafting.start_quote(job=job, person=owner).number for _ in range(3)]
    assert numbers == ["Q26-001", "Q26-001-2", "Q26-001-3"]


def test_hours_of_a_line_follow_from_its_quantity_and_finish(quote, owner):
    line = drafting.add_line(quote=quote, phase=quote.job.phases.get(), person=owner, fields=LABOUR)
    assert line.hours == Decimal("4.20")
    priced = figures_of(quote, on=TODAY).priced
    assert (priced.hours, priced.totals.without_tax) == (Decimal("4.20"), Decimal("84.00"))


def test_a_new_line_stands_last_in_its_phase(quote, owner):
    phases = [quote.job.phases.get(), make.phase(job=quote.job)]
    places = [
        drafting.add_line(quote=quote, phase=phases[at], person=owner, fields=LABOUR).position
        for at in (0, 0, 1, 0)
    ]
    assert places == [1, 2, 1, 3]


def test_a_phase_of_another_job_is_refused(quote, owner):
    with pytest.raises(RefusedError, match="another job"):
        drafting.add_line(quote=quote, phase=make.phase(), person=owner, fields=LABOUR)


def test_a_line_saved_meanwhile_is_not_overwritten(quote, owner):
    line = make.quote_line(quote=quote)
    fields = {"kind": "material", "description": "Larch"}
    drafting.change_line(line=line, version=1, person=owner, fields=fields)
    with pytest.raises(StaleError):
        drafting.change_line(line=line, version=1, person=owner, fields={**fields, "description": "Oak"})
    assert QuoteLine.objects.get().description == "Larch"


def test_the_same_save_twice_is_one_save(quote, owner):
    line = make.quote_line(quote=quote)
    for _ in range(2):
        drafting.change_line(
            line=line, version=1, person=owner, fields={"kind": "hire", "description": "Tower"}
        )
    assert QuoteLine.objects.get().version == 2


def test_every_change_of_a_line_moves_the_quotes_version(quote, owner):
    phase = quote.job.phases.get()
    line = drafting.add_line(quote=quote, phase=phase, person=owner, fields=LABOUR)
    drafting.change_line(line=line, version=1, person=owner, fields={**LABOUR, "quantity": Decimal(3)})
    drafting.remove_line(line=line, person=owner)
    quote.refresh_from_db()
    assert quote.version == 4


def test_a_line_taken_off_is_written_in_the_history(quote, owner):
    drafting.remove_line(line=make.quote_line(quote=quote, description="Old board"), person=owner)
    assert HistoryEntry.objects.filter(action="took a line off", changes__line=["Old board", None]).exists()


def test_rules_are_changed_by_version(quote, owner):
    drafting.set_terms(quote=quote, version=1, person=owner, fields={"contingency_percent": Decimal(5)})
    with pytest.raises(StaleError):
        drafting.set_terms(quote=quote, version=1, person=owner, fields={"contingency_percent": Decimal(9)})


def test_an_issued_quote_does_not_change(owner):
    quote = make.issued_quote()
    line = quote.lines.get()
    for step in (
        lambda: drafting.add_line(quote=quote, phase=line.phase, person=owner, fields=LABOUR),
        lambda: drafting.change_line(line=line, version=1, person=owner, fields=LABOUR),
        lambda: drafting.remove_line(line=line, person=owner),
        lambda: drafting.set_terms(quote=quote, version=1, person=owner, fields={"title": "New"}),
    ):
        with pytest.raises(RefusedError, match="issued"):
            step()


def test_a_revision_has_all_lines_and_asked_for_twice_is_one(owner):
    quote = make.issued_quote(100, 50)
    second = drafting.revise(quote=quote, person=owner)
    assert (second.revision, second.state, second.lines.count()) == (2, "draft", 2)
    assert drafting.revise(quote=quote, person=owner) == second
    assert quote.lines.count() == 2


def test_an_accepted_quote_is_changed_by_change_orders_alone(owner):
    with pytest.raises(RefusedError, match="change order"):
        drafting.revise(quote=make.answer().quote, person=owner)
