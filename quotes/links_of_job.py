"""Where does one go from a job to its quotes, and how are quotes found?"""

from __future__ import annotations

from collections.abc import Sequence

from django.urls import reverse

from jobs import job_links, search
from jobs.enums import JobState, Role
from jobs.matching import answering
from jobs.models import Job, Person
from materials.models import TakeoffItem
from quotes.enums import QuoteState
from quotes.models import Message, Quote

SEE_PRICES = frozenset({Role.OWNER, Role.BOOKKEEPER})
BEFORE_THE_YES = frozenset({JobState.ENQUIRY, JobState.QUOTED})
DO_THE_WORK = frozenset({Role.OWNER, Role.MAKER})


def register_all() -> None:
    """Tell the job page and the search box of this room."""
    job_links.register(
        job_links.JobLink("Quotes and changes", "quotes:of_job", 50, roles=SEE_PRICES, look=look_at_quotes)
    )
    job_links.register(
        job_links.JobLink("Invoices", "quotes:invoices_of_job", 80, roles=SEE_PRICES, look=look_at_invoices)
    )
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


def look_at_quotes(job: Job, person: Person) -> job_links.Look:
    """A client’s question, if one waits; else the newest quote, and what that waits for until it is won."""
    last = Message.objects.filter(quote__job=job).order_by("pk").last()
    if last and last.from_client and person.is_owner:
        step = job_links.Shown("Answer the question", reverse("quotes:sheet", args=[last.quote_id]))
        return job_links.Look("a question waits", step)
    newest = job.quotes.filter(change=None).order_by("-pk").only("number", "revision", "state").first()
    says = f"{newest}, {newest.get_state_display()}" if newest else "none yet"
    waits = job.state in BEFORE_THE_YES and person.is_owner
    return job_links.Look(says, _step_of_quote(job, newest) if waits else None)


def _step_of_quote(job: Job, newest: Quote | None) -> job_links.Shown | None:
    """What was taken off is quoted, a draft is finished, what is out is sent and followed."""
    if newest is None and not TakeoffItem.objects.filter(phase__job=job).exists():
        return None
    if newest is None or newest.state == QuoteState.WITHDRAWN:
        return job_links.Shown("Draw up a quote", reverse("quotes:of_job", args=[job.pk]))
    if newest.is_draft:
        return job_links.Shown("Open the draft quote", newest.get_absolute_url())
    label = "Send or follow the quote" if newest.state == QuoteState.ISSUED else "See the quote"
    return job_links.Shown(label, reverse("quotes:sheet", args=[newest.pk]))


def look_at_invoices(job: Job, person: Person) -> job_links.Look:
    """A contract without an invoice waits for its deposit, work handed over for the final account."""
    address = reverse("quotes:invoices_of_job", args=[job.pk])
    if job.state == JobState.HANDED_OVER:
        return job_links.Look(next_step=job_links.Shown("Final account", address))
    if job.state == JobState.WON and _is_contract_not_invoiced(job):
        return job_links.Look(next_step=job_links.Shown("Invoice the deposit", address))
    return job_links.Look()


def _is_contract_not_invoiced(job: Job) -> bool:
    agreed = Quote.objects.filter(job=job, state=QuoteState.ACCEPTED, change=None, job__invoices=None)
    return agreed.exclude(payment_stages=[]).exists()


def find_quotes(words: str, person: Person) -> Sequence[search.Found]:
    """Quotes by number, title or client, for those who see prices."""
    if not person.sees_prices:
        return []
    found = (
        answering(Quote.objects.all(), words, "number", "title", "job__client__name")
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
