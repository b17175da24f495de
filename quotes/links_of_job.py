"""Where does one go from a job to its quotes, and how are quotes found?"""

from __future__ import annotations

from collections.abc import Sequence

from django.db.models import Q
from django.urls import reverse

from jobs import job_links, search
from jobs.enums import JobState, Role
from jobs.models import Job, Person
from quotes.models import Quote

SEE_PRICES = frozenset({Role.OWNER, Role.BOOKKEEPER})
DO_THE_WORK = frozenset({Role.OWNER, Role.MAKER})


def register_all() -> None:
    """Tell the job page and the search box of this room."""
    job_links.register(
        job_links.JobLink("Quotes and changes", "quotes:of_job", 10, roles=SEE_PRICES, says=how_it_stands)
    )
    job_links.register(job_links.JobLink("Invoices", "quotes:invoices_of_job", 40, roles=SEE_PRICES))
    job_links.register(
        job_links.JobLink(
            "Write down a change",
            "quotes:raise_change",
            30,
            roles=DO_THE_WORK,
            is_act=True,
            hidden_in=frozenset({JobState.CLOSED}),
        )
    )
    search.register(search.Source("Quotes", 30, find_quotes))


def how_it_stands(job: Job, person: Person) -> str:
    """The newest quote in a few words."""
    newest = job.quotes.filter(change=None).order_by("-pk").only("number", "revision", "state").first()
    return f"{newest}, {newest.get_state_display()}" if newest else "none yet"


def find_quotes(words: str, person: Person) -> Sequence[search.Found]:
    """Quotes by number, title or client, for those who see prices."""
    if not person.sees_prices:
        return []
    found = (
        Quote.objects.filter(
            Q(number__icontains=words) | Q(title__icontains=words) | Q(job__client__name__icontains=words)
        )
        .select_related("job__client")
        .defer("snapshot")
        .order_by("-pk")[: search.MOST_OF_A_KIND]
    )
    return [
        search.Found(
            f"{quote}: {quote.title}", _page_of(quote), f"{quote.job.client}, {quote.get_state_display()}"
        )
        for quote in found
    ]


def _page_of(quote: Quote) -> str:
    return quote.get_absolute_url() if quote.is_draft else reverse("quotes:sheet", args=[quote.pk])
