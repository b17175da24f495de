"""What finished jobs teach, and looking back on one of them."""

from __future__ import annotations

from decimal import Decimal
from types import SimpleNamespace

import pytest
from django.template.loader import render_to_string
from django.test import Client as Browser
from django.urls import reverse

from jobs import agreed_work
from jobs.models import Phase
from jobs.progress import AgreedWork
from jobs.queries.learnt import hour_ratios
from tests import make
from tests.checks import queries_of, says

ADDRESS = "/jobs/learnt/"


@pytest.fixture(autouse=True)
def told(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every finished phase was agreed as eight hours of lining ten square metres."""

    def lines(phases: list[int]) -> list[AgreedWork]:
        return [
            AgreedWork(str(phase), phase, "Lining", "m²", "seen", Decimal(10), Decimal(8)) for phase in phases
        ]

    monkeypatch.setattr(agreed_work, "_sources", [lines])


def finished(seconds: int = 12 * 3600, state: str = "closed") -> Phase:
    phase = make.phase(job=make.job(state=state), title="Wall lining")
    make.budget(phase=phase)
    make.hours(phase=phase, seconds=seconds)
    make.cost(phase=phase, net=Decimal(120))
    return phase


def test_nothing_finished_says_so(as_maker: Browser) -> None:
    assert says(as_maker.get(ADDRESS), "No finished job has agreed labour and hours yet.")


def test_few_jobs_are_shown_but_suggest_nothing(as_maker: Browser) -> None:
    finished()
    assert says(as_maker.get(ADDRESS), "lining", "1.20", "too few jobs yet")


def test_three_jobs_suggest_their_median_and_say_so(as_maker: Browser) -> None:
    for hours in (8, 12, 20):
        finished(hours * 3600)
    assert says(as_maker.get(ADDRESS), "1.20 h each", "from 3 jobs")


@pytest.mark.parametrize("state", ["bench", "won", "lost"])
def test_jobs_under_way_teach_nothing(as_maker: Browser, state: str) -> None:
    finished(state=state)
    assert as_maker.get(ADDRESS).context["shown"].job_count == 0


def test_void_hours_teach_nothing(as_maker: Browser) -> None:
    phase = finished()
    make.hours(phase=phase, seconds=36000, void=True)
    assert hour_ratios() == [1.2]


@pytest.mark.parametrize("count", [1, 3])
def test_queries_do_not_grow(as_maker: Browser, count: int) -> None:
    for _ in range(count):
        finished()
    assert queries_of(as_maker, ADDRESS) == 7


@pytest.mark.parametrize("count", [1, 3])
def test_queries_of_looking_back_do_not_grow(as_owner: Browser, count: int) -> None:
    job = make.job(state="closed")
    for _ in range(count):
        make.budget(phase=make.phase(job=job))
    assert queries_of(as_owner, reverse("jobs:look-back", args=[job.pk])) == 10


def test_looking_back_says_where_it_parted(as_owner: Browser) -> None:
    phase = finished()
    answer = as_owner.get(reverse("jobs:look-back", args=[phase.job.pk]))
    assert says(answer, "Wall lining took 2.0 h longer than the 10.0 h agreed, 20\u202f%.")
    assert says(answer, "−£40.00", "−£20.00", "All phases")
    steps = [fall.step for fall in answer.context["shown"].falls]
    assert [step.amount for step in steps] == [200, 0, -40, 0, -20, 140]


def test_a_maker_looks_back_on_hours_alone(as_maker: Browser) -> None:
    phase = finished()
    answer = as_maker.get(reverse("jobs:look-back", args=[phase.job.pk]))
    assert says(answer, "2.0 h longer")
    assert not says(answer, "£")


def test_close_to_what_was_agreed_is_said_too(as_owner: Browser) -> None:
    phase = finished(10 * 3600)
    assert says(as_owner.get(reverse("jobs:look-back", args=[phase.job.pk])), "within half an hour")


def test_a_job_without_phases(as_owner: Browser) -> None:
    assert says(as_owner.get(reverse("jobs:look-back", args=[make.job().pk])), "no phases to look back on")


def test_one_forecast_for_a_finished_job(as_owner: Browser) -> None:
    """12 h at 20, 120 spent and 50 on order of 300 agreed: 110 over, here, on the job and in all jobs."""
    phase = finished()
    make.commitment(phase=phase)
    Phase.objects.update(percent_done=50, hours_left=4)
    page = as_owner.get(reverse("jobs:look-back", args=[phase.job.pk])).context["shown"]
    line = as_owner.get(reverse("jobs:portfolio")).context["shown"].finished[0]
    progress = as_owner.get(reverse("jobs:progress", args=[phase.job.pk])).context["shown"]
    sheet = as_owner.get(phase.job.get_absolute_url()).context["sheet"]
    of_phase = as_owner.get(phase.get_absolute_url()).context["shown"]
    assert page.falls[-1].step.level == line.margin_forecast == progress.margin.forecast == 90
    assert page.total.cost == line.total.variance.cost == sheet.total.variance.cost == -110
    assert of_phase.measured.variance.cost == -110


def test_a_phase_not_yet_done_is_named(as_owner: Browser) -> None:
    phase = finished(state="handed_over")
    Phase.objects.update(percent_done=50)
    answer = as_owner.get(reverse("jobs:look-back", args=[phase.job.pk]))
    assert says(answer, "will take 14.0 h longer", "counted where the forecast ends: Wall lining.")


@pytest.mark.parametrize(("unit", "words"), [("each", "each"), ("m²", "per m²"), ("", "")])
def test_what_is_counted_is_each_and_not_per_each(unit: str, words: str) -> None:
    lesson = SimpleNamespace(operation="hang doors", unit=unit, is_enough=False)
    shown = {"lessons": [lesson], "most_jobs": 100}
    html = render_to_string("jobs/learnt.html", {"shown": shown})
    assert (f'hang doors <span class="quiet">{words}</span>' in html) == bool(words)
