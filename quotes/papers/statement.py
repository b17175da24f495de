"""What does a client's account come to, on paper? Drawn when asked for: it is of the day, and is not kept."""

from __future__ import annotations

from collections.abc import Sequence

from django.template.loader import render_to_string
from django.utils import timezone

from jobs.models import Client
from jobs.money import ZERO
from jobs.paper_pdf import draw_pdf, logo_address
from jobs.workshop import current_workshop
from quotes.queries.invoices import Entry


def statement_html(client: Client, entries: Sequence[Entry]) -> str:
    """The account as the HTML that the PDF is drawn from."""
    context = {
        "client": client,
        "entries": entries,
        "balance": entries[-1].balance if entries else ZERO,
        "letter": current_workshop(),
        "logo": logo_address(),
        "dated": timezone.localdate(),
    }
    return render_to_string("papers/statement.html", context)


def statement_pdf(client: Client, entries: Sequence[Entry]) -> bytes:
    """The account as a tagged PDF. Slow: keep it out of transactions."""
    return draw_pdf(statement_html(client, entries))
