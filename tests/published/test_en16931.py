"""Totals of published example invoices of EN 16931 (rules BR-CO-10 to BR-CO-17).

The figures in data/en16931 are those of five example invoices; each file names its source: the validation
artefacts of CEN/TC 434 (release 1.3.16) and the example set of OpenPeppol BIS Billing 3.0. Where a publisher
printed a line that doesn't follow from its own price, the file says so and the printed line amount is used.
"""

import json
from decimal import Decimal
from pathlib import Path

import pytest

from quotes.pricing import Allowance, TaxCategory, TaxRate, add_up

FOLDER = Path(__file__).parent / "data" / "en16931"
INVOICES = sorted(FOLDER.glob("*.json"))
REASONS = {"E": "Exempt"}


def read(path):
    return json.loads(path.read_text(), parse_float=Decimal)


def rate(figures):
    category = figures["vat_category"]
    return TaxRate(TaxCategory(category), Decimal(figures["vat_rate"]), reason=REASONS.get(category, ""))


def document_level(invoice, kind):
    entries = [entry for entry in invoice["document_allowances_charges"] if entry["kind"] == kind]
    return [Allowance(Decimal(entry["amount"]), rate(entry)) for entry in entries]


def totals_of(invoice):
    return add_up(
        [(Decimal(line["net_amount"]), rate(line)) for line in invoice["lines"]],
        currency=invoice["currency"],
        allowances=document_level(invoice, "allowance"),
        charges=document_level(invoice, "charge"),
        paid=Decimal(invoice["totals"].get("prepaid", "0")),
    )


def test_all_five_invoices_are_here():
    assert len(INVOICES) == 5


@pytest.mark.parametrize("path", INVOICES, ids=lambda path: path.stem)
def test_totals_are_those_printed(path):
    invoice = read(path)
    printed, totals = invoice["totals"], totals_of(invoice)
    assert {
        "sum_of_line_net": totals.lines,
        "allowance_total": totals.allowances,
        "charge_total": totals.charges,
        "tax_exclusive": totals.without_tax,
        "tax_inclusive": totals.with_tax,
        "vat_total": totals.tax,
        "payable": totals.due,
    } == {
        "allowance_total": 0,
        "charge_total": 0,
        **{key: Decimal(figure) for key, figure in printed.items() if key != "prepaid"},
    }


@pytest.mark.parametrize("path", INVOICES, ids=lambda path: path.stem)
def test_tax_of_each_category_is_that_printed(path):
    invoice = read(path)
    printed = {
        (each["category"], Decimal(each["rate"])): (Decimal(each["taxable"]), Decimal(each["vat"]))
        for each in invoice["vat_breakdown"]
    }
    assert printed == {
        (each.rate.category.value, each.rate.percent): (each.taxable, each.tax)
        for each in totals_of(invoice).subtotals
    }
