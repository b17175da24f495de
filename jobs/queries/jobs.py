"""Which jobs are there, and in which state?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.core.paginator import Page, Paginator
from django.db.models import Count, F, Q, QuerySet
from django.shortcuts import get_object_or_404

from jobs.enums import JobState
from jobs.matching import answering
from jobs.models import Client, Job, Person, Phase

A_PAGE = 50
PUT_AWAY_LAST = F("archived_at").asc(nulls_first=True)  # databases differ on where nothing stands
NAMES_OFFERED = 200
AT_WORK = (JobState.ENQUIRY, JobState.QUOTED, JobState.WON, JobState.BENCH, JobState.HANDED_OVER)


@dataclass(frozen=True)
class StateCount:
    """How many jobs are in a state; `key` is what the address calls it."""

    key: str
    label: str
    count: int
    is_chosen: bool


@dataclass(frozen=True)
class JobListPage:
    """Jobs of one state, newest first, a page at a time, and how many there are in the others."""

    page: Page[Job]
    states: Sequence[StateCount]
    words: str
    chosen: str

    @property
    def has_others(self) -> bool:
        """Whether there is any job, in whatever state, closed and put away ones counted."""
        return any(state.count for state in self.states)


def get_job_for(person: Person, pk: int) -> Job:
    """The job with its client, for anybody of the workshop; 404 for an unknown one."""
    return get_object_or_404(Job.objects.select_related("client"), pk=pk)


def get_phase_for(person: Person, pk: int) -> Phase:
    """The phase with its job and client, for anybody of the workshop; 404 for an unknown one."""
    return get_object_or_404(Phase.objects.select_related("job__client"), pk=pk)


def job_list_page(*, words: str, state: str, number: str | None) -> JobListPage:
    """Three queries: how many in each state, how many found, and those shown."""
    found = jobs_matching(words)
    states = _states(found, state)
    jobs = _in_state(found, state).select_related("client").order_by("-number")
    return JobListPage(Paginator(jobs, A_PAGE).get_page(number), states, words, state)


def jobs_matching(words: str) -> QuerySet[Job]:
    """Those in which each word stands in the number, title, what is fitted out or the client's name."""
    return answering(Job.objects.all(), words, "number", "title", "fitted_out", "client__name")


def _in_state(jobs: QuerySet[Job], state: str) -> QuerySet[Job]:
    if state == "put-away":
        return jobs.exclude(archived_at=None)
    jobs = jobs.filter(archived_at=None)
    if state == "all":
        return jobs
    return jobs.filter(state=state) if state in JobState.values else jobs.filter(state__in=AT_WORK)


def _states(jobs: QuerySet[Job], chosen: str) -> list[StateCount]:
    counts = dict.fromkeys(JobState.values, (0, 0))
    at_hand = Count("pk", filter=Q(archived_at=None))
    found = jobs.order_by().values_list("state").annotate(in_all=Count("pk"), at_hand=at_hand)
    for state, in_all, here in found:
        counts[state] = (here, in_all - here)
    rows = [("", "at work", sum(counts[state][0] for state in AT_WORK))]
    rows += [(state, JobState(state).label, counts[state][0]) for state in JobState.values]
    rows += [("all", "all", sum(here for here, _ in counts.values()))]
    rows += [("put-away", "put away", sum(away for _, away in counts.values()))]
    known = chosen if any(key == chosen for key, _, _ in rows) else ""
    return [StateCount(key, label, count, key == known) for key, label, count in rows]


def client_names() -> Sequence[str]:
    """Names offered while a client is typed: the latest clients, in one query."""
    names = Client.objects.filter(archived_at=None).order_by("-pk").values_list("name", flat=True)
    return sorted(set(names[:NAMES_OFFERED]))
