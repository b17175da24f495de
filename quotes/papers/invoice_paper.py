"""What stands on an invoice or a credit note, and how is it kept?"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from quotes.papers.paper import Letterhead


@dataclass(frozen=True)
class InvoicePaperLine:
    """A line as it is asked for."""

    description: str
    quantity: Decimal
    net: Decimal
    category: str
    percent: Decimal
    tax_label: str


@dataclass(frozen=True)
class InvoiceTax:
    """The tax of one rate."""

    label: str
    category: str
    percent: Decimal
    reason_code: str
    reason: str
    taxable: Decimal
    tax: Decimal


@dataclass(frozen=True)
class Party:
    """Who asks or who pays, as EN 16931 wants them named."""

    name: str
    address: str
    country: str
    tax_number: str
    registration_number: str
    email: str


@dataclass(frozen=True)
class InvoicePaper:
    """An invoice as issued, for the PDF and for the XML in it alike."""

    number: str
    type_code: str
    kind: str
    title: str
    dated: date
    due: date | None
    currency: str
    locale: str
    paper_size: str
    letterhead: Letterhead
    seller: Party
    buyer: Party
    job_number: str
    job_title: str
    credits_number: str
    credits_dated: date | None
    lines: tuple[InvoicePaperLine, ...]
    taxes: tuple[InvoiceTax, ...]
    without_tax: Decimal
    tax: Decimal
    with_tax: Decimal
    contract_sum: Decimal
    invoiced_before: Decimal
    bank_details: str

    @property
    def is_credit_note(self) -> bool:
        return self.type_code == "381"

    @property
    def name(self) -> str:
        """What the paper is spoken of as."""
        return f"{self.kind} {self.number}"
