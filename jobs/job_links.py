"""Where does one go from a job? To its quotes, take-off, cutting plan, orders, invoices.

Each room registers its own links when the program starts (`AppConfig.ready`), so that this room need not
know the others. A link is either an act (a button at the head of the job) or a place (a line below).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from django.urls import reverse

from jobs.enums import JobState, Role
from jobs.models import Job, Person, Phase

EVERYBODY = frozenset({Role.OWNER, Role.MAKER, Role.BOOKKEEPER})


@dataclass(frozen=True)
class Shown:
    """A link as the page draws it."""

    label: str
    href: str
    says: str = ""


@dataclass(frozen=True)
class Look:
    """How things stand behind a link in a few words ("revision 2, accepted"), and what is to be done there
    next, if the job waits for it.
    """

    says: str = ""
    next_step: Shown | None = None


@dataclass(frozen=True)
class JobLink:
    """A link from the job's page. `url_name` takes the job's id.

    In the states of `hidden_in` it is not shown. `look` may say how things stand there, in one query or two.
    """

    label: str
    url_name: str
    order: int
    roles: frozenset[Role] = EVERYBODY
    is_act: bool = False
    hidden_in: frozenset[JobState] = frozenset()
    look: Callable[[Job, Person], Look] | None = None


@dataclass(frozen=True)
class JobLinks:
    """The buttons at the head of the job, the lines below, and the step that the work waits for."""

    acts: Sequence[Shown]
    places: Sequence[Shown]
    next_step: Shown | None


@dataclass(frozen=True)
class PhaseLink:
    """A link from the phase's page. `url_name` takes the phase's id."""

    label: str
    url_name: str
    order: int
    roles: frozenset[Role] = EVERYBODY


_job_links: dict[str, JobLink] = {}
_phase_links: dict[str, PhaseLink] = {}


def register(link: JobLink | PhaseLink) -> None:
    """From now on the page shows it. A second link to the same address replaces the first."""
    if isinstance(link, JobLink):
        _job_links[link.url_name] = link
    else:
        _phase_links[link.url_name] = link


def links_for(job: Job, person: Person) -> JobLinks:
    """All links for this person's role. Where several rooms wait, the one later in the work knows best."""
    links = [link for link in _in_order() if person.role in link.roles and job.state not in link.hidden_in]
    looks = {link.url_name: link.look(job, person) if link.look else Look() for link in links}
    steps = [look.next_step for look in looks.values() if look.next_step]
    return JobLinks(
        acts=[_shown(link, job, looks) for link in links if link.is_act],
        places=[_shown(link, job, looks) for link in links if not link.is_act],
        next_step=steps[-1] if steps else None,
    )


def phase_places_for(phase: Phase, person: Person) -> list[Shown]:
    """Where to go from a phase, for this person's role."""
    links = sorted(_phase_links.values(), key=lambda link: link.order)
    return [
        Shown(link.label, reverse(link.url_name, args=[phase.pk]))
        for link in links
        if person.role in link.roles
    ]


def _in_order() -> Sequence[JobLink]:
    return sorted(_job_links.values(), key=lambda link: link.order)


def _shown(link: JobLink, job: Job, looks: Mapping[str, Look]) -> Shown:
    return Shown(link.label, reverse(link.url_name, args=[job.pk]), looks[link.url_name].says)
