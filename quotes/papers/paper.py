"""What stands on a quote or a change order. There is no cost and no margin in it, so none can be shown."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from quotes.enums import Detail

OMITTED = "omitted"


@dataclass(frozen=True)
class Letterhead:
    """The workshop as it presents itself."""

    name: str
    address: str
    email: str
    phone: str
    website: str
    registration_number: str
    tax_number: str
    bank_details: str


@dataclass(frozen=True)
class PaperLine:
    """A line as the client reads it; `note` says what a sum or an omission is."""

    key: str
    description: str
    quantity: Decimal | None
    unit: str
    price: Decimal
    note: str
    tax: str
    group: str

    @property
    def is_left_out(self) -> bool:
        """Whether a change order takes it out of what was agreed; the note says how much of it."""
        return self.note.endswith(OMITTED)


@dataclass(frozen=True)
class PaperPhase:
    """A phase with its lines and its price."""

    title: str
    price: Decimal
    lines: tuple[PaperLine, ...]


@dataclass(frozen=True)
class PaperTax:
    """The tax of one rate, or the reason why there is none."""

    label: str
    taxable: Decimal
    tax: Decimal
    reason: str


@dataclass(frozen=True)
class PaperStage:
    """A payment stage in money."""

    title: str
    percent: Decimal
    amount: Decimal


@dataclass(frozen=True)
class PaperChange:
    """What a change order does besides the price."""

    number: int
    reason: str
    instruction: str
    contract_sum_before: Decimal
    hours: Decimal
    days: Decimal
    mass_kg: Decimal
    ends_before: date | None = None
    ends_after: date | None = None
    photo: str = ""  # SHA-256 of the picture, where the client is to see it


@dataclass(frozen=True)
class Paper:
    """A quote or change order as shown: letterhead to terms. Kept whole when it is issued."""

    number: str
    revision: int
    title: str
    introduction: str
    detail: str
    dated: date
    valid_until: date | None
    currency: str
    locale: str
    paper_size: str
    letterhead: Letterhead
    client_name: str
    client_address: str
    job_number: str
    job_title: str
    site: str
    phases: tuple[PaperPhase, ...]
    options: tuple[PaperLine, ...]
    lines_total: Decimal
    discount: Decimal
    without_tax: Decimal
    taxes: tuple[PaperTax, ...]
    tax: Decimal
    with_tax: Decimal
    stages: tuple[PaperStage, ...]
    sums_note: str
    exclusions: tuple[str, ...]
    cautions: tuple[str, ...]
    terms: str
    right_to_cancel: str
    change: PaperChange | None
    mass_kg: Decimal = Decimal(0)  # of what is fitted, where a limit stands on the job

    @property
    def kind(self) -> str:
        """What the paper calls itself."""
        return "Change order" if self.change else "Quotation"

    @property
    def name(self) -> str:
        """Number and revision, as they are spoken of."""
        return f"{self.number} revision {self.revision}"

    @property
    def left_out(self) -> tuple[PaperLine, ...]:
        """What is taken out of the contract, where the lines themselves are not shown: it is named all the
        same, or a client could agree to lose something unawares.
        """
        if self.detail == Detail.ITEMS:
            return ()
        return tuple(line for phase in self.phases for line in phase.lines if line.is_left_out)

    @property
    def extras(self) -> tuple[PaperLine, ...]:
        """The options that stand alone, to be had or not."""
        return tuple(line for line in self.options if len(self._group(line.group)) < 2)

    @property
    def alternatives(self) -> tuple[tuple[str, tuple[PaperLine, ...]], ...]:
        """The options of which at most one can be had, under what they are alternatives of."""
        names = dict.fromkeys(line.group for line in self.options)
        return tuple((name, self._group(name)) for name in names if len(self._group(name)) > 1)

    def _group(self, name: str) -> tuple[PaperLine, ...]:
        return tuple(line for line in self.options if name and line.group == name)

    @property
    def has_several_rates(self) -> bool:
        """Whether each line has to say which rate it is under."""
        return len(self.taxes) > 1

    @property
    def has_counted_options(self) -> bool:
        """Whether any extra is counted or measured, so that it needs the columns for it."""
        return any(line.quantity is not None for line in self.options)

    @property
    def contract_sum_after(self) -> Decimal | None:
        """The contract sum without tax once a change is agreed."""
        return self.change.contract_sum_before + self.without_tax if self.change else None
