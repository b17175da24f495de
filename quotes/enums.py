"""Which words may a quote's state, level of detail or basis take, and which step may follow which?"""

from django.db import models

from quotes.pricing import Kind, OverheadBasis, ProfitBasis


class QuoteState(models.TextChoices):
    DRAFT = "draft", "draft"
    ISSUED = "issued", "issued"
    ACCEPTED = "accepted", "accepted"
    DECLINED = "declined", "declined"
    SUPERSEDED = "superseded", "superseded"
    LAPSED = "lapsed", "lapsed"
    WITHDRAWN = "withdrawn", "withdrawn"


# What is accepted goes no further by a step: a contract is cancelled whole (`services.cancelling`).
QUOTE_STEPS: dict[str, frozenset[str]] = {
    QuoteState.DRAFT: frozenset({QuoteState.ISSUED, QuoteState.WITHDRAWN}),
    QuoteState.ISSUED: frozenset(
        {
            QuoteState.ACCEPTED,
            QuoteState.DECLINED,
            QuoteState.SUPERSEDED,
            QuoteState.LAPSED,
            QuoteState.WITHDRAWN,
        }
    ),
    QuoteState.LAPSED: frozenset({QuoteState.ISSUED, QuoteState.SUPERSEDED}),
    QuoteState.DECLINED: frozenset({QuoteState.SUPERSEDED}),
    QuoteState.ACCEPTED: frozenset(),
    QuoteState.SUPERSEDED: frozenset(),
    QuoteState.WITHDRAWN: frozenset(),
}


class LineKind(models.TextChoices):
    LABOUR = Kind.LABOUR.value, "labour"
    MATERIAL = Kind.MATERIAL.value, "material"
    SUBCONTRACT = Kind.SUBCONTRACT.value, "subcontract"
    HIRE = Kind.HIRE.value, "hire"
    TRAVEL = Kind.TRAVEL.value, "travel"
    OTHER = Kind.OTHER.value, "other"
    PRIME_COST_SUM = Kind.PRIME_COST_SUM.value, "prime cost sum"
    PROVISIONAL_SUM = Kind.PROVISIONAL_SUM.value, "provisional sum"


COST_KINDS = (
    LineKind.MATERIAL,
    LineKind.SUBCONTRACT,
    LineKind.HIRE,
    LineKind.TRAVEL,
    LineKind.OTHER,
)
WAYS = "ways"
"""The source of a line that says what another way of making an item costs over the way taken."""

SUM_KINDS = (LineKind.PRIME_COST_SUM, LineKind.PROVISIONAL_SUM)


class Detail(models.TextChoices):
    ITEMS = "items", "every line"
    PHASES = "phases", "a price for each phase"
    ONE_SUM = "one_sum", "one sum with a description"


class OverheadOn(models.TextChoices):
    NONE = OverheadBasis.NONE.value, "nothing"
    LABOUR_HOURS = OverheadBasis.LABOUR_HOURS.value, "each hour of labour"
    PRIME_COST = OverheadBasis.PRIME_COST.value, "prime cost, in per cent"


class ProfitOn(models.TextChoices):
    MARKUP = ProfitBasis.MARKUP.value, "markup"
    MARGIN = ProfitBasis.MARGIN.value, "margin"


class DocumentKind(models.TextChoices):
    QUOTE = "quote", "quotation"
    CHANGE = "change", "change order"
    EVIDENCE = "evidence", "evidence of acceptance"
    INVOICE = "invoice", "invoice"
    CREDIT_NOTE = "credit_note", "credit note"


class Answer(models.TextChoices):
    ACCEPTED = "accepted", "accepted"
    DECLINED = "declined", "declined"


class LinkStep(models.TextChoices):
    """What happened to a client's link, for the trail of evidence."""

    MADE = "made", "link made"
    OPENED = "opened", "page opened"
    READ_PDF = "read_pdf", "PDF opened"
    ASKED = "asked", "question asked"
    ANSWERED = "answered", "question answered"
    ACCEPTED = "accepted", "accepted"
    DECLINED = "declined", "declined"
    WITHDRAWN = "withdrawn", "link withdrawn"
    REFUSED = "refused", "answer refused"


class InvoiceKind(models.TextChoices):
    STAGE = "stage", "stage payment"
    PROGRESS = "progress", "by percent done"
    FINAL = "final", "final account"
    RETENTION = "retention", "release of retention"
    CREDIT_NOTE = "credit_note", "credit note"


class InvoiceState(models.TextChoices):
    DRAFT = "draft", "draft"
    ISSUED = "issued", "issued"
    PART_PAID = "part_paid", "part paid"
    PAID = "paid", "paid"
    CREDITED = "credited", "credited"
