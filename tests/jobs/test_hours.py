"""Timers and typed hours: what is in the book afterwards, and what is refused in which words."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from uuid import uuid4
from zoneinfo import ZoneInfo

import pytest
import time_machine
from django.db import IntegrityError, transaction
from django.utils import timezone

from jobs.models import LockedWeek, PersonRate, TimeEntry
from jobs.refusals import AskError, RefusedError
from jobs.services.hours import (
    Work,
    cost_rate_on,
    is_forgotten,
    log_hours,
    log_stretch,
    running_timer,
    start_timer,
    stop_timer,
    switch_phase,
)
from tests import make

NINE = datetime(2026, 6, 3, 9, tzinfo=UTC)  # a Wednesday, ten o'clock on the workshop's clock
TEN = NINE + timedelta(hours=1)


@pytest.fixture(autouse=True)
def _at_ten():
    with time_machine.travel(TEN, tick=False), timezone.override(ZoneInfo("Europe/London")):
        yield


@pytest.fixture
def phase(workshop):
    return make.phase(job=make.job(state="bench"), title="Bunk")


def start(person, phase, **more):
    return start_timer(person=person, key=uuid4(), work=Work(phase), **{"at": NINE, **more})


def test_a_timer_runs_and_stops(maker, phase):
    started = start(maker, phase)
    assert running_timer(maker) == started.row
    stopped = stop_timer(person=maker, timer=started.row.key, at=TEN)
    assert (stopped.row.seconds, stopped.row.ended_at, running_timer(maker)) == (3600, TEN, None)


def test_the_same_key_is_the_same_timer(maker, phase):
    key = uuid4()
    first = start_timer(person=maker, key=key, work=Work(phase), at=NINE)
    again = start_timer(person=maker, key=key, work=Work(phase), at=NINE)
    assert (first.new, again.new, again.row) == (True, False, first.row)
    assert TimeEntry.objects.count() == 1


def test_the_same_key_for_another_phase_is_refused(maker, phase):
    key = uuid4()
    start_timer(person=maker, key=key, work=Work(phase), at=NINE)
    with pytest.raises(RefusedError, match="something else"):
        start_timer(person=maker, key=key, work=Work(make.phase(job=phase.job)), at=NINE)


def test_one_timer_a_person(maker, owner, phase):
    start(maker, phase)
    with pytest.raises(RefusedError, match="A timer runs on Bunk since 10:00"):
        start(maker, phase)
    assert start(owner, phase).new


def test_the_database_refuses_a_second_running_timer(maker, phase):
    start(maker, phase)
    with pytest.raises(IntegrityError), transaction.atomic():
        TimeEntry.objects.create(person=maker, phase=phase, on_date=date(2026, 6, 3), started_at=NINE)


def test_a_switch_stops_one_and_starts_the_other_at_the_same_instant(maker, phase):
    old = start(maker, phase).row
    other = make.phase(job=phase.job)
    new = switch_phase(person=maker, key=uuid4(), work=Work(other), at=TEN, stops=old.key).row
    old.refresh_from_db()
    assert (old.ended_at, old.seconds, new.started_at, new.phase) == (TEN, 3600, TEN, other)


def test_a_forgotten_timer_ends_when_it_is_said_and_the_next_begins_when_it_was_pressed(maker, phase):
    """Nine hours on the bunk, home, and the floor from the next morning on."""
    old = start(maker, phase, at=NINE - timedelta(hours=25)).row
    floor, key, stopped = make.phase(job=phase.job), uuid4(), NINE - timedelta(hours=16)
    for _ in range(2):
        switch_phase(person=maker, key=key, work=Work(floor), at=NINE, stops=old.key, stopped_at=stopped)
    old.refresh_from_db()
    assert (old.ended_at, old.seconds) == (stopped, 9 * 3600)
    assert (running_timer(maker).phase, running_timer(maker).started_at) == (floor, NINE)


def test_what_was_stopped_before_a_switch_did_not_stop_after_it(maker, phase):
    old = start(maker, phase).row
    with pytest.raises(RefusedError, match=r"end at 11:00, after the next began at 10:30"):
        switch_phase(
            person=maker,
            key=uuid4(),
            work=Work(phase),
            at=NINE + timedelta(minutes=30),
            stops=old.key,
            stopped_at=TEN,
        )
    assert running_timer(maker) == old


def test_a_switch_sent_twice_stops_and_starts_once(maker, phase):
    old, other, key = start(maker, phase).row, make.phase(job=phase.job), uuid4()
    for _ in range(2):
        switch_phase(person=maker, key=key, work=Work(other), at=TEN, stops=old.key)
    assert TimeEntry.objects.count() == 2
    assert running_timer(maker).key == key


def test_a_switch_from_a_timer_that_was_stopped_elsewhere_just_starts(maker, phase):
    old = start(maker, phase).row
    stop_timer(person=maker, timer=old.key, at=NINE + timedelta(minutes=30))
    switch_phase(person=maker, key=uuid4(), work=Work(phase), at=TEN, stops=old.key)
    old.refresh_from_db()
    assert old.seconds == 1800


def test_a_switch_that_believes_in_another_timer_is_refused(maker, phase):
    start(maker, phase)
    with pytest.raises(RefusedError, match="Another timer runs, on Bunk"):
        switch_phase(person=maker, key=uuid4(), work=Work(phase), at=TEN, stops=uuid4())


def test_stopping_twice(maker, phase):
    timer = start(maker, phase).row.key
    stop_timer(person=maker, timer=timer, at=TEN)
    assert not stop_timer(person=maker, timer=timer, at=TEN).new
    assert not stop_timer(person=maker, timer=timer).new
    with pytest.raises(RefusedError, match="already stopped, at 11:00"):
        stop_timer(person=maker, timer=timer, at=TEN - timedelta(minutes=5))


def test_a_timer_never_started_here(maker, owner, phase):
    timer = start(owner, phase).row.key
    with pytest.raises(RefusedError, match="never started"):
        stop_timer(person=maker, timer=timer, at=TEN)


def test_an_end_before_the_start_is_refused(maker, phase):
    timer = start(maker, phase).row.key
    with pytest.raises(RefusedError, match="before it started"):
        stop_timer(person=maker, timer=timer, at=NINE - timedelta(minutes=1))


def test_an_instant_to_come_is_refused_but_for_a_clock_a_little_out(maker, phase):
    with pytest.raises(RefusedError, match="still to come"):
        start(maker, phase, at=TEN + timedelta(minutes=11))
    assert start(maker, phase, at=TEN + timedelta(minutes=9)).new


def test_a_forgotten_timer_is_asked_about_and_not_guessed(maker, phase):
    start_of_it = TEN - timedelta(hours=10, minutes=1)  # a day of 8 h and 2 h more is the limit
    entry = start(maker, phase, at=start_of_it).row
    assert is_forgotten(entry, TEN)
    with pytest.raises(AskError, match=r"has run for 10 hours, since 00:59\. When did you stop") as asked:
        stop_timer(person=maker, timer=entry.key, at=TEN)
    assert asked.value.asks == "at"
    assert running_timer(maker) == entry
    with pytest.raises(AskError):
        switch_phase(person=maker, key=uuid4(), work=Work(phase), at=TEN)


def test_a_forgotten_timer_stops_when_the_person_has_said_so(maker, phase):
    entry = start(maker, phase, at=TEN - timedelta(hours=11)).row
    assert stop_timer(person=maker, timer=entry.key, at=TEN, sure=True).row.seconds == 11 * 3600


def test_more_than_a_day_on_end_is_refused(maker, phase):
    entry = start(maker, phase, at=TEN - timedelta(hours=25)).row
    with pytest.raises(RefusedError, match="25 hours on end"):
        stop_timer(person=maker, timer=entry.key, at=TEN, sure=True)


@pytest.mark.parametrize(
    ("step", "minutes", "kept"), [(0, 7, 7), (15, 7, 0), (15, 8, 15), (15, 22, 15), (15, 23, 30)]
)
def test_the_step_of_the_workshop(step, minutes, kept, maker, phase, workshop):
    # Nearest quarter of an hour, the half of one up: common practice.
    workshop.round_minutes_to = step
    workshop.save()
    timer = start(maker, phase).row.key
    stopped = stop_timer(person=maker, timer=timer, at=NINE + timedelta(minutes=minutes)).row
    assert stopped.seconds == kept * 60
    assert stopped.ended_at == NINE + timedelta(minutes=minutes)


def test_over_midnight_it_counts_for_the_day_it_started(maker, phase):
    began = datetime(2026, 6, 1, 22, tzinfo=ZoneInfo("Europe/London"))
    ended = datetime(2026, 6, 2, 2, tzinfo=ZoneInfo("Europe/London"))
    entry = log_stretch(person=maker, key=uuid4(), work=Work(phase), started_at=began, ended_at=ended).row
    assert (entry.on_date, entry.seconds) == (date(2026, 6, 1), 4 * 3600)


def test_over_the_change_of_the_clocks_what_passed_counts(maker, phase):
    # IANA time zone data: in London the clocks go back on 25 October 2026, so 00:30 to 02:30 is three hours.
    london = ZoneInfo("Europe/London")
    with time_machine.travel(datetime(2026, 10, 25, 12, tzinfo=UTC)):
        entry = log_stretch(
            person=maker,
            key=uuid4(),
            work=Work(phase),
            started_at=datetime(2026, 10, 25, 0, 30, tzinfo=london),
            ended_at=datetime(2026, 10, 25, 2, 30, tzinfo=london),
        ).row
    assert entry.seconds == 3 * 3600


def test_hours_of_a_day(maker, phase):
    key = uuid4()
    logged = [
        log_hours(person=maker, key=key, work=Work(phase), on_date=date(2026, 6, 2), seconds=26400)
        for _ in range(2)
    ]
    assert [one.new for one in logged] == [True, False]
    assert (logged[0].row.seconds, logged[0].row.cost_rate) == (26400, Decimal(20))
    with pytest.raises(RefusedError, match="something else"):
        log_hours(person=maker, key=key, work=Work(phase), on_date=date(2026, 6, 2), seconds=3600)


@pytest.mark.parametrize("seconds", [0, -60, 24 * 3600 + 60])
def test_hours_that_no_day_has(seconds, maker, phase):
    with pytest.raises(RefusedError, match="at most 24"):
        log_hours(person=maker, key=uuid4(), work=Work(phase), on_date=date(2026, 6, 2), seconds=seconds)


@pytest.mark.parametrize(("seconds", "room"), [(8 * 3600, True), (8 * 3600 + 60, False)])
def test_a_day_holds_24_hours_of_all_its_entries(seconds, room, maker, phase):
    make.hours(person=maker, phase=phase, on_date=date(2026, 6, 2), seconds=16 * 3600)
    make.hours(person=maker, phase=phase, on_date=date(2026, 6, 2), seconds=9 * 3600, void=True)
    make.hours(person=maker, phase=phase, on_date=date(2026, 6, 1), seconds=9 * 3600)
    make.hours(phase=phase, on_date=date(2026, 6, 2), seconds=9 * 3600)  # another person's
    typed = {"person": maker, "key": uuid4(), "work": Work(phase), "on_date": date(2026, 6, 2)}
    if room:
        assert log_hours(**typed, seconds=seconds).new
    else:
        with pytest.raises(RefusedError, match="16:00 h are logged for Tuesday 2 June already") as refused:
            log_hours(**typed, seconds=seconds)
        assert refused.value.beside == "hours"


def test_a_running_timer_has_no_length_yet(maker, phase):
    start(maker, phase)
    typed = {"person": maker, "key": uuid4(), "work": Work(phase), "on_date": date(2026, 6, 3)}
    assert log_hours(**typed, seconds=24 * 3600).new


@pytest.mark.parametrize(
    ("day", "words"), [(date(2026, 6, 4), "still to come"), (date(2025, 1, 1), "look at the year")]
)
def test_days_that_cannot_be_meant(day, words, maker, phase):
    with pytest.raises(RefusedError, match=words):
        log_hours(person=maker, key=uuid4(), work=Work(phase), on_date=day, seconds=3600)


def test_the_cost_of_an_hour_is_that_days(maker, phase):
    PersonRate.objects.create(person=maker, from_date=date(2026, 6, 2), cost_rate=25, charge_rate=50)
    rates = [cost_rate_on(maker, date(2026, 6, day)) for day in (1, 2, 3)]
    assert rates == [20, 25, 25]
    assert start(maker, phase).row.cost_rate == 25


def test_without_a_rate_hours_cost_nothing_yet(workshop, phase):
    nobody = make.person(rate=None)
    assert cost_rate_on(nobody, date(2026, 6, 3)) is None
    assert start(nobody, phase).row.cost_rate == 0


@pytest.mark.parametrize("state", ["enquiry", "quoted", "closed", "lost"])
def test_a_job_that_is_not_open_takes_no_hours(state, maker, phase):
    phase.job.state = state
    with pytest.raises(RefusedError, match=f"is {state}"):
        start(maker, phase)
    phase.job.state, phase.job.archived_at = "bench", NINE
    with pytest.raises(RefusedError, match="is put away"):
        start(maker, phase)


def test_a_change_of_another_job_is_refused(maker, phase):
    with pytest.raises(RefusedError, match="another job"):
        start_timer(person=maker, key=uuid4(), work=Work(phase, make.change()), at=NINE)


def test_a_locked_week_takes_nothing(maker, owner, phase):
    LockedWeek.objects.create(person=maker, monday=date(2026, 6, 1), locked_by=owner)
    with pytest.raises(RefusedError, match="week of 1 June is locked"):
        start(maker, phase)
    sunday = date(2026, 5, 31)
    assert log_hours(person=maker, key=uuid4(), work=Work(phase), on_date=sunday, seconds=60).new
