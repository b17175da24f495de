"""How is a paper put together from a quote and its figures?"""

from __future__ import annotations

from collections import defaultdict
from datetime import date, timedelta
from decimal import Decimal

from jobs.models import BudgetEntry, Workshop
from jobs.money import ZERO, format_number, round_half_up
from quotes.enums import SUM_KINDS, LineKind
from quotes.models import ChangeNote, Quote, QuoteLine
from quotes.papers.paper import (
    OMITTED,
    Letterhead,
    Paper,
    PaperChange,
    PaperLine,
    PaperPhase,
    PaperStage,
    PaperTax,
)
from quotes.papers.words import RIGHT_TO_CANCEL, SUMS_NOTE, cautions_for
from quotes.pricing import PricedQuote, Stage, TaxCategory, TaxRate, days_of, stage_amounts
from quotes.queries.dates import moved_by
from quotes.queries.figures import QuoteFigures


def compose(figures: QuoteFigures, *, workshop: Workshop, dated: date) -> Paper:
    """The paper of a quote as it would be issued on a day."""
    quote, priced = figures.quote, figures.priced
    job, totals = quote.job, figures.priced.totals
    return Paper(
        number=quote.number,
        revision=quote.revision,
        title=quote.title,
        introduction=quote.introduction,
        detail=quote.detail,
        dated=dated,
        valid_until=dated + timedelta(days=quote.days_valid),
        currency=quote.currency,
        locale=workshop.locale,
        paper_size=workshop.paper,
        letterhead=letterhead_of(workshop),
        client_name=job.client.name,
        client_address=job.client.address,
        job_number=job.number,
        job_title=job.title,
        site=job.site,
        phases=_phases(figures, workshop.locale),
        options=_options(figures, workshop.locale),
        lines_total=totals.lines,
        discount=totals.allowances,
        without_tax=totals.without_tax,
        taxes=taxes_of(priced, workshop.locale),
        tax=totals.tax,
        with_tax=totals.with_tax,
        stages=stages_of(quote, priced),
        sums_note=SUMS_NOTE if any(row.kind in SUM_KINDS for row in figures.rows) else "",
        exclusions=tuple(words.strip() for words in quote.exclusions.splitlines() if words.strip()),
        cautions=cautions_for({caution for row in figures.rows for caution in row.phase.cautions}),
        terms=quote.terms,
        right_to_cancel=RIGHT_TO_CANCEL if not job.client.is_company and workshop.country == "GB" else "",
        change=_change(figures, workshop) if quote.is_change_order else None,
        mass_kg=_whole_kg(priced.mass_kg) if job.gross_mass_limit_kg and not quote.is_change_order else ZERO,
    )


def _whole_kg(mass_kg: Decimal) -> Decimal:
    """“About” so much: a guide to a client has no grams."""
    return round_half_up(mass_kg, 0)


def letterhead_of(workshop: Workshop) -> Letterhead:
    """The workshop as it heads a paper."""
    return Letterhead(
        name=workshop.name,
        address=workshop.address,
        email=workshop.email,
        phone=workshop.phone,
        website=workshop.website,
        registration_number=workshop.registration_number,
        tax_number=workshop.tax_number,
        bank_details=workshop.bank_details,
    )


def tax_label(rate: TaxRate, locale: str) -> str:
    """A rate in words: 20 %, zero rate, reverse charge."""
    words = {
        TaxCategory.ZERO: "zero rate",
        TaxCategory.EXEMPT: "exempt",
        TaxCategory.REVERSE_CHARGE: "reverse charge",
        TaxCategory.OUTSIDE_SCOPE: "outside the scope of tax",
        TaxCategory.EXPORT: "export",
        TaxCategory.INTRA_COMMUNITY: "intra-community supply",
    }
    if rate.category in words:
        return words[rate.category]
    places = max(0, -int(rate.percent.normalize().as_tuple().exponent))
    return f"{format_number(rate.percent, locale, places)} %"


def taxes_of(priced: PricedQuote, locale: str) -> tuple[PaperTax, ...]:
    """The tax of each rate."""
    return tuple(
        PaperTax(tax_label(each.rate, locale), each.taxable, each.tax, each.rate.reason)
        for each in priced.totals.subtotals
    )


def stages_of(quote: Quote, priced: PricedQuote) -> tuple[PaperStage, ...]:
    """The payment stages in money, tax included."""
    stages = [Stage(each["title"], Decimal(str(each["percent"]))) for each in quote.payment_stages]
    return tuple(
        PaperStage(each.title, each.percent, each.with_tax)
        for each in stage_amounts(priced.totals, stages, quote.currency)
    )


def _phases(figures: QuoteFigures, locale: str) -> tuple[PaperPhase, ...]:
    rows: dict[str, list[PaperLine]] = defaultdict(list)
    for row in figures.rows:
        if not row.optional:
            rows[row.phase.title].append(_line(row, figures, locale))
    return tuple(
        PaperPhase(title, sum((line.price for line in lines), ZERO), tuple(lines))
        for title, lines in rows.items()
    )


def _options(figures: QuoteFigures, locale: str) -> tuple[PaperLine, ...]:
    return tuple(_line(row, figures, locale) for row in figures.rows if row.optional)


def _line(row: QuoteLine, figures: QuoteFigures, locale: str) -> PaperLine:
    priced = figures.of_row(row)
    bare = row.kind in SUM_KINDS or not row.unit
    return PaperLine(
        key=str(row.pk),
        description=row.description,
        quantity=None if bare else row.quantity,
        unit=row.unit,
        price=priced.price,
        note=_note(row),
        tax=tax_label(priced.line.tax, locale),
        group=row.group,
    )


def _note(row: QuoteLine) -> str:
    if row.omits_id:
        whole = row.omitted_percent == 100
        return OMITTED if whole else f"{row.omitted_percent.normalize():f} % {OMITTED}"
    return LineKind(row.kind).label if row.kind in SUM_KINDS else ""


def _change(figures: QuoteFigures, workshop: Workshop) -> PaperChange:
    change = figures.quote.change
    assert change is not None
    before = sum(
        BudgetEntry.objects.filter(phase__job=figures.quote.job_id).values_list("price", flat=True), ZERO
    )
    said = ChangeNote.objects.filter(change=change).select_related("photo").first()
    words = f"Given by {said.given_by}: {said.words}" if said and said.is_verbal else ""
    plan = moved_by(figures)
    return PaperChange(
        number=change.number,
        reason=change.reason,
        instruction=words,
        contract_sum_before=before,
        hours=figures.priced.hours,
        days=round_half_up(days_of(figures.priced.hours, workshop.hours_a_day), 1),
        mass_kg=figures.priced.mass_kg,
        ends_before=plan.ends_before,
        ends_after=plan.ends_after,
        photo=said.photo.sha256 if said and said.photo and said.shows_photo else "",
    )
