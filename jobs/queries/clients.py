"""For whom does the workshop work, and what was done for each?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.core.paginator import Page, Paginator
from django.db.models import Count, Q
from django.shortcuts import get_object_or_404

from jobs.models import Client, Job, Person

A_PAGE = 50


@dataclass(frozen=True)
class ClientListPage:
    """Clients by name, a page at a time."""

    page: Page[Any]
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
    """A page of clients in two queries: how many, and those shown."""
    clients = Client.objects.filter(archived_at__isnull=not archived).annotate(
        job_count=Count("jobs", filter=Q(jobs__archived_at=None))
    )
    clients = clients.order_by("name", "pk")
    if words:
        clients = clients.filter(Q(name__icontains=words) | Q(contact__icontains=words))
    return ClientListPage(Paginator(clients, A_PAGE).get_page(number), words, archived)


def client_page(person: Person, pk: int) -> ClientPage:
    """A client with their jobs, in two queries."""
    client = get_client_for(person, pk)
    return ClientPage(client, list(client.jobs.order_by("archived_at", "-number")))
