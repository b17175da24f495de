"""Jobs: numbers without a gap, copies, phase lists, states by permitted steps."""

from __future__ import annotations

from itertools import product

import pytest
import time_machine

from jobs.enums import JOB_STEPS, JobState
from jobs.models import HistoryEntry, Job, Person, Phase
from jobs.services import copying
from jobs.services.jobs import StepError, add_job, archive_job, move_job
from tests import make


def added(owner: Person, **more: object) -> Job:
    return add_job(person=owner, details={"client": make.client(), "title": "Hut"}, **more)


@time_machine.travel("2026-05-04 12:00 +0000")
def test_numbers_follow_each_other_within_the_year(owner: Person) -> None:
    assert [added(owner).number for _ in range(3)] == ["26-001", "26-002", "26-003"]


def test_a_new_year_starts_again(owner: Person) -> None:
    with time_machine.travel("2026-12-31 23:30 +0000"):
        assert added(owner).number == "26-001"
    with time_machine.travel("2027-01-01 00:30 +0000"):
        assert added(owner).number == "27-001"


@time_machine.travel("2026-05-04 12:00 +0000")
def test_a_number_that_failed_is_not_lost(owner: Person) -> None:
    with pytest.raises(Exception, match="title"):
        add_job(person=owner, details={"client": make.client(), "title": ""})
    assert added(owner).number == "26-001"


def test_a_job_from_a_list_has_its_phases(owner: Person) -> None:
    job = added(owner, phase_list=make.phase_list("Strip out", "Lining"))
    assert list(job.phases.values_list("title", "planned_days")) == [("Strip out", 1), ("Lining", 2)]


def test_a_copy_takes_the_plan_but_no_progress(owner: Person) -> None:
    old = make.phase(title="Lining", cautions=["dust"], percent_done=80, notes="start left").job
    copied = added(owner, copy_of=old).phases.get()
    assert (copied.title, copied.cautions, copied.notes) == ("Lining", ["dust"], "start left")
    assert copied.percent_done == 0


def test_other_rooms_copy_along(owner: Person, monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[tuple[Phase, Phase]] = []
    monkeypatch.setattr(copying, "_copiers", [])
    copying.register_copier(lambda pairs: seen.extend(pairs.items()))
    old = make.phase()
    new = added(owner, copy_of=old.job)
    assert seen == [(old, new.phases.get())]


@pytest.mark.parametrize(("start", "to"), list(product(JobState.values, JobState.values)))
def test_only_permitted_steps_are_taken(owner: Person, start: str, to: str) -> None:
    job = make.job(state=start)
    if start == to or to in JOB_STEPS[start]:
        assert move_job(job, to=to, person=owner).state == to
    else:
        with pytest.raises(StepError):
            move_job(job, to=to, person=owner)
        assert Job.objects.get(pk=job.pk).state == start


def test_a_step_is_written_down_once(owner: Person) -> None:
    job = make.job()
    for _ in range(2):
        move_job(job, to=JobState.QUOTED, person=owner)
    assert [entry.changes for entry in HistoryEntry.objects.all()] == [{"state": ["enquiry", "quoted"]}]


def test_an_unknown_state_is_refused_in_words(owner: Person) -> None:
    with pytest.raises(StepError, match="an unknown state"):
        move_job(make.job(), to="finished", person=owner)


def test_put_away_and_back(owner: Person) -> None:
    job = make.job()
    assert archive_job(job, person=owner, archived=True).archived_at is not None
    assert archive_job(job, person=owner, archived=False).archived_at is None
