"""For whom does the workshop work, and what was done for each?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.core.paginator import Page, Paginator
from django.db.models import Count
from django.shortcuts import get_object_or_404

from jobs.matching import answering
from jobs.models import Client, Job, Person
from jobs.queries.jobs import PUT_AWAY_LAST

A_PAGE = 50


@dataclass(frozen=True)
class ClientListPage:
    """Clients by name, a page at a time, each with how many jobs of theirs are not put away."""

    page: Page[Client]
    lines: Sequence[tuple[Client, int]]
    words: str
    archived: bool


@dataclass(frozen=True)
class ClientPage:
    """One client and their jobs, those put away last."""

    client: Client
    jobs: Sequence[Job]


def get_client_for(person: Person, pk: int) -> Client:
    """The client, for anybody of the workshop; 404 for an unknown one."""
    return get_object_or_404(Client, pk=pk)


def client_list_page(*, words: str, archived: bool, number: str | None) -> ClientListPage:
    """A page of clients in three queries: how many, those shown, and their jobs counted."""
    clients = Client.objects.filter(archived_at__isnull=not archived).order_by("name", "pk")
    clients = answering(clients, words, "name", "contact")
    page = Paginator(clients, A_PAGE).get_page(number)
    jobs = _count_jobs(list(page))
    return ClientListPage(page, [(client, jobs.get(client.pk, 0)) for client in page], words, archived)


def _count_jobs(clients: Sequence[Client]) -> dict[int, int]:
    """Only for those shown: counted for all, the list would slow down as the book grows."""
    jobs = Job.objects.filter(client__in=clients, archived_at=None).order_by()
    return dict(jobs.values_list("client").annotate(Count("pk")))


def client_page(person: Person, pk: int) -> ClientPage:
    """A client with their jobs, in two queries."""
    client = get_client_for(person, pk)
    return ClientPage(client, list(client.jobs.order_by(PUT_AWAY_LAST, "-number")))
