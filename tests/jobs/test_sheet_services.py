"""Corrections, approval and locking: what stays in the book, and who may."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from uuid import uuid4

import pytest
import time_machine
from django.db import IntegrityError, transaction

from jobs.models import HistoryEntry, LockedWeek, TimeEntry
from jobs.refusals import RefusedError
from jobs.services.hours import Work
from jobs.services.sheets import (
    Hours,
    approve_week,
    correct_entry,
    end_timer,
    lock_week,
    open_week,
    void_entry,
)
from tests import make

MONDAY = date(2026, 6, 1)
TUESDAY = date(2026, 6, 2)


@pytest.fixture(autouse=True)
def _in_june():
    with time_machine.travel("2026-06-04T09:00:00Z", tick=False):
        yield


@pytest.fixture
def entry(maker):
    return make.hours(person=maker, on_date=TUESDAY, seconds=3600)


def correct(entry, by, **more):
    fields = {
        "key": uuid4(),
        "work": Work(entry.phase),
        "hours": Hours(TUESDAY, 7200),
        "reason": "forgot the second hour",
    }
    return correct_entry(entry=entry, by=by, **{**fields, **more})


def test_a_correction_stands_in_place_of_the_old_entry(entry, maker):
    new = correct(entry, maker).row
    entry.refresh_from_db()
    assert (entry.void, entry.seconds) == (True, 3600)
    assert (new.corrects, new.seconds, new.reason, new.void) == (entry, 7200, "forgot the second hour", False)
    assert HistoryEntry.objects.get().changes["seconds"] == ["3600", "7200"]


def test_a_correction_sent_twice_is_one(entry, maker):
    key = uuid4()
    assert [correct(entry, maker, key=key).new for _ in range(2)] == [True, False]
    assert TimeEntry.objects.filter(void=False).count() == 1


def test_an_entry_is_corrected_once_and_then_its_correction_is(entry, maker):
    new = correct(entry, maker).row
    with pytest.raises(RefusedError, match="corrected already"):
        correct(entry, maker)
    assert correct(new, maker).new


def test_a_correction_is_at_the_cost_of_its_own_day(entry, maker):
    maker.rates.create(from_date=MONDAY, cost_rate=30, charge_rate=60)
    assert correct(entry, maker, hours=Hours(MONDAY, 60)).row.cost_rate == 30


def test_a_correction_needs_a_reason(entry, maker):
    with pytest.raises(RefusedError, match="why"):
        correct(entry, maker, reason="  ")


def test_a_running_timer_is_stopped_before_it_is_corrected(maker):
    running = make.hours(person=maker, on_date=TUESDAY, seconds=None, started_at="2026-06-02T08:00Z")
    with pytest.raises(RefusedError, match="still runs"):
        correct(running, maker)


def test_an_approved_entry_is_corrected_by_the_owner_alone(entry, maker, owner):
    approve_week(person=maker, monday=MONDAY, by=owner)
    with pytest.raises(RefusedError, match="approved"):
        correct(entry, maker)
    new = correct(entry, owner).row
    assert (new.person, new.approved_at) == (maker, None)


def test_somebody_elses_entry_is_not_corrected(entry, bookkeeper):
    with pytest.raises(RefusedError):
        correct(entry, bookkeeper)


def test_hours_of_a_closed_job_are_corrected_by_the_owner_alone(entry, maker, owner):
    entry.phase.job.state = "closed"
    entry.phase.job.save()
    with pytest.raises(RefusedError, match=r"is closed.*The owner can still correct it"):
        correct(entry, maker)
    assert correct(entry, owner).row.phase == entry.phase


def test_nothing_is_moved_to_a_closed_job_nor_to_another_jobs_change(entry, owner):
    closed, other = make.phase(job=make.job(state="closed")), make.change()
    with pytest.raises(RefusedError, match="is closed"):
        correct(entry, owner, work=Work(closed))
    with pytest.raises(RefusedError, match="belongs to another job"):
        correct(entry, owner, work=Work(entry.phase, other))


@pytest.fixture
def forgotten(maker):
    """Since nine on the workshop's clock, two days ago, of somebody who left."""
    return make.hours(person=maker, on_date=TUESDAY, seconds=None, started_at="2026-06-02T08:00Z")


AT_FOUR = datetime(2026, 6, 2, 15, tzinfo=UTC)


def test_the_owner_says_when_the_timer_of_somebody_who_left_ended(forgotten, owner):
    for _ in range(2):
        end_timer(entry=forgotten, by=owner, at=AT_FOUR, reason="left on Tuesday")
    forgotten.refresh_from_db()
    assert (forgotten.seconds, forgotten.ended_at, forgotten.reason) == (7 * 3600, AT_FOUR, "left on Tuesday")
    told = HistoryEntry.objects.filter(record="timeentry").order_by("pk")
    assert [(one.person, one.action) for one in told] == [(owner, "stopped the timer"), (owner, "said why")]
    assert approve_week(person=forgotten.person, monday=MONDAY, by=owner) == 1


def test_ending_a_timer_for_somebody_takes_the_owner_and_a_reason(forgotten, entry, maker, owner):
    fields = {"entry": forgotten, "by": owner, "at": AT_FOUR, "reason": "left"}
    for more, words in [
        ({"by": maker}, "The owner alone"),
        ({"reason": " "}, "Say why"),
        ({"at": AT_FOUR + timedelta(days=2)}, "still to come"),
        ({"at": AT_FOUR - timedelta(days=1)}, "before it started"),
        ({"entry": entry}, "no timer ran"),
    ]:
        with pytest.raises(RefusedError, match=words):
            end_timer(**{**fields, **more})
    forgotten.refresh_from_db()
    assert forgotten.is_running


def test_a_voided_entry_stays_with_its_reason(entry, maker):
    for _ in range(2):
        void_entry(entry=entry, by=maker, reason="logged twice")
    entry.refresh_from_db()
    assert (entry.void, entry.reason) == (True, "logged twice")
    assert HistoryEntry.objects.count() == 1


def test_a_corrected_entry_is_not_voided_too(entry, maker):
    correct(entry, maker)
    with pytest.raises(RefusedError, match="corrected already"):
        void_entry(entry=entry, by=maker, reason="again")


def test_approval_takes_the_finished_entries_of_that_week(entry, maker, owner):
    make.hours(person=maker, on_date=date(2026, 6, 8), seconds=60)
    make.hours(person=owner, on_date=TUESDAY, seconds=60)
    assert [approve_week(person=maker, monday=MONDAY, by=owner) for _ in range(2)] == [1, 0]
    entry.refresh_from_db()
    assert entry.approved_by == owner


def test_a_locked_week_is_not_changed_and_can_be_opened_with_a_reason(entry, maker, owner):
    with pytest.raises(RefusedError, match="Approve the week first"):
        lock_week(person=maker, monday=MONDAY, by=owner)
    approve_week(person=maker, monday=MONDAY, by=owner)
    assert lock_week(person=maker, monday=MONDAY, by=owner) == lock_week(
        person=maker, monday=MONDAY, by=owner
    )
    with pytest.raises(RefusedError, match="locked"):
        correct(entry, owner)
    with pytest.raises(RefusedError, match="why"):
        open_week(person=maker, monday=MONDAY, by=owner, reason="")
    for _ in range(2):
        open_week(person=maker, monday=MONDAY, by=owner, reason="a sheet came late")
    assert correct(entry, owner).new


def test_a_correction_is_not_moved_into_a_locked_week(entry, maker, owner):
    LockedWeek.objects.create(person=maker, monday=date(2026, 5, 25), locked_by=owner)
    with pytest.raises(RefusedError, match="locked"):
        correct(entry, maker, hours=Hours(date(2026, 5, 26), 60))


def test_the_database_refuses_a_week_that_starts_on_a_tuesday(maker, owner):
    with pytest.raises(IntegrityError), transaction.atomic():
        LockedWeek.objects.create(person=maker, monday=TUESDAY, locked_by=owner)
