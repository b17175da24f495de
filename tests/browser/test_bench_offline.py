"""The bench without a signal: what is pressed is kept, and goes in order, once each, when there is one."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.utils import timezone
from playwright.sync_api import expect

from jobs.models import CostEntry, Note, TimeEntry
from materials.models import Delivery
from tests import make
from tests.browser.conftest import PHONE, keep_picture, session_cookie
from tests.pictures import picture

pytestmark = pytest.mark.browser
READY = "navigator.serviceWorker.ready.then(() => caches.open('kerfbook-pages')).then((kept) => kept.keys())"


@pytest.fixture
def phases(workshop):
    job = make.job(state="bench", title="Narrowboat galley")
    return {title: make.phase(job=job, title=title) for title in ("Carcasses", "Fronts")}


@pytest.fixture
def order(phases):
    return make.order(weights={phases["Carcasses"]: "40"}, number="P-0042", state="placed")


@pytest.fixture
def phone(maker, phases, open_page):
    """The bench, opened once with a signal, so that its pages are kept."""
    page = open_page(maker, size=PHONE)
    page.goto("/bench/")
    until(page, f"{READY}.then((kept) => kept.length === 5)")
    until(page, "navigator.serviceWorker.controller !== null")
    return page


def until(page, expression):
    """Asks from outside: what waits within the page is stopped by its policy once it asks a second time."""
    for _ in range(200):
        if page.evaluate(expression):
            return
        page.wait_for_timeout(100)
    pytest.fail(f"never came true: {expression}")


def signal(page, there):
    page.context.set_offline(not there)
    if there:  # after a reload without a signal the browser fires no event; the bench also looks by itself
        page.evaluate("window.dispatchEvent(new Event('online'))")


def press(page, phase):
    page.evaluate("document.querySelectorAll('details').forEach((one) => (one.open = true))")
    page.get_by_role("button", name=phase).last.click()
    page.locator("#running", has_text=phase).wait_for()


def waiting(page, words):
    page.locator("#waiting", has_text=words).wait_for()


def all_sent(page):
    page.locator("#waiting").wait_for(state="hidden")


def log_hours(page, phase, hours):
    page.goto("/bench/hours/")
    page.get_by_label("Phase").select_option(str(phase.pk))
    page.get_by_label("or typed").fill(hours)
    page.get_by_role("button", name="Log").click()
    page.wait_for_url("**/bench/")


def test_a_day_without_a_signal_goes_in_order_and_once_each(order, phone, phases, maker):
    signal(phone, False)
    phone.reload()
    press(phone, "Carcasses")
    press(phone, "Fronts")
    phone.get_by_role("button", name="Stop").click()
    phone.get_by_text("No timer runs").wait_for()
    log_hours(phone, phases["Fronts"], "1:30")
    phone.goto("/bench/cost/")
    phone.get_by_label("Phase").select_option(str(phases["Carcasses"].pk))
    phone.get_by_label("Paid, with tax").fill("24.00")
    phone.get_by_label("For order").select_option("P-0042")
    phone.get_by_label("All that was to come on it is here").check()
    phone.get_by_label("Picture").set_input_files(
        {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": picture(2400, 1800)}
    )
    phone.get_by_role("button", name="Log").click()
    phone.wait_for_url("**/bench/")
    phone.goto("/bench/note/")
    phone.get_by_label("Note").fill("Floor is out of level")
    phone.get_by_role("button", name="Save the note").click()
    phone.wait_for_url("**/bench/")
    waiting(phone, "6 waiting")
    expect(phone.locator("#day .queued")).to_have_count(6)
    assert TimeEntry.objects.count() == 0

    signal(phone, True)
    all_sent(phone)
    logged = list(TimeEntry.objects.order_by("pk").values_list("phase__title", "seconds"))
    assert logged == [("Carcasses", 0), ("Fronts", 0), ("Fronts", 5400)]
    receipt = CostEntry.objects.get()
    assert receipt.photo.width == 1600
    assert Delivery.objects.get().receipt == receipt
    assert Note.objects.get().text == "Floor is out of level"
    phone.locator("#day li:not(.queued)", has_text="Fronts").nth(1).wait_for()


def test_a_kept_page_is_of_today(phone, phases, maker):
    """Kept yesterday and opened without a signal; a day that was chosen stays."""
    make.hours(person=maker, phase=phases["Fronts"], on_date=timezone.localdate())
    phone.goto("/bench/")
    entries = phone.locator("#day li:not(.queued)")
    expect(entries).to_have_count(1)
    phone.goto("/bench/hours/")
    yesterday = f"{timezone.localdate() - timedelta(days=1)}"
    phone.get_by_label("Day").fill(yesterday)
    signal(phone, False)
    tomorrow = timezone.localtime() + timedelta(days=1)
    phone.clock.set_fixed_time(tomorrow)
    phone.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    expect(phone.get_by_label("Day")).to_have_value(yesterday)
    phone.reload()
    expect(phone.get_by_label("Day")).to_have_value(f"{tomorrow:%Y-%m-%d}")
    phone.goto("/bench/")
    expect(entries).to_have_count(0)


def test_a_page_left_open_over_night_is_of_today(phone):
    phone.goto("/bench/cost/")
    tomorrow = timezone.localtime() + timedelta(days=1)
    phone.clock.set_fixed_time(tomorrow)
    phone.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    expect(phone.get_by_label("Day")).to_have_value(f"{tomorrow:%Y-%m-%d}")


def test_an_answer_that_is_lost_costs_nothing(phone, phases):
    lost = []

    def lose_the_first(route):
        if not lost:
            lost.append(route.fetch().status)  # the workshop has stored it; the phone never hears
            return route.abort()
        return route.continue_()

    phone.context.route("**/bench/queue/", lose_the_first)
    log_hours(phone, phases["Fronts"], "2")
    waiting(phone, "1 waiting")
    assert (lost, TimeEntry.objects.count()) == ([201], 1)
    signal(phone, True)
    all_sent(phone)
    assert TimeEntry.objects.count() == 1


def test_it_is_still_there_after_the_phone_was_put_away(phone, phases):
    signal(phone, False)
    log_hours(phone, phases["Fronts"], "2")
    context = phone.context
    phone.close()
    again = context.new_page()
    again.goto("/bench/")
    waiting(again, "1 waiting")
    context.set_offline(False)
    again.reload()
    all_sent(again)
    assert TimeEntry.objects.get().seconds == 7200


def test_a_conflict_is_shown_and_the_person_decides(phone, phases, maker):
    signal(phone, False)
    press(phone, "Fronts")
    phone.get_by_role("button", name="Stop").click()
    phone.get_by_text("No timer runs").wait_for()
    other = make.hours(person=maker, phase=phases["Carcasses"], seconds=None, started_at=make.NOW)
    signal(phone, True)
    waiting(phone, "1 to put right")
    phone.locator("#waiting").click()
    phone.get_by_text("A timer runs on Carcasses since").wait_for()
    assert TimeEntry.objects.count() == 1
    phone.get_by_role("button", name="Keep it as 0:00 h").click()
    phone.get_by_text("Nothing waits on this phone").wait_for()
    assert TimeEntry.objects.exclude(pk=other.pk).get().phase == phases["Fronts"]


def test_a_timer_forgotten_over_night_ends_when_it_is_said(phone, phases, maker):
    """And the next one, with its stop, stays what was pressed."""
    began = timezone.now() - timedelta(hours=25)
    old = make.hours(
        person=maker, phase=phases["Carcasses"], seconds=None, started_at=began, on_date=began.date()
    )
    phone.goto("/bench/")
    phone.locator("#running", has_text="Carcasses").wait_for()
    signal(phone, False)
    phone.reload()
    press(phone, "Fronts")
    phone.locator("#running").get_by_role("button", name="Stop").click()
    phone.get_by_text("No timer runs").wait_for()
    signal(phone, True)
    waiting(phone, "1 to put right")
    phone.locator("#waiting").click()
    stopped = timezone.localtime(began + timedelta(hours=8)).replace(second=0, microsecond=0)
    phone.get_by_label("When did you stop?").fill(f"{stopped:%Y-%m-%dT%H:%M}")
    phone.get_by_role("button", name="I stopped then").click()
    phone.get_by_text("Nothing waits on this phone").wait_for()
    old.refresh_from_db()
    assert old.ended_at == stopped
    new = TimeEntry.objects.exclude(pk=old.pk).get()
    assert new.started_at > began + timedelta(hours=24)
    assert new.seconds == 0


def test_what_is_amiss_is_put_right_in_its_form(phone, phases):
    signal(phone, False)
    log_hours(phone, phases["Fronts"], "all day")
    signal(phone, True)
    waiting(phone, "1 to put right")
    phone.locator("#waiting").click()
    phone.get_by_role("link", name="Put right", exact=True).click()
    expect(phone.get_by_label("or typed")).to_have_value("all day")
    phone.get_by_label("or typed").fill("8")
    phone.get_by_role("button", name="Log").click()
    phone.wait_for_url("**/bench/")
    all_sent(phone)
    assert TimeEntry.objects.get().seconds == 8 * 3600


@pytest.fixture
def refused_receipt(phone, phases):
    """A receipt with its picture, back in its form with the sum that was amiss."""
    signal(phone, False)
    phone.goto("/bench/cost/")
    phone.get_by_label("Phase").select_option(str(phases["Carcasses"].pk))
    phone.get_by_label("Paid, with tax").fill("24,0,0")
    phone.get_by_label("Picture").set_input_files(
        {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": picture(800, 600)}
    )
    phone.get_by_role("button", name="Log").click()
    phone.wait_for_url("**/bench/")
    signal(phone, True)
    waiting(phone, "1 to put right")
    phone.locator("#waiting").click()
    phone.get_by_role("link", name="Put right", exact=True).click()
    phone.get_by_text("A picture is attached").wait_for()
    phone.get_by_label("Paid, with tax").fill("24.00")
    return phone


def log_it(page):
    page.get_by_role("button", name="Log").click()
    page.wait_for_url("**/bench/")
    all_sent(page)


def test_a_receipt_put_right_keeps_its_picture(refused_receipt, amiss):
    keep_picture(refused_receipt, "bench-mend-receipt")
    assert amiss(refused_receipt) == []
    log_it(refused_receipt)
    assert CostEntry.objects.get().photo.width == 800


def test_a_receipt_put_right_takes_another_picture(refused_receipt):
    refused_receipt.get_by_label("Picture").set_input_files(
        {"name": "b.jpg", "mimeType": "image/jpeg", "buffer": picture(400, 300)}
    )
    log_it(refused_receipt)
    assert CostEntry.objects.get().photo.width == 400


def test_a_receipt_put_right_goes_without_its_picture(refused_receipt):
    refused_receipt.get_by_role("button", name="Leave it out").click()
    log_it(refused_receipt)
    assert CostEntry.objects.get().photo is None


def choose_carcasses(page, phases):
    """In the form of what stood on the fronts, which were taken out."""
    page.get_by_text("That phase was taken out. Choose another.").wait_for()
    page.get_by_label("Phase").select_option(str(phases["Carcasses"].pk))


def test_a_timers_hours_of_a_phase_taken_out_become_typed_ones(phone, phases):
    """Three hours and a half on the fronts, of the day before."""
    yesterday = timezone.localtime().replace(hour=9, minute=0) - timedelta(days=1)
    signal(phone, False)
    phone.clock.set_fixed_time(yesterday)
    press(phone, "Fronts")
    phone.clock.set_fixed_time(yesterday + timedelta(hours=3, minutes=30))
    phone.get_by_role("button", name="Stop").click()
    phone.get_by_text("No timer runs").wait_for()
    phases["Fronts"].delete()
    signal(phone, True)
    waiting(phone, "1 to put right")
    phone.locator("#waiting").click()
    keep_picture(phone, "bench-mend-timer-queue")
    phone.get_by_role("link", name="Put right", exact=True).click()
    choose_carcasses(phone, phases)
    expect(phone.get_by_label("or typed")).to_have_value("3:30")
    expect(phone.get_by_label("Day")).to_have_value(f"{yesterday:%Y-%m-%d}")
    keep_picture(phone, "bench-mend-timer")
    log_it(phone)
    entry = TimeEntry.objects.get()
    assert (entry.phase, entry.seconds) == (phases["Carcasses"], 12600)
    assert entry.on_date == yesterday.date()


def test_a_note_put_right_keeps_the_time_it_was_written_at(phone, phases):
    written = timezone.now() - timedelta(hours=5)
    signal(phone, False)
    phone.clock.set_fixed_time(written)
    phone.goto("/bench/note/")
    phone.get_by_label("Phase").select_option(str(phases["Fronts"].pk))
    phone.get_by_label("Note").fill("Floor is out of level")
    phone.get_by_role("button", name="Save the note").click()
    phone.wait_for_url("**/bench/")
    phone.clock.set_fixed_time(timezone.now())
    phases["Fronts"].delete()
    signal(phone, True)
    waiting(phone, "1 to put right")
    phone.locator("#waiting").click()
    phone.get_by_role("link", name="Put right", exact=True).click()
    choose_carcasses(phone, phases)
    phone.get_by_role("button", name="Save the note").click()
    phone.wait_for_url("**/bench/")
    all_sent(phone)
    assert abs(Note.objects.get().written_at - written) < timedelta(seconds=1)


def test_dropping_takes_two_presses(phone, phases):
    signal(phone, False)
    log_hours(phone, phases["Fronts"], "all day")
    signal(phone, True)
    waiting(phone, "1 to put right")
    phone.locator("#waiting").click()
    phone.get_by_role("button", name="Drop").click()
    phone.get_by_role("button", name="Drop it for good").click()
    phone.get_by_text("Nothing waits on this phone").wait_for()


def log_in(page, person, live_server):
    page.context.clear_cookies()
    page.context.add_cookies([session_cookie(person, live_server.url)])


def leave_picture(page):
    page.goto("/bench/note/")
    page.get_by_label("Picture").set_input_files(
        {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": picture(2400, 1800)}
    )
    page.get_by_role("button", name="Save the note").click()
    page.wait_for_url("**/bench/")


def answer_with(page, status, which):
    """On the pages opened from now on, these writes to the workshop are answered so."""
    page.add_init_script(
        f"const real = window.fetch; window.amiss = (asked) => {which};"
        "window.fetch = (address, asked = {}) => asked.method && window.amiss(asked)"
        f" ? Promise.resolve(new Response('no', {{ status: {status} }})) : real(address, asked);"
    )


@pytest.mark.parametrize(
    ("status", "presses", "words"),
    [
        pytest.param(413, 1, "more than the workshop's server takes in", id="too large"),
        pytest.param(500, 3, "failed at this three times", id="a fault of the server"),
    ],
)
def test_one_message_keeps_no_other_from_going(status, presses, words, phone, phases):
    signal(phone, False)
    leave_picture(phone)
    log_hours(phone, phases["Fronts"], "2")
    waiting(phone, "2 waiting")
    answer_with(phone, status, "asked.body?.includes('\"photo\"')")
    phone.goto("/bench/queue/")
    phone.context.set_offline(False)
    for _ in range(presses):
        phone.locator("#send-now").dispatch_event("click")
        phone.wait_for_timeout(500)
    phone.get_by_text(words).wait_for()
    waiting(phone, "1 to put right")
    assert TimeEntry.objects.get().seconds == 7200


def test_a_server_that_is_away_is_waited_for(phone, phases):
    """A proxy in front of it answers meanwhile."""
    signal(phone, False)
    log_hours(phone, phases["Fronts"], "2")
    answer_with(phone, 502, "true")
    phone.goto("/bench/queue/")
    phone.context.set_offline(False)
    for _ in range(4):
        phone.locator("#send-now").dispatch_event("click")
        phone.wait_for_timeout(300)
    waiting(phone, "1 waiting")
    phone.get_by_text("The workshop's server has a fault").wait_for()
    phone.evaluate("window.amiss = () => false")
    phone.locator("#send-now").dispatch_event("click")
    all_sent(phone)


def test_a_picture_is_given_the_time_it_takes_over_a_thin_signal(phone, phases):
    """20 s, and a second for every 5 kB."""
    phone.add_init_script(
        "const real = AbortSignal.timeout; window.asked = [];"
        "AbortSignal.timeout = (ms) => { window.asked.push(ms); return real.call(AbortSignal, ms); };"
    )
    phone.context.route("**/bench/queue/", lambda route: route.abort())
    leave_picture(phone)
    waiting(phone, "1 waiting")
    phone.goto("/bench/queue/")
    until(phone, "window.asked.length > 0")
    size = phone.evaluate(
        "new Promise((done) => (indexedDB.open('kerfbook').onsuccess = (opened) =>"
        " (opened.target.result.transaction('queue').objectStore('queue').getAll().onsuccess = (found) =>"
        " done(found.target.result[0].photo.size))))"
    )
    assert phone.evaluate("window.asked[0]") > 20000 + size / 5


def test_what_waits_can_be_dropped(phone, phases):
    signal(phone, False)
    log_hours(phone, phases["Fronts"], "2")
    phone.locator("#waiting").click()
    phone.get_by_role("button", name="Drop").click()
    phone.get_by_role("button", name="Drop it for good").click()
    phone.get_by_text("Nothing waits on this phone").wait_for()


def test_one_persons_queue_waits_while_another_is_logged_in(phone, phases, owner, maker, live_server):
    signal(phone, False)
    log_hours(phone, phases["Fronts"], "2")
    phone.goto("/bench/queue/")
    log_in(phone, owner, live_server)
    signal(phone, True)  # the page opened before is still the maker's
    phone.get_by_text("Log in again, then it goes by itself").wait_for()
    expect(phone.get_by_text("Waits for a signal")).to_have_count(1)
    phone.goto("/bench/")
    phone.get_by_text("Olive Owner").wait_for()
    assert phone.locator("#waiting").is_hidden()
    assert TimeEntry.objects.count() == 0

    log_in(phone, maker, live_server)
    phone.goto("/bench/")
    expect(phone.locator("#day li:not(.queued)", has_text="Fronts")).to_have_count(1)
    assert [entry.person for entry in TimeEntry.objects.all()] == [maker]


def test_who_is_logged_out_leaves_no_page_behind(phone):
    phone.context.clear_cookies()
    phone.goto("/bench/")
    phone.wait_for_url("**/log-in/**")
    assert phone.evaluate("caches.has('kerfbook-pages')") is False


def test_elsewhere_without_a_signal_the_bench_is_shown(phone):
    signal(phone, False)
    phone.goto("/")
    phone.wait_for_url("**/bench/")
