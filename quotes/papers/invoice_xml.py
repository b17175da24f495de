"""How is an invoice said to a machine? EN 16931 in the cross-industry invoice syntax (UN/CEFACT CII D16B)."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from xml.etree import ElementTree as ET

from quotes.papers.invoice_paper import InvoicePaper, InvoicePaperLine, InvoiceTax, Party

RSM = "urn:un:unece:uncefact:data:standard:CrossIndustryInvoice:100"
RAM = "urn:un:unece:uncefact:data:standard:ReusableAggregateBusinessInformationEntity:100"
UDT = "urn:un:unece:uncefact:data:standard:UnqualifiedDataType:100"
GUIDELINE = "urn:cen.eu:en16931:2017"
OUTSIDE_SCOPE = "O"  # UNTDID 5305
ONE = "C62"  # UN/ECE Recommendation 20: one
DAY_FORMAT = "102"  # UNTDID 2379: CCYYMMDD

for prefix, address in (("rsm", RSM), ("ram", RAM), ("udt", UDT)):
    ET.register_namespace(prefix, address)


def invoice_xml(paper: InvoicePaper) -> bytes:
    """The invoice as XML. Amounts are those of the paper, to the digit."""
    root = ET.Element(f"{{{RSM}}}CrossIndustryInvoice")
    context = ET.SubElement(root, f"{{{RSM}}}ExchangedDocumentContext")
    _text(_node(context, "GuidelineSpecifiedDocumentContextParameter"), "ID", GUIDELINE)
    _document(root, paper)
    trade = ET.SubElement(root, f"{{{RSM}}}SupplyChainTradeTransaction")
    for at, line in enumerate(paper.lines, start=1):
        _line(trade, at, line)
    agreement = _node(trade, "ApplicableHeaderTradeAgreement")
    _party(_node(agreement, "SellerTradeParty"), paper.seller, taxed=_is_taxed(paper))
    _party(_node(agreement, "BuyerTradeParty"), paper.buyer, taxed=_is_taxed(paper))
    delivery = _node(trade, "ApplicableHeaderTradeDelivery")
    event = _node(delivery, "ActualDeliverySupplyChainEvent")
    _day(_node(event, "OccurrenceDateTime"), paper.dated)
    _settlement(trade, paper)
    return bytes(ET.tostring(root, encoding="UTF-8", xml_declaration=True))


def _document(root: ET.Element, paper: InvoicePaper) -> None:
    document = ET.SubElement(root, f"{{{RSM}}}ExchangedDocument")
    _text(document, "ID", paper.number)
    _text(document, "TypeCode", paper.type_code)
    _day(_node(document, "IssueDateTime"), paper.dated)
    _text(_node(document, "IncludedNote"), "Content", f"{paper.job_number} {paper.job_title}: {paper.title}")


def _line(trade: ET.Element, at: int, line: InvoicePaperLine) -> None:
    """A line is one piece at its net amount; what is held back is minus one, since a price is never below
    nothing (BR-27).
    """
    count = Decimal(-1) if line.net < 0 else Decimal(1)
    item = _node(trade, "IncludedSupplyChainTradeLineItem")
    _text(_node(item, "AssociatedDocumentLineDocument"), "LineID", str(at))
    _text(_node(item, "SpecifiedTradeProduct"), "Name", line.description)
    price = _node(_node(item, "SpecifiedLineTradeAgreement"), "NetPriceProductTradePrice")
    _amount(price, "ChargeAmount", abs(line.net))
    quantity = _text(_node(item, "SpecifiedLineTradeDelivery"), "BilledQuantity", str(count))
    quantity.set("unitCode", ONE)
    settlement = _node(item, "SpecifiedLineTradeSettlement")
    _tax(_node(settlement, "ApplicableTradeTax"), line.category, line.percent)
    summation = _node(settlement, "SpecifiedTradeSettlementLineMonetarySummation")
    _amount(summation, "LineTotalAmount", line.net)


def _is_taxed(paper: InvoicePaper) -> bool:
    """Outside the scope of tax neither party's tax number is given (BR-O-02)."""
    return any(tax.category != OUTSIDE_SCOPE for tax in paper.taxes)


def _party(party: ET.Element, who: Party, *, taxed: bool) -> None:
    _text(party, "Name", who.name)
    if who.registration_number:
        _text(_node(party, "SpecifiedLegalOrganization"), "ID", who.registration_number)
    address = _node(party, "PostalTradeAddress")
    lines = [line.strip() for line in who.address.splitlines() if line.strip()]
    for name, line in zip(("LineOne", "LineTwo", "LineThree"), lines, strict=False):
        _text(address, name, line)
    _text(address, "CountryID", who.country)
    if who.email:
        uri = _text(_node(party, "URIUniversalCommunication"), "URIID", who.email)
        uri.set("schemeID", "EM")
    if who.tax_number and taxed:
        number = _text(_node(party, "SpecifiedTaxRegistration"), "ID", who.tax_number)
        number.set("schemeID", "VA")


def _settlement(trade: ET.Element, paper: InvoicePaper) -> None:
    settlement = _node(trade, "ApplicableHeaderTradeSettlement")
    _text(settlement, "InvoiceCurrencyCode", paper.currency)
    for tax in paper.taxes:
        _tax_subtotal(settlement, tax)
    if paper.due:
        terms = _node(settlement, "SpecifiedTradePaymentTerms")
        _day(_node(terms, "DueDateDateTime"), paper.due)
    totals = _node(settlement, "SpecifiedTradeSettlementHeaderMonetarySummation")
    _amount(totals, "LineTotalAmount", paper.without_tax)
    _amount(totals, "TaxBasisTotalAmount", paper.without_tax)
    _amount(totals, "TaxTotalAmount", paper.tax).set("currencyID", paper.currency)
    _amount(totals, "GrandTotalAmount", paper.with_tax)
    _amount(totals, "DuePayableAmount", paper.with_tax)
    if paper.credits_number:
        credited = _node(settlement, "InvoiceReferencedDocument")
        _text(credited, "IssuerAssignedID", paper.credits_number)


def _tax_subtotal(settlement: ET.Element, tax: InvoiceTax) -> None:
    subtotal = _node(settlement, "ApplicableTradeTax")
    _amount(subtotal, "CalculatedAmount", tax.tax)
    _text(subtotal, "TypeCode", "VAT")
    if tax.reason:
        _text(subtotal, "ExemptionReason", tax.reason)
    _amount(subtotal, "BasisAmount", tax.taxable)
    _text(subtotal, "CategoryCode", tax.category)
    if tax.reason_code:
        _text(subtotal, "ExemptionReasonCode", tax.reason_code)
    _rate(subtotal, tax.category, tax.percent)


def _tax(node: ET.Element, category: str, percent: Decimal) -> None:
    _text(node, "TypeCode", "VAT")
    _text(node, "CategoryCode", category)
    _rate(node, category, percent)


def _rate(node: ET.Element, category: str, percent: Decimal) -> None:
    """Outside the scope of tax there is no rate at all (BR-O-5); elsewhere none is nought."""
    if category != OUTSIDE_SCOPE:
        _text(node, "RateApplicablePercent", f"{percent.normalize():f}")


def _node(parent: ET.Element, name: str) -> ET.Element:
    return ET.SubElement(parent, f"{{{RAM}}}{name}")


def _text(parent: ET.Element, name: str, words: str) -> ET.Element:
    node = _node(parent, name)
    node.text = words
    return node


def _amount(parent: ET.Element, name: str, amount: Decimal) -> ET.Element:
    return _text(parent, name, f"{amount:f}")


def _day(parent: ET.Element, day: date) -> None:
    node = ET.SubElement(parent, f"{{{UDT}}}DateTimeString")
    node.set("format", DAY_FORMAT)
    node.text = f"{day:%Y%m%d}"
