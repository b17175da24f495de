"""Time sheets: who sees whose, what wants a second look, and what is put right, approved and locked."""

from __future__ import annotations

import csv
import io
import re
from datetime import date, timedelta
from decimal import Decimal
from uuid import uuid4

import pytest
import time_machine
from django.urls import reverse
from openpyxl import load_workbook

from jobs.models import LockedWeek, TimeEntry
from jobs.queries.sheets import week_average, week_of
from tests import make
from tests.checks import says

WEEK, MONDAY, TUESDAY = "2026-W23", date(2026, 6, 1), date(2026, 6, 2)


@pytest.fixture(autouse=True)
def _on_thursday():
    with time_machine.travel("2026-06-04T09:00:00Z", tick=False):
        yield


@pytest.fixture
def entry(maker):
    phase = make.phase(job=make.job(state="bench", title="Hut"), title="Bunk")
    return make.hours(person=maker, phase=phase, on_date=TUESDAY, seconds=26400)


def sheet(person, week=WEEK):
    return reverse("jobs:sheet", args=[person.pk, week])


def act(name, person):
    return reverse(f"jobs:sheet-{name}", args=[person.pk, WEEK])


def correction(entry, **fields):
    usual = {
        "key": uuid4(),
        "phase": entry.phase_id,
        "on_date": "2026-06-02",
        "hours": "8",
        "reason": "typing",
    }
    return {**usual, **fields}


def test_everybodys_week(as_owner, entry, maker):
    page = as_owner.get(reverse("jobs:sheets")).context["page"]
    row = next(row for row in page.rows if row.person == maker)
    assert (row.by_day[1][1], row.total, row.standing) == (26400, 26400, "to approve")
    assert page.week.word == WEEK


def test_a_maker_has_their_own_sheet_alone(as_maker, maker, owner, entry):
    page = as_maker.get(reverse("jobs:sheets")).context["page"]
    assert [row.person for row in page.rows] == [maker]
    assert as_maker.get(sheet(maker)).status_code == 200
    assert as_maker.get(sheet(owner)).status_code == 404
    other = make.hours(person=owner)
    for name in ("entry-correct", "entry-void"):
        assert as_maker.get(reverse(f"jobs:{name}", args=[other.pk])).status_code == 404


def test_a_maker_sees_no_cost_of_their_hours(as_maker, as_bookkeeper, maker, entry):
    cost = "£146.67"  # 7 h 20 min at 20
    assert cost in as_bookkeeper.get(sheet(maker)).text
    assert cost not in as_maker.get(sheet(maker)).text


@pytest.mark.parametrize("week", ["2026-W54", "soon", "2026-06-01"])
def test_a_week_that_is_none(week, as_owner, owner):
    assert as_owner.get(sheet(owner, week)).status_code == 404
    assert as_owner.get(reverse("jobs:sheets"), {"week": week}).status_code == 404


def test_a_person_that_is_nobody(as_owner):
    assert as_owner.get(reverse("jobs:sheet", args=[10**6, WEEK])).status_code == 404


def test_warnings(as_owner, maker, entry):
    phase = make.phase(job=entry.phase.job)
    change = make.change(job=phase.job, state="issued")
    times = {"started_at": "2026-06-01T08:00Z", "ended_at": "2026-06-01T21:00Z", "on_date": MONDAY}
    make.hours(person=maker, phase=phase, seconds=13 * 3600, cost_rate=0, **times)
    make.hours(person=maker, phase=phase, seconds=30 * 3600, change=change, **times)
    text = as_owner.get(sheet(maker)).text
    for words in [
        "2 entries share time",
        "Monday has 43.0 hours, more than 12",
        "The week has 50.3 hours, more than 48",
        "no rate was set",
        "not yet agreed",
    ]:
        assert words in text


@pytest.mark.parametrize(
    ("hours", "weeks", "average", "over"),
    [
        pytest.param(40, 17, 40, False, id="an ordinary quarter"),
        pytest.param(48, 17, 48, False, id="816 hours in 17 weeks are 48, not over it"),
        pytest.param(49, 17, 49, True, id="over 48 on average"),
        pytest.param(49, 20, 49, True, id="what is further back does not count"),
        pytest.param(60, 1, 60, True, id="since the first entry"),
    ],
)
def test_the_average_of_seventeen_weeks(hours, weeks, average, over, as_owner, maker, workshop):
    """Directive 2003/88/EC, articles 6 (b) and 16 (b); SI 1998/1833, regulation 4."""
    phase = make.phase()
    for back in range(weeks):
        make.hours(person=maker, phase=phase, on_date=MONDAY - timedelta(weeks=back), seconds=hours * 3600)
    answer = as_owner.get(sheet(maker))
    assert answer.context["page"].average.hours == average
    assert says(answer, f"Over {min(weeks, 17)} week", f"{average}.0 h a week")
    assert says(answer, "2003/88/EC", "The law where you work stands first") is over


def test_a_week_after_a_gap_counts_the_weeks_between(maker, workshop):
    """Two weeks of 40 hours, eight weeks apart, are 80 hours in nine weeks."""
    for back in (0, 8):
        make.hours(person=maker, on_date=MONDAY - timedelta(weeks=back), seconds=40 * 3600)
    found = week_average(maker, week_of(WEEK))
    assert (found.weeks, round(found.hours, 2)) == (9, Decimal("8.89"))


def test_a_correction_with_its_reason(as_maker, maker, entry):
    address = reverse("jobs:entry-correct", args=[entry.pk])
    assert "7:20" in as_maker.get(address).text
    assert as_maker.post(address, correction(entry)).headers["Location"] == sheet(maker)
    text = as_maker.get(sheet(maker)).text
    assert "was 7:20 on Bunk, 2 Jun: typing" in text
    assert "8:00" in text


def chosen(answer, name):
    """What the form would send for that field if nothing was touched."""
    return re.findall(
        r'value="(\d*)" selected', re.search(rf'<select name="{name}".*?</select>', answer.text, re.S)[0]
    )


@pytest.mark.parametrize("state", ["closed", "won"])
def test_the_entrys_own_phase_can_be_chosen_however_old_its_job(state, as_owner, entry):
    """Or a browser would choose the first of another job."""
    entry.phase.job.state = state
    entry.phase.job.save()
    for _ in range(61):
        make.phase(job=make.job(state="bench"))
    page = as_owner.get(reverse("jobs:entry-correct", args=[entry.pk]))
    assert chosen(page, "phase") == [str(entry.phase_id)]


@pytest.mark.parametrize("state", ["refused", "withdrawn"])
def test_the_entrys_own_change_can_be_chosen_though_it_came_to_nothing(state, as_owner, entry):
    entry.change = make.change(job=entry.phase.job, state=state)
    entry.save()
    make.change(job=entry.phase.job, state="draft")
    page = as_owner.get(reverse("jobs:entry-correct", args=[entry.pk]))
    assert chosen(page, "change") == [str(entry.change_id)]


def test_a_correction_by_from_and_to(as_maker, entry):
    address = reverse("jobs:entry-correct", args=[entry.pk])
    as_maker.post(address, correction(entry, hours="", began="22:00", ended="02:00"))
    new = TimeEntry.objects.get(void=False)
    assert (new.seconds, new.on_date) == (4 * 3600, TUESDAY)


@pytest.fixture
def timed(maker, entry):
    """From 8 to 17 on the workshop's clock, to the second 37."""
    times = {"started_at": "2026-06-02T07:00:37Z", "ended_at": "2026-06-02T16:00:37Z"}
    return make.hours(person=maker, phase=entry.phase, on_date=TUESDAY, seconds=9 * 3600, **times)


@pytest.mark.parametrize(
    ("fields", "seconds", "began"),
    [
        pytest.param({"hours": "7:30"}, 27000, False, id="hours beside what was left as it was"),
        pytest.param({"hours": ""}, 32400, True, id="from and to alone"),
        pytest.param({"hours": "9"}, 32400, True, id="both, which agree"),
        pytest.param({"hours": "", "ended": "16:00"}, 28800, True, id="another end"),
        pytest.param({"hours": "8", "ended": "16:00"}, 28800, True, id="another end and its hours"),
    ],
)
def test_of_hours_and_from_to_what_was_changed_counts(fields, seconds, began, as_maker, timed):
    address = reverse("jobs:entry-correct", args=[timed.pk])
    assert (
        as_maker.post(address, correction(timed, began="08:00", **{"ended": "17:00", **fields})).status_code
        == 302
    )
    new = TimeEntry.objects.get(corrects=timed)
    assert (new.seconds, bool(new.started_at)) == (seconds, began)


def test_a_note_put_right_leaves_the_instants_to_the_second(as_maker, timed):
    address = reverse("jobs:entry-correct", args=[timed.pk])
    as_maker.post(address, correction(timed, began="08:00", ended="17:00", hours="", note="with glue-up"))
    timed.refresh_from_db()
    assert TimeEntry.objects.get(corrects=timed).started_at == timed.started_at


def test_hours_and_from_to_that_disagree_are_refused(as_maker, timed):
    fields = correction(timed, began="08:00", ended="16:00", hours="7:30")
    answer = as_maker.post(reverse("jobs:entry-correct", args=[timed.pk]), fields)
    assert answer.status_code == 422
    assert "From 08:00 to 16:00 is 8:00, not 7:30: empty one of the two." in answer.text


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"reason": ""}, "required"),
        (
            {"on_date": "2026-06-04", "began": "00:00", "ended": "23:59", "hours": ""},
            "23:59 is still to come",
        ),
        ({"hours": ""}, "How long did it take?"),
        ({"began": "08:00"}, "From and to go together"),
        ({"on_date": "2026-06-05"}, "still to come"),
        ({"hours": "25"}, "at most 24"),
    ],
)
def test_a_correction_that_cannot_be_meant_stays_typed(fields, words, as_maker, entry):
    answer = as_maker.post(
        reverse("jobs:entry-correct", args=[entry.pk]), correction(entry, note="by the stove", **fields)
    )
    assert (answer.status_code, words in answer.text, "by the stove" in answer.text) == (422, True, True)
    assert TimeEntry.objects.count() == 1


@pytest.mark.parametrize(("hours", "status"), [("7:20", 302), ("8", 422), ("0:30", 302)])
def test_a_correction_beyond_a_day_is_refused(hours, status, as_maker, maker, entry):
    """With 17 h besides 7:20 the day is over already: it can be mended, but not grow."""
    make.hours(person=maker, phase=entry.phase, on_date=entry.on_date, seconds=17 * 3600)
    address = reverse("jobs:entry-correct", args=[entry.pk])
    answer = as_maker.post(address, correction(entry, hours=hours))
    assert answer.status_code == status
    assert status == 302 or "17:00 h are logged" in answer.context["form"].errors["hours"][0]


def test_a_correction_sent_twice_is_one(as_maker, entry):
    fields = correction(entry)
    address = reverse("jobs:entry-correct", args=[entry.pk])
    assert [as_maker.post(address, fields).status_code for _ in range(2)] == [302, 302]
    assert TimeEntry.objects.count() == 2


@pytest.fixture
def forgotten(maker, entry):
    return make.hours(
        person=maker, phase=entry.phase, on_date=TUESDAY, seconds=None, started_at="2026-06-02T08:00Z"
    )


def test_the_owner_ends_a_timer_of_somebody_who_left(as_owner, as_maker, maker, forgotten):
    address = reverse("jobs:entry-end", args=[forgotten.pk])
    assert address in as_owner.get(sheet(maker)).text
    assert address not in as_maker.get(sheet(maker)).text
    assert "a timer on Bunk since 09:00 on Tuesday 2 June" in as_owner.get(address).text
    fields = {"day": "2026-06-02", "clock": "16:00", "reason": "left on Tuesday"}
    assert as_maker.post(address, fields).status_code == 403
    for _ in range(2):
        assert as_owner.post(address, fields).headers["Location"] == sheet(maker)
    forgotten.refresh_from_db()
    assert forgotten.seconds == 7 * 3600
    assert "left on Tuesday" in as_owner.get(sheet(maker)).text


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"reason": ""}, "required"),
        ({"clock": ""}, "required"),
        ({"clock": "08:00"}, "before it started"),
        ({"day": "0001-01-01"}, "Look at the year"),
        ({"day": "2026-06-05"}, "still to come"),
    ],
)
def test_an_end_that_cannot_be_stays_typed(fields, words, as_owner, forgotten):
    usual = {"day": "2026-06-02", "clock": "16:00", "reason": "left on Tuesday"}
    answer = as_owner.post(reverse("jobs:entry-end", args=[forgotten.pk]), {**usual, **fields})
    assert (answer.status_code, words in answer.text) == (422, True)
    forgotten.refresh_from_db()
    assert forgotten.is_running


def test_an_entry_taken_out_is_still_told_of(as_maker, maker, entry):
    as_maker.post(reverse("jobs:entry-void", args=[entry.pk]), {"reason": "logged twice"})
    text = as_maker.get(sheet(maker)).text
    assert "Taken out" in text
    assert "logged twice" in text


def test_approve_lock_and_open(as_owner, as_maker, maker, entry):
    assert "Approve the week first" in as_owner.post(act("lock", maker), follow=True).text
    as_owner.post(act("approve", maker))
    assert as_maker.get(reverse("jobs:entry-correct", args=[entry.pk])).status_code == 403
    as_owner.post(act("lock", maker))
    assert LockedWeek.objects.get().monday == MONDAY
    assert "Open the week again" in as_owner.get(sheet(maker)).text
    assert "Say why" in as_owner.post(act("open", maker), follow=True).text
    as_owner.post(act("open", maker), {"reason": "a sheet came late"})
    assert not LockedWeek.objects.exists()


@pytest.mark.parametrize("name", ["approve", "lock", "open"])
def test_only_the_owner_approves_and_never_by_looking(name, as_owner, as_bookkeeper, as_maker, maker, entry):
    assert as_bookkeeper.post(act(name, maker)).status_code == 403
    assert as_maker.post(act(name, maker)).status_code == 403
    assert as_owner.get(act(name, maker)).status_code == 405


def test_the_table_as_a_file_runs_no_formula(as_owner, as_maker, maker, entry):
    TimeEntry.objects.update(note="=1+1")
    address = reverse("jobs:sheets-file", args=[WEEK, "csv"])
    rows = list(csv.DictReader(io.StringIO(as_owner.get(address).content.decode("utf-8-sig"))))
    assert (rows[0]["Person"], rows[0]["Hours"], rows[0]["Note"]) == ("Miles Maker", "7.33", "'=1+1")
    assert rows[0]["Cost"] == "146.67"
    assert "Cost" not in as_maker.get(address).text
    book = as_owner.get(reverse("jobs:sheets-file", args=[WEEK, "xlsx"])).content
    assert load_workbook(io.BytesIO(book)).active["A2"].value == "Miles Maker"
    assert as_owner.get(reverse("jobs:sheets-file", args=[WEEK, "exe"])).status_code == 404


@pytest.mark.parametrize("count", [1, 3])
def test_sheets_ask_the_database_the_same_however_much_was_done(
    count, as_owner, maker, django_assert_num_queries
):
    for at in range(count):
        entry = make.hours(person=maker, on_date=TUESDAY, change=make.change(state="issued"))
        make.hours(person=make.person(f"P{at}"), on_date=TUESDAY)
        as_owner.post(reverse("jobs:entry-correct", args=[entry.pk]), correction(entry, change=""))
    with django_assert_num_queries(6):
        as_owner.get(reverse("jobs:sheets"))
    with django_assert_num_queries(7):
        as_owner.get(sheet(maker))
    with django_assert_num_queries(7):
        as_owner.get(reverse("jobs:sheets-file", args=[WEEK, "csv"]))
