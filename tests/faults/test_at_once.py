"""Many at the same instant: every number once and none skipped, one yes, one timer, on either database."""

from __future__ import annotations

import uuid
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import pytest
from django.db import connections, transaction
from django.utils import timezone

from jobs.enums import JobState
from jobs.models import Person, Phase, TimeEntry
from jobs.numbering import next_number
from jobs.refusals import RefusedError
from jobs.services.hours import Work, log_hours, start_timer
from tests import make

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.faults]
AT_ONCE = 32


def all_at_once(act: Callable[[int], Any], count: int = AT_ONCE) -> list[Any]:
    """What each of so many threads got, each with a connection of its own; a refusal is an answer too."""

    def alone(at: int) -> Any:
        try:
            return act(at)
        except RefusedError as refused:
            return refused
        finally:
            connections.close_all()

    with ThreadPoolExecutor(count) as pool:
        return list(pool.map(alone, range(count)))


@pytest.fixture
def work() -> tuple[Person, Phase]:
    make.workshop()
    return make.person(), make.phase(job=make.job(state=JobState.BENCH))


def test_numbers_are_given_once_each_without_a_gap() -> None:
    def take(_: int) -> int:
        with transaction.atomic():
            return next_number("invoice 2026")

    assert sorted(all_at_once(take)) == list(range(1, AT_ONCE + 1))


def test_a_number_whose_transaction_fails_is_given_again() -> None:
    def take(at: int) -> int | None:
        try:
            with transaction.atomic():
                number = next_number("invoice 2026")
                if at % 2:
                    raise RefusedError("not this one")
                return number
        except RefusedError:
            return None

    kept = sorted(number for number in all_at_once(take) if number is not None)
    assert kept == list(range(1, AT_ONCE // 2 + 1))


def test_the_same_entry_sent_by_many_is_one_entry(work: tuple[Person, Phase]) -> None:
    person, phase = work
    key = uuid.uuid4()

    def send(_: int) -> bool:
        stored = log_hours(
            person=person, key=key, work=Work(phase), on_date=timezone.localdate(), seconds=3600
        )
        return stored.new

    assert sorted(all_at_once(send, 12)) == [False] * 11 + [True]
    assert TimeEntry.objects.get().seconds == 3600


def test_one_timer_runs_however_many_are_started(work: tuple[Person, Phase]) -> None:
    person, phase = work
    answers = all_at_once(lambda _: start_timer(person=person, key=uuid.uuid4(), work=Work(phase)), 12)
    assert sum(isinstance(answer, RefusedError) for answer in answers) == 11
    assert TimeEntry.objects.filter(seconds=None).count() == 1
