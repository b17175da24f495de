"""The machine's clock is put back: nothing wrong is stored, nobody is kept out, and nothing is let in."""

from __future__ import annotations

import uuid
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
import time_machine

from jobs.backup.archive import make_backup
from jobs.enums import JobState
from jobs.models import Outbox, Person, Phase, TimeEntry
from jobs.numbering import next_number
from jobs.refusals import RefusedError
from jobs.services.accounts import throttle
from jobs.services.accounts.links import LinkUsedUpError, make_link, person_of_link
from jobs.services.accounts.tokens import make_token, token_of
from jobs.services.hours import Work, log_hours, start_timer, stop_timer
from jobs.services.outbox import send_waiting
from quotes.services.invoicing import issue_invoice
from tests import make

pytestmark = [pytest.mark.django_db, pytest.mark.faults]
NOW = datetime(2027, 1, 3, 10, 0, tzinfo=UTC)
BACK = NOW - timedelta(days=5)


@pytest.fixture
def work(workshop: Any, maker: Person) -> tuple[Person, Phase]:
    return maker, make.phase(job=make.job(state=JobState.BENCH))


def test_a_timer_is_not_stopped_before_it_began_and_runs_on(work: tuple[Person, Phase]) -> None:
    person, phase = work
    with time_machine.travel(NOW, tick=False):
        timer = start_timer(person=person, key=uuid.uuid4(), work=Work(phase)).row
    with (
        time_machine.travel(NOW - timedelta(hours=1), tick=False),
        pytest.raises(RefusedError, match="before it started"),
    ):
        stop_timer(person=person, timer=timer.key)
    with time_machine.travel(NOW + timedelta(hours=2), tick=False):
        stop_timer(person=person, timer=timer.key)
    assert TimeEntry.objects.get().seconds == 7200


def test_hours_of_a_day_that_is_now_to_come_are_refused(work: tuple[Person, Phase]) -> None:
    person, phase = work
    with time_machine.travel(BACK, tick=False), pytest.raises(RefusedError, match="still to come"):
        log_hours(person=person, key=uuid.uuid4(), work=Work(phase), on_date=NOW.date(), seconds=60)
    assert not TimeEntry.objects.exists()


def test_numbers_go_on(workshop: Any) -> None:
    with time_machine.travel(NOW):
        first = next_number("order")
    with time_machine.travel(BACK):
        assert next_number("order") == first + 1


def test_no_invoice_is_numbered_before_the_last_one(owner: Person) -> None:
    job = make.contract(1000)
    with time_machine.travel(NOW, tick=False):
        issued = issue_invoice(invoice=make.invoice(job), person=owner)
    other = make.invoice(make.contract(500))
    with time_machine.travel(BACK, tick=False), pytest.raises(RefusedError, match="3 January 2027"):
        issue_invoice(invoice=other, person=owner)
    with time_machine.travel(NOW, tick=False):
        assert issue_invoice(invoice=other, person=owner).number == "2027-0002"
    assert issued.number == "2027-0001"


def wait(now: datetime) -> timedelta | None:
    return throttle.wait_before_next_try(email="a@b.example", address=None, known_device=False, now=now)


def tried(now: datetime, count: int, *, succeeded: bool = False) -> None:
    for _ in range(count):
        throttle.note_attempt(
            email="a@b.example", address=None, known_device=False, succeeded=succeeded, now=now
        )


def test_failures_of_a_time_to_come_lock_nobody_out() -> None:
    tried(NOW, throttle.FAILURES_OF_ACCOUNT)
    assert wait(NOW) == throttle.WAIT
    assert wait(BACK) is None


def test_a_log_in_of_a_time_to_come_excuses_no_guessing() -> None:
    tried(NOW, 1, succeeded=True)
    tried(BACK, throttle.FAILURES_OF_ACCOUNT)
    assert wait(BACK) == throttle.WAIT


def test_a_password_link_made_in_a_time_to_come_opens_nothing(maker: Person) -> None:
    token = make_link(person=maker, by=None, now=NOW)
    assert person_of_link(token, NOW) == maker
    with pytest.raises(LinkUsedUpError):
        person_of_link(token, BACK)


def test_a_token_goes_on_opening(owner: Person) -> None:
    token = make_token(person=owner, name="script", scopes=["read"], now=NOW)
    assert token_of(token, NOW) is not None
    assert token_of(token, BACK) is not None


def test_a_letter_does_not_wait_for_the_clock(workshop: Any, mailoutbox: list[Any]) -> None:
    Outbox.objects.create(key="k", to="c@kerfbook.example", subject="s", text="t", try_after=NOW)
    with time_machine.travel(BACK, tick=False):
        assert send_waiting() == (1, 0)


@pytest.mark.django_db(transaction=True)
def test_the_copy_just_made_is_never_the_one_dropped(settings: Any, tmp_path: Path) -> None:
    settings.DATA_DIR, settings.PHOTO_DIR = tmp_path, tmp_path / "photos"
    make.workshop()
    folder = tmp_path / "copies"
    kept = [make_backup(folder, now=NOW + timedelta(days=day)) for day in range(2)]
    made = make_backup(folder, now=BACK, keep=2)
    assert sorted(folder.iterdir()) == sorted([made, kept[1]])
    again = make_backup(folder, now=BACK)
    assert again != made
    assert len(list(folder.iterdir())) == 3
