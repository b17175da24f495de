"""Where does one go from a job? To its quotes, take-off, cutting plan, orders, invoices.

Each room registers its own links when the program starts (`AppConfig.ready`), so that this room need not
know the others. A link is either an act (a button at the head of the job) or a place (a line below).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from django.urls import reverse

from jobs.enums import JobState, Role
from jobs.models import Job, Person, Phase

EVERYBODY = frozenset({Role.OWNER, Role.MAKER, Role.BOOKKEEPER})


@dataclass(frozen=True)
class JobLink:
    """A link from the job's page. `url_name` takes the job's id.

    In the states of `hidden_in` it is not shown. `says` may add a few words about how things stand there
    ("revision 2, accepted"), in one query or none.
    """

    label: str
    url_name: str
    order: int
    roles: frozenset[Role] = EVERYBODY
    is_act: bool = False
    hidden_in: frozenset[JobState] = frozenset()
    says: Callable[[Job, Person], str] | None = None


@dataclass(frozen=True)
class PhaseLink:
    """A link from the phase's page. `url_name` takes the phase's id."""

    label: str
    url_name: str
    order: int
    roles: frozenset[Role] = EVERYBODY


@dataclass(frozen=True)
class Shown:
    """A link as the page draws it."""

    label: str
    href: str
    says: str = ""


_job_links: dict[str, JobLink] = {}
_phase_links: dict[str, PhaseLink] = {}


def register(link: JobLink | PhaseLink) -> None:
    """From now on the page shows it. A second link to the same address replaces the first."""
    if isinstance(link, JobLink):
        _job_links[link.url_name] = link
    else:
        _phase_links[link.url_name] = link


def acts_for(job: Job, person: Person) -> list[Shown]:
    """The buttons at the head of the job, for this person's role."""
    return [_shown(link, job, person) for link in _open_to(job, person) if link.is_act]


def places_for(job: Job, person: Person) -> list[Shown]:
    """The lines below, for this person's role."""
    return [_shown(link, job, person) for link in _open_to(job, person) if not link.is_act]


def phase_places_for(phase: Phase, person: Person) -> list[Shown]:
    """Where to go from a phase, for this person's role."""
    links = sorted(_phase_links.values(), key=lambda link: link.order)
    return [
        Shown(link.label, reverse(link.url_name, args=[phase.pk]))
        for link in links
        if person.role in link.roles
    ]


def _open_to(job: Job, person: Person) -> Sequence[JobLink]:
    links = sorted(_job_links.values(), key=lambda link: link.order)
    return [link for link in links if person.role in link.roles and job.state not in link.hidden_in]


def _shown(link: JobLink, job: Job, person: Person) -> Shown:
    says = link.says(job, person) if link.says else ""
    return Shown(link.label, reverse(link.url_name, args=[job.pk]), says)
