"""The job as one sheet, and its progress in figures."""

from __future__ import annotations

import csv
import io
from datetime import date, timedelta
from decimal import Decimal

import pytest
import time_machine
from django.test import Client as Browser
from django.urls import reverse
from openpyxl import load_workbook

from jobs import job_links
from jobs.models import Phase
from tests import make
from tests.checks import queries_of, says

MONEY_ON_THE_PAGE = "£"


def under_way(**fields: object) -> Phase:
    """Half done: 10 h and 300 agreed for 500, 6 h at 20 and 100 of material spent."""
    phase = make.phase(**{"job": make.job(state="bench"), "percent_done": 50, **fields})
    make.budget(phase=phase)
    make.hours(phase=phase, seconds=6 * 3600)
    make.cost(phase=phase)
    return phase


def sheet(browser: Browser, phase: Phase) -> object:
    return browser.get(phase.job.get_absolute_url()).context["sheet"]


def test_an_empty_job_says_so(as_owner: Browser) -> None:
    assert says(as_owner.get(make.job().get_absolute_url()), "No phases yet.", "Add the first phase")


def test_the_contract_stands_at_the_head(as_owner: Browser) -> None:
    phase = under_way()
    for amount in ("80.50", "-30.50"):
        change = make.change(job=phase.job)
        make.budget(phase=phase, source="change", change=change, price=Decimal(amount))
    assert says(as_owner.get(phase.job.get_absolute_url()), "£550.00", "£500.00 + 2 changes £50.00")


@pytest.mark.parametrize(("state", "takes"), [("bench", True), ("won", True), ("enquiry", False)])
def test_the_timer_is_offered_once_the_job_takes_hours(as_maker: Browser, state: str, takes: bool) -> None:
    answer = as_maker.get(make.job(state=state).get_absolute_url())
    assert says(answer, "Start a timer", "Log a cost") is takes


def test_hours_and_cost_by_phase(as_owner: Browser) -> None:
    shown = sheet(as_owner, under_way())
    row = shown.lines[0].measured
    assert (row.row.revised.hours, row.row.actual.hours, row.forecast.hours) == (10, 6, 12)
    assert row.forecast.cost == Decimal(340)
    assert row.variance.cost == Decimal(-40)


def test_a_column_of_hours_adds_up_by_pencil(as_owner: Browser) -> None:
    job = make.job(state="bench")
    for hours in ("15.15", "12.75", "15.15"):  # to one decimal 15.2, 12.8 and 15.2, together 43.1
        make.budget(phase=make.phase(job=job), hours=Decimal(hours))
    for address in (job.get_absolute_url(), reverse("jobs:progress", args=[job.pk])):
        assert says(as_owner.get(address), "15.15", "12.75", "43.05")


def test_a_void_entry_and_a_running_timer_do_not_count(as_owner: Browser) -> None:
    phase = under_way()
    make.hours(phase=phase, void=True)
    make.hours(phase=phase, seconds=None, started_at="2026-06-02T08:00Z")
    assert sheet(as_owner, phase).total.row.actual.hours == 6


def test_the_makers_own_hours_left_stand_before_the_rate_so_far(as_owner: Browser) -> None:
    shown = sheet(as_owner, under_way(hours_left=Decimal(5)))
    assert shown.total.forecast.hours == 11


def test_entries_at_two_rates_are_costed_each_at_its_own(as_owner: Browser) -> None:
    phase = make.phase()
    make.hours(phase=phase, seconds=1200, cost_rate=Decimal(20))
    make.hours(phase=phase, seconds=2400, cost_rate=Decimal(30))
    assert sheet(as_owner, phase).total.row.actual.labour == Decimal("26.67")


def test_a_forecast_far_over_warns(as_owner: Browser) -> None:
    assert says(as_owner.get(under_way().job.get_absolute_url()), "passes what was agreed by")


def test_a_forecast_within_the_share_does_not_warn(as_owner: Browser) -> None:
    phase = under_way(percent_done=59)
    assert not says(as_owner.get(phase.job.get_absolute_url()), "passes what was agreed by")


def test_hours_on_a_change_without_a_yes_are_flagged(as_owner: Browser) -> None:
    phase = under_way()
    agreed = make.change(job=phase.job, state="agreed", title="More shelves")
    asked = make.change(job=phase.job, state="issued", title="A hatch")
    make.hours(phase=phase, change=agreed)
    make.hours(phase=phase, change=asked, seconds=5400)
    answer = as_owner.get(phase.job.get_absolute_url())
    assert says(answer, "1.5 h stand on", "A hatch")
    assert not says(answer, "More shelves")


@pytest.mark.parametrize("name", ["detail", "progress"])
def test_a_maker_sees_hours_and_no_money(as_maker: Browser, name: str) -> None:
    phase = under_way()
    answer = as_maker.get(reverse(f"jobs:{name}", args=[phase.job.pk]))
    assert says(answer, "12.0")
    assert not says(answer, MONEY_ON_THE_PAGE)
    assert not says(answer, "ariance of cost")


def test_a_makers_file_holds_no_money(as_maker: Browser) -> None:
    phase = under_way()
    answer = as_maker.get(reverse("jobs:progress-file", args=[phase.job.pk, "csv"]))
    assert "Cost" not in answer.content.decode()


def test_the_phase_page_shows_a_maker_no_money(as_maker: Browser) -> None:
    assert not says(as_maker.get(under_way().get_absolute_url()), MONEY_ON_THE_PAGE)


@time_machine.travel("2026-06-12 12:00 +0000")
def test_the_line_over_weeks(as_owner: Browser) -> None:
    phase = under_way(planned_start=date(2026, 6, 1), planned_days=10)
    as_owner.post(
        reverse("jobs:done", args=[phase.job.pk]),
        {f"phase{phase.pk}-percent": "60", f"phase{phase.pk}-hours_left": ""},
    )
    chart = sheet(as_owner, phase).chart
    assert {line.name for line in chart.lines} == {"planned", "earned", "actual"}


@pytest.mark.parametrize("count", [1, 3])
def test_queries_do_not_grow(as_owner: Browser, count: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(job_links, "_job_links", {})  # what other rooms say is theirs to count
    job = make.job()
    for _ in range(count):
        phase = under_way(job=job)
        change = make.change(job=job)
        make.hours(phase=phase, change=change)
        make.commitment(phase=phase)
        make.note(phase=phase)
    assert queries_of(as_owner, reverse("jobs:detail", args=[job.pk])) == 17
    assert queries_of(as_owner, reverse("jobs:progress", args=[job.pk])) == 13


def test_notes_from_the_bench_say_who_when_and_where(as_owner: Browser) -> None:
    phase = under_way()
    make.note(phase=phase, text="Floor is <b>out</b> of level", written_at=make.NOW)
    photo = make.shared_photo()
    make.note(phase=phase, text="", photo=photo)
    page = as_owner.get(phase.job.get_absolute_url())
    assert says(
        page, "Floor is &lt;b&gt;out&lt;/b&gt; of level", "Pat Person, ", "2 Mar 2026, 08:00", photo.sha256
    )
    assert says(as_owner.get(phase.get_absolute_url()), "out&lt;/b&gt; of level")


def test_the_latest_notes_stand_first_and_older_ones_with_their_phases(as_owner: Browser) -> None:
    phase = under_way()
    for at in range(13):
        make.note(phase=phase, text=f"Note {at:02d}.", written_at=make.NOW + timedelta(minutes=at))
    page = as_owner.get(phase.job.get_absolute_url())
    assert says(page, "Note 12.", "Note 01.", "Older notes stand with their phases")
    assert not says(page, "Note 00.")


def test_progress_says_in_words_what_cannot_be_worked_out(as_owner: Browser) -> None:
    phase = make.budget().phase
    answer = as_owner.get(reverse("jobs:progress", args=[phase.job.pk]))
    assert says(answer, "no cost yet", "nothing planned yet")


def test_how_well_the_rest_must_go_to_meet_budget_and_forecast(as_owner: Browser) -> None:
    """Half of 300 is earned for 220 where all was planned: 150 ÷ 80 to the budget; by the pace 150 ÷ 440."""
    phase = under_way(planned_start=date(2026, 1, 5), planned_days=5)
    lines = as_owner.get(reverse("jobs:progress", args=[phase.job.pk])).context["shown"].measures
    found = [round(line.figure.value, 3) for line in lines if line.sign == "TCPI"]
    assert found == [Decimal("1.875"), Decimal("0.341")]


def test_margin_as_agreed_and_by_the_forecast(as_owner: Browser) -> None:
    phase = under_way()
    margin = as_owner.get(reverse("jobs:progress", args=[phase.job.pk])).context["shown"].margin
    assert (margin.agreed, margin.forecast) == (Decimal(200), Decimal(160))
    assert (margin.agreed_percent, margin.forecast_percent) == (40, 32)


def test_the_csv_holds_phases_and_total(as_owner: Browser) -> None:
    phase = under_way(title="=cmd|' /C calc'!A0")
    answer = as_owner.get(reverse("jobs:progress-file", args=[phase.job.pk, "csv"]))
    rows = list(csv.reader(io.StringIO(answer.content.decode("utf-8-sig"))))
    assert rows[1][0] == "'=cmd|' /C calc'!A0"
    assert dict(zip(rows[0], rows[2], strict=True))["Cost variance"] == "-40.00"


def test_the_xlsx_holds_text_as_text(as_owner: Browser) -> None:
    phase = under_way(title="=1+1")
    answer = as_owner.get(reverse("jobs:progress-file", args=[phase.job.pk, "xlsx"]))
    cell = load_workbook(io.BytesIO(answer.content)).active["A2"]
    assert (cell.value, cell.data_type) == ("=1+1", "s")


def test_other_kinds_of_file_are_not_there(as_owner: Browser) -> None:
    address = reverse("jobs:progress-file", args=[make.job().pk, "pdf"])
    assert as_owner.get(address).status_code == 404
