"""Phases: add, change, arrange, take out, say how far they are."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import DoneMark, HistoryEntry, Job, Phase
from tests import make
from tests.checks import queries_of, says

TYPED = {"title": "Wall lining", "grade": "seen", "planned_days": "4", "cautions": ["dust", "heights"]}


def titles(job: Job) -> list[str]:
    return list(job.phases.order_by("position", "pk").values_list("title", flat=True))


def test_adding_puts_it_last(as_maker: Browser) -> None:
    job = make.phase(title="Strip out", position=4).job
    as_maker.post(reverse("jobs:phase-add", args=[job.pk]), TYPED)
    assert titles(job) == ["Strip out", "Wall lining"]
    assert Phase.objects.get(title="Wall lining").cautions == ["dust", "heights"]


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"title": ""}, "This field is required."),
        ({"planned_days": "-1"}, "greater than or equal to 0"),
        ({"planned_days": "401"}, "is this one phase?"),
        ({"cautions": ["sharks"]}, "sharks is not one of the available choices"),
        ({"grade": "shiny"}, "shiny is not one of the available choices"),
    ],
)
def test_nonsense_is_said_beside_the_field(as_maker: Browser, typed: dict[str, str], said: str) -> None:
    job = make.job()
    answer = as_maker.post(reverse("jobs:phase-add", args=[job.pk]), {**TYPED, **typed})
    assert answer.status_code == 422
    assert says(answer, said)
    assert not job.phases.exists()


def test_editing_and_the_later_save(as_maker: Browser) -> None:
    phase = make.phase(title="Lining")
    address = reverse("jobs:phase-edit", args=[phase.pk])
    as_maker.post(address, {**TYPED, "title": "Theirs", "version": 1})
    answer = as_maker.post(address, {**TYPED, "title": "Mine", "version": 1})
    assert answer.status_code == 409
    assert says(answer, "Theirs", "Mine")


@pytest.mark.parametrize(
    ("which", "way", "after"),
    [
        (0, "down", ["b", "a", "c"]),
        (2, "up", ["a", "c", "b"]),
        (0, "up", ["a", "b", "c"]),
        (2, "down", ["a", "b", "c"]),
    ],
)
def test_arranging(as_maker: Browser, which: int, way: str, after: list[str]) -> None:
    job = make.job()
    phases = [make.phase(job=job, title=title) for title in "abc"]
    as_maker.post(reverse("jobs:phase-move", args=[phases[which].pk]), {"way": way})
    assert titles(job) == after


def test_an_unused_phase_is_taken_out(as_maker: Browser) -> None:
    phase = make.phase(title="Lining")
    answer = as_maker.post(reverse("jobs:phase-take-out", args=[phase.pk]), follow=True)
    assert says(answer, "“Lining” is taken out.")
    assert not Phase.objects.exists()
    assert HistoryEntry.objects.get().changes == {"title": ["Lining", None]}


@pytest.mark.parametrize(
    ("made", "words"),
    [
        (make.hours, "hours"),
        (make.cost, "costs"),
        (make.budget, "an agreed budget"),
        (make.commitment, "orders"),
    ],
)
def test_a_phase_with_anything_booked_on_it_stays(as_maker: Browser, made: object, words: str) -> None:
    phase = make.phase()
    made(phase=phase)
    answer = as_maker.post(reverse("jobs:phase-take-out", args=[phase.pk]), follow=True)
    assert says(answer, f"stays: it has {words}", "Move those to another phase first")
    assert Phase.objects.filter(pk=phase.pk).exists()


def far(phase: Phase, percent: str, hours_left: str = "") -> dict[str, str]:
    return {f"phase{phase.pk}-percent": percent, f"phase{phase.pk}-hours_left": hours_left}


def test_saying_how_far_it_is(as_maker: Browser) -> None:
    phase = make.phase()
    as_maker.post(reverse("jobs:done", args=[phase.job.pk]), far(phase, "40", "12.5"))
    phase.refresh_from_db()
    assert (phase.percent_done, phase.hours_left) == (40, Decimal("12.5"))
    assert DoneMark.objects.get().percent == 40


def test_the_same_word_twice_is_kept_once(as_maker: Browser) -> None:
    phase = make.phase()
    for _ in range(2):
        as_maker.post(reverse("jobs:done", args=[phase.job.pk]), far(phase, "40"))
    assert DoneMark.objects.count() == 1


@pytest.mark.parametrize("percent", ["101", "-1", "half", ""])
def test_nonsense_is_kept_and_nothing_is_saved(as_maker: Browser, percent: str) -> None:
    job = make.job()
    good, bad = make.phase(job=job), make.phase(job=job)
    answer = as_maker.post(reverse("jobs:done", args=[job.pk]), {**far(good, "35"), **far(bad, percent)})
    assert answer.status_code == 422
    assert says(answer, 'value="35"', "field wrong")
    assert not DoneMark.objects.exists()


def test_the_phase_page_says_what_each_caution_asks(as_maker: Browser) -> None:
    phase = make.phase(cautions=["gas", "nonsense"])
    assert says(as_maker.get(phase.get_absolute_url()), "registered for that kind of place")


@pytest.mark.parametrize("count", [1, 3])
def test_queries(as_maker: Browser, count: int) -> None:
    job = make.job()
    for _ in range(count):
        phase = make.phase(job=job)
        make.hours(phase=phase)
        make.cost(phase=phase)
    assert queries_of(as_maker, reverse("jobs:phases", args=[job.pk])) == 5
    assert queries_of(as_maker, reverse("jobs:done", args=[job.pk])) == 9
    assert queries_of(as_maker, phase.get_absolute_url()) == 9


@pytest.mark.parametrize("name", ["phase", "phase-edit"])
def test_an_unknown_phase_is_not_there(as_owner: Browser, name: str) -> None:
    assert as_owner.get(reverse(f"jobs:{name}", args=[999])).status_code == 404


@pytest.mark.parametrize("name", ["phase-move", "phase-take-out"])
def test_a_write_is_no_link(as_owner: Browser, name: str) -> None:
    assert as_owner.get(reverse(f"jobs:{name}", args=[make.phase().pk])).status_code == 405


@pytest.mark.parametrize(("left", "is_taken"), [("4", False), ("0", True), ("", True)])
def test_done_with_hours_to_go_is_asked_about(as_maker: Browser, left: str, is_taken: bool) -> None:
    phase = make.phase()
    answer = as_maker.post(reverse("jobs:done", args=[phase.job.pk]), far(phase, "100", left))
    phase.refresh_from_db()
    assert (answer.status_code == 302, phase.percent_done == 100) == (is_taken, is_taken)
    assert is_taken or says(answer, "At 100 % no hours are to go.")


def test_how_far_is_asked_beside_the_hours(as_maker: Browser) -> None:
    phase = make.phase()
    make.budget(phase=phase)
    make.hours(phase=phase, seconds=6 * 3600)
    answer = as_maker.get(reverse("jobs:done", args=[phase.job.pk]))
    assert says(answer, "10.00 h agreed, 6.00 h spent")
