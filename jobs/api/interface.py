"""The addresses of the JSON interface. Tokens are made on one's account page; each says what it may do."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from ninja import NinjaAPI, Query, Status
from ninja.security import HttpBearer

from jobs.api.shapes import (
    CostIn,
    HoursIn,
    HoursOut,
    HoursWanted,
    JobOut,
    JobsWanted,
    Kept,
    PhaseOut,
    Refused,
    RowId,
)
from jobs.models import ApiToken, Job, Person, Phase, TimeEntry
from jobs.refusals import RefusedError
from jobs.services.accounts.tokens import token_of
from jobs.services.costs import Spent, log_cost
from jobs.services.hours import Work, log_hours


class Token(HttpBearer):
    """`Authorization: Bearer …` with a token that has the scope."""

    def __init__(self, scope: str) -> None:
        super().__init__()
        self.scope = scope

    def authenticate(self, request: HttpRequest, token: str) -> Person | None:
        found = token_of(token, timezone.now())
        if found is None:
            return None
        _must_hold(found, self.scope)
        return found.person


def _must_hold(token: ApiToken, scope: str) -> None:
    if scope not in token.scopes:
        raise PermissionDenied(f"This token may not {scope}.")


api = NinjaAPI(
    title="Kerfbook",
    version="1",
    description="Read jobs, phases and hours; log hours and costs.",
    docs_url=None,
    openapi_url="openapi.json",
    urls_namespace="api",
)
reads, logs_hours, logs_costs = Token("read"), Token("hours"), Token("costs")


@api.exception_handler(RefusedError)
def refused(request: HttpRequest, error: RefusedError | type[RefusedError]) -> HttpResponse:
    """What the workshop's rules do not allow is said in words."""
    return api.create_response(request, {"said": str(error)}, status=409)


@api.exception_handler(PermissionDenied)
def not_in_scope(request: HttpRequest, error: PermissionDenied | type[PermissionDenied]) -> HttpResponse:
    return api.create_response(request, {"said": str(error)}, status=403)


@api.get("/jobs", response=list[JobOut], auth=reads, url_name="jobs")
def list_jobs(request: HttpRequest, wanted: Query[JobsWanted]) -> Any:
    """Jobs that are not archived, the newest number first."""
    jobs = Job.objects.filter(archived_at=None).select_related("client")
    if wanted.state:
        jobs = jobs.filter(state=wanted.state)
    return [_shape_job(job) for job in jobs[wanted.offset : wanted.offset + wanted.limit]]


def _shape_job(job: Job) -> JobOut:
    return JobOut(
        id=job.pk,
        number=job.number,
        title=job.title,
        client=job.client.name,
        state=job.state,
        starts_on=job.starts_on,
        ends_on=job.ends_on,
    )


@api.get("/jobs/{job_id}/phases", response=list[PhaseOut], auth=reads, url_name="phases")
def list_phases(request: HttpRequest, job_id: RowId) -> Any:
    """The phases of a job, in their order."""
    return get_object_or_404(Job, pk=job_id, archived_at=None).phases.all()


@api.get("/jobs/{job_id}/hours", response=list[HoursOut], auth=reads, url_name="job_hours")
def list_hours(request: HttpRequest, job_id: RowId, wanted: Query[HoursWanted]) -> Any:
    """Hours logged on a job, the latest first; entries replaced by a correction are left out.

    A maker's token reads that maker's own, by what its person is when it asks.
    """
    get_object_or_404(Job, pk=job_id)
    entries = TimeEntry.objects.filter(phase__job_id=job_id, void=False).select_related("person")
    if not _person(request).sees_prices:
        entries = entries.filter(person=_person(request))
    if wanted.from_date:
        entries = entries.filter(on_date__gte=wanted.from_date)
    if wanted.to_date:
        entries = entries.filter(on_date__lte=wanted.to_date)
    return [_shape_hours(entry) for entry in entries[wanted.offset : wanted.offset + wanted.limit]]


def _shape_hours(entry: TimeEntry) -> HoursOut:
    return HoursOut(
        key=entry.key,
        person=entry.person.name,
        phase_id=entry.phase_id,
        on_date=entry.on_date,
        started_at=entry.started_at,
        seconds=entry.seconds,
        note=entry.note,
    )


@api.post("/hours", response={201: Kept, 200: Kept, 409: Refused}, auth=logs_hours, url_name="hours")
def add_hours(request: HttpRequest, given: HoursIn) -> Any:
    """Log hours of a day as the token's person."""
    stored = log_hours(
        person=_person(request),
        key=given.key,
        work=Work(_phase(given.phase_id), note=given.note),
        on_date=given.on_date,
        seconds=int(given.hours * 3600),
    )
    return Status(201 if stored.new else 200, Kept(key=stored.row.key, new=stored.new))


@api.post("/costs", response={201: Kept, 200: Kept, 409: Refused}, auth=logs_costs, url_name="costs")
def add_cost(request: HttpRequest, given: CostIn) -> Any:
    """Log a cost as the token's person."""
    spent = Spent(
        net=given.net,
        tax=given.tax,
        on_date=given.on_date,
        kind=given.kind,
        supplier=given.supplier,
        description=given.description,
    )
    work = Work(_phase(given.phase_id))
    stored = log_cost(person=_person(request), key=given.key, work=work, spent=spent)
    return Status(201 if stored.new else 200, Kept(key=stored.row.key, new=stored.new))


def _person(request: HttpRequest) -> Person:
    person: Person = request.auth  # type: ignore[attr-defined]  # ninja puts there what the token gave
    return person


def _phase(pk: int) -> Phase:
    return get_object_or_404(Phase.objects.select_related("job"), pk=pk)


def open_to_tokens(patterns: Iterable[Any]) -> None:
    """The log-in page is for people; these addresses ask for a token themselves."""
    for pattern in patterns:
        callback: Callable[..., Any] = pattern.callback
        login_not_required(callback)
