"""Which jobs and clients answer to the words in the search box?"""

from __future__ import annotations

from jobs.matching import answering
from jobs.models import Client, Person
from jobs.queries.jobs import PUT_AWAY_LAST, jobs_matching
from jobs.search import MOST_OF_A_KIND, Found, Source, register


def find_jobs(words: str, person: Person) -> list[Found]:
    """By number, title, what is fitted out, or client; those put away stand last."""
    jobs = jobs_matching(words).select_related("client").order_by(PUT_AWAY_LAST, "-number")[:MOST_OF_A_KIND]
    return [
        Found(str(job), job.get_absolute_url(), f"{job.client.name}, {job.get_state_display()}")
        for job in jobs
    ]


def find_clients(words: str, person: Person) -> list[Found]:
    """By name, contact, e-mail or phone, word by word; those put away stand last."""
    found = answering(Client.objects.all(), words, "name", "contact", "email", "phone")
    clients = found.order_by(PUT_AWAY_LAST, "name")[:MOST_OF_A_KIND]
    return [Found(client.name, client.get_absolute_url(), client.contact) for client in clients]


def register_sources() -> None:
    """The box looks among jobs and clients."""
    register(Source("Jobs", 10, find_jobs))
    register(Source("Clients", 20, find_clients))
