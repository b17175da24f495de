"""The quote desk in the browser's eyes: figures, forms that keep what was typed, htmx and plain alike."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.urls import reverse

from jobs.models import LabourRate, Workshop
from quotes.models import Quote, QuoteLine
from tests import make
from tests.checks import queries_of, says

HTMX = {"HX-Request": "true"}


@pytest.fixture
def quote(workshop):
    LabourRate.objects.create(name="Joiner", from_date="2020-01-01", cost_rate=21, charge_rate=38)
    return make.quote_line(100).quote


def labour(**fields):
    trade = LabourRate.objects.get()
    plain = {
        "description": "Line the walls",
        "quantity": "12",
        "unit": "m²",
        "hours_each": "0.5",
        "rate": f"trade:{trade.pk}",
        "grade": "painted",
        "grade_factor": "",
        "discount_percent": "0",
        "mass_kg": "0",
        "tax_name": "Standard",
    }
    return plain | fields


def add_address(quote, shape="labour"):
    return reverse("quotes:add_line", args=[quote.pk, quote.job.phases.get().pk, shape])


def test_the_desk_shows_cost_price_and_margin(as_owner, quote):
    Quote.objects.update(profit={"material": {"basis": "margin", "percent": "20"}})
    page = as_owner.get(reverse("quotes:desk", args=[quote.pk]))
    assert says(page, "£100.00", "£125.00", "£150.00", "margin 20.0", "From cost to price")


def test_another_margin_is_worked_out_without_saving(as_owner, quote):
    page = as_owner.get(reverse("quotes:desk", args=[quote.pk]), {"margin": "50"})
    assert says(page, "£200.00", "£240.00")
    assert Quote.objects.get().profit == {}


@pytest.mark.parametrize("margin", ["", "much", "100", "nan", "-1000"])
def test_a_margin_that_makes_no_sense_is_passed_over(as_owner, quote, margin):
    page = as_owner.get(reverse("quotes:desk", args=[quote.pk]), {"margin": margin})
    assert page.status_code == 200


def test_page_and_part_show_the_same_sheet(as_owner, quote):
    address = reverse("quotes:desk", args=[quote.pk])
    whole, part = as_owner.get(address), as_owner.get(address, headers=HTMX)
    assert "<html" in whole.content.decode()
    assert "<html" not in part.content.decode()
    start = part.content.decode().index("<table")
    assert part.content.decode()[start : start + 400] in whole.content.decode()


def test_labour_is_added_at_its_trades_rate(as_owner, quote):
    answer = as_owner.post(add_address(quote), labour())
    assert answer.status_code == 302
    line = QuoteLine.objects.get(kind="labour")
    assert (line.hours, line.unit_cost, line.grade_factor) == (Decimal("5.10"), 21, Decimal("0.85"))


def test_labour_is_priced_at_its_charge_rate_where_the_workshop_does_so(as_owner, quote):
    Workshop.objects.update(labour_at_charge_rate=True)
    assert as_owner.get(add_address(quote)).context["form"]["at_charge_rate"].value() is True
    as_owner.post(add_address(quote), labour(at_charge_rate="on"))
    line = quote.lines.get(kind="labour")
    assert (line.unit_cost, line.unit_price) == (21, 38)
    kept = as_owner.get(reverse("quotes:line", args=[line.pk])).context["form"]
    assert (kept["at_charge_rate"].value(), kept["unit_price"].value()) == (True, None)


@pytest.mark.parametrize(("typed", "price"), [({}, None), ({"at_charge_rate": "on", "unit_price": "50"}, 50)])
def test_another_charge_or_none_stands_as_typed(as_owner, quote, typed, price):
    as_owner.post(add_address(quote), labour(**typed))
    assert quote.lines.get(kind="labour").unit_price == price


def test_with_htmx_the_sheet_comes_back_with_the_line_in_it(as_owner, quote):
    answer = as_owner.post(add_address(quote), labour(), headers=HTMX)
    assert answer.status_code == 200
    assert says(answer, "Line the walls", "£107.10")


@pytest.mark.parametrize(
    ("field", "typed"),
    [("quantity", "0"), ("quantity", "-3"), ("quantity", "lots"), ("hours_each", "-1"), ("description", ""),
     ("quantity", "1e30"), ("discount_percent", "120"), ("rate", "trade:999")],
)  # fmt: skip
def test_a_line_that_makes_no_sense_keeps_what_was_typed(as_owner, quote, field, typed):
    answer = as_owner.post(add_address(quote), labour(**{field: typed, "unit": "typed-unit"}))
    assert answer.status_code == 200
    assert says(answer, "typed-unit", "amiss")
    assert not QuoteLine.objects.filter(kind="labour").exists()


def test_a_cost_and_a_sum_are_added(as_owner, quote):
    shared = {"tax_name": "Standard", "discount_percent": "0", "mass_kg": "0"}
    cost = {"kind": "hire", "description": "Tower", "quantity": "2", "unit": "day", "unit_cost": "35"}
    as_owner.post(add_address(quote, "cost"), cost | shared)
    as_owner.post(
        add_address(quote, "sum"),
        {"kind": "provisional_sum", "description": "Rot", "unit_cost": "400", "tax_name": "Standard"},
    )
    kinds = QuoteLine.objects.order_by("pk").values_list("kind", "unit_cost")
    assert list(kinds)[1:] == [("hire", 35), ("provisional_sum", 400)]


def test_a_shape_that_is_none_is_not_found(as_owner, quote):
    assert as_owner.get(add_address(quote).replace("labour", "magic")).status_code == 404


def test_a_line_changed_by_two_shows_both_versions(as_owner, quote):
    line = quote.lines.get()
    address = reverse("quotes:line", args=[line.pk])
    form = {"kind": "material", "description": "Mine", "quantity": "1", "unit_cost": "10",
            "discount_percent": "0", "mass_kg": "0", "tax_name": "Standard", "version": "1"}  # fmt: skip
    as_owner.post(address, form | {"description": "Theirs"})
    answer = as_owner.post(address, form)
    assert says(answer, "Saved now", "Theirs", "Mine")
    assert QuoteLine.objects.get().description == "Theirs"
    as_owner.post(address, form | {"version": "2"})
    assert QuoteLine.objects.get().description == "Mine"


def test_a_line_is_taken_off(as_owner, quote):
    as_owner.post(reverse("quotes:remove_line", args=[quote.lines.get().pk]))
    assert not QuoteLine.objects.exists()


def test_an_issued_line_is_not_taken_off(as_owner, workshop):
    quote = make.issued_quote()
    as_owner.post(reverse("quotes:remove_line", args=[quote.lines.get().pk]))
    assert QuoteLine.objects.count() == 1


def rules_form(**fields):
    kinds = (
        "labour",
        "material",
        "subcontract",
        "hire",
        "travel",
        "other",
        "prime_cost_sum",
        "provisional_sum",
    )
    plain = {f"{kind}_basis": "markup" for kind in kinds} | {f"{kind}_percent": "10" for kind in kinds}
    plain |= {"overhead_on": "labour_hours", "overhead_rate": "7.50", "contingency_percent": "5",
              "discount_percent": "0", "discount_amount": "0", "version": "1"}  # fmt: skip
    return plain | fields


@pytest.mark.parametrize(("made", "stands"), [(make.quote_line, True), (make.issued_quote, False)])
def test_a_phase_without_lines_is_there_to_be_filled_and_gone_once_issued(as_owner, workshop, made, stands):
    made()
    quote = Quote.objects.get()
    empty = make.phase(job=quote.job, title="Plinths and infills")
    assert says(as_owner.get(reverse("quotes:desk", args=[quote.pk])), empty.title) is stands


def test_price_rules_are_saved(as_owner, quote):
    answer = as_owner.post(reverse("quotes:rules", args=[quote.pk]), rules_form(labour_basis="margin"))
    assert answer.status_code == 302
    saved = Quote.objects.get()
    assert saved.profit["labour"] == {"basis": "margin", "percent": "10"}
    assert saved.overhead_rate == Decimal("7.50")


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"labour_basis": "margin", "labour_percent": "100"}, "less than 100"),
        ({"labour_percent": "-100"}, "more than -100"),
        ({"discount_percent": "5", "discount_amount": "5"}, "not both"),
        ({"discount_percent": "101"}, "amiss"),
        ({"contingency_percent": "-1"}, "amiss"),
    ],
)
def test_price_rules_that_make_no_sense_are_refused(as_owner, quote, fields, words):
    answer = as_owner.post(reverse("quotes:rules", args=[quote.pk]), rules_form(**fields))
    assert says(answer, words)
    assert Quote.objects.get().version == 1


def test_words_and_stages_are_saved(as_owner, quote):
    form = {"title": "Hut", "introduction": "", "detail": "phases", "days_valid": "14", "exclusions": "Paint",
            "terms": "", "stages": "30 Deposit\n70,0 % At handover", "version": "1"}  # fmt: skip
    assert as_owner.post(reverse("quotes:words", args=[quote.pk]), form).status_code == 302
    stages = [{"percent": "30", "title": "Deposit"}, {"percent": "70", "title": "At handover"}]
    assert Quote.objects.get().payment_stages == stages


@pytest.mark.parametrize("stages", ["30 Deposit", "Deposit 30", "0 Nothing\n100 All", "100"])
def test_stages_that_do_not_make_the_whole_are_refused(as_owner, quote, stages):
    form = {"title": "Hut", "detail": "items", "days_valid": "14", "stages": stages, "version": "1"}
    answer = as_owner.post(reverse("quotes:words", args=[quote.pk]), form)
    assert says(answer, "amiss", stages.splitlines()[0])


@pytest.mark.parametrize("count", [1, 3])
def test_queries_do_not_grow_with_lines(as_owner, workshop, count):
    quote = make.quote()
    for _ in range(count):
        make.quote_line(quote=quote, phase=make.phase(job=quote.job))
    assert queries_of(as_owner, reverse("quotes:desk", args=[quote.pk])) == 7
