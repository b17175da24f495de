"""What proves an answer? A sheet with who, when, from where and to which document, drawn once."""

from __future__ import annotations

import hashlib
from decimal import Decimal

from django.db import transaction
from django.template.loader import render_to_string

from jobs.paper_pdf import draw_pdf, logo_address
from jobs.workshop import current_workshop
from quotes.enums import DocumentKind
from quotes.models import Decision, Evidence, IssuedDocument
from quotes.papers.compose import letterhead_of
from quotes.queries.sheet import paper_of


def evidence_of(decision: Decision) -> IssuedDocument:
    """The evidence sheet of an answer: drawn the first time it is asked for, then kept as it is."""
    kept = Evidence.objects.filter(decision=decision).select_related("document").first()
    if kept:
        return kept.document
    return _keep(decision, draw_pdf(_html(decision)))


def _html(decision: Decision) -> str:
    quote, workshop = decision.quote, current_workshop()
    context = {
        "decision": decision,
        "quote": quote,
        "paper": paper_of(quote),
        "letter": letterhead_of(workshop),
        "events": quote.events.all(),
        **{name: Decimal(decision.totals[name]) for name in ("without_tax", "tax", "with_tax")},
        "logo": logo_address(),
    }
    return render_to_string("papers/evidence.html", context)


@transaction.atomic
def _keep(decision: Decision, pdf: bytes) -> IssuedDocument:
    quote = Decision.objects.select_for_update().select_related("quote").get(pk=decision.pk).quote
    earlier = Evidence.objects.filter(decision=decision).select_related("document").first()
    if earlier:
        return earlier.document
    document = IssuedDocument.objects.create(
        job_id=quote.job_id,
        kind=DocumentKind.EVIDENCE,
        name=f"{quote.number} revision {quote.revision} evidence.pdf",
        content=pdf,
        sha256=hashlib.sha256(pdf).hexdigest(),
    )
    Evidence.objects.create(decision=decision, document=document)
    return document
