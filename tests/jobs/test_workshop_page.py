"""The workshop's rules: shown on one page, changed section by section, nonsense said beside the field."""

from __future__ import annotations

import io
from decimal import Decimal

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client as Browser
from django.urls import reverse
from PIL import Image

from jobs.models import HistoryEntry, LabourRate, TaxRate, Workshop
from tests import make
from tests.checks import queries_of, says
from tests.pictures import picture

LETTERHEAD = {"name": "Thornbeck Joinery", "address": "1 Mill Lane"}
PLACE = {
    "country": "IE",
    "currency": "eur",
    "locale": "en-IE",
    "time_zone": "Europe/Dublin",
    "measurement": "feet",
    "paper": "A4",
}
MONEY = {
    "overhead_an_hour": "4.50",
    "overhead_percent": "0",
    "contingency_percent": "5",
    "labour_markup_percent": "40",
    "material_markup_percent": "20",
    "other_markup_percent": "15",
    "alert_percent": "10",
}
HOURS = {"hours_a_day": "7.5", "round_minutes_to": "15"}
QUOTES = {"quote_days_valid": "30", "payment_days": "14", "stages": "40 % deposit\n60% on handover"}
SECTIONS = {"letterhead": LETTERHEAD, "place": PLACE, "pricing": MONEY, "hours": HOURS, "quotes": QUOTES}


def section(name: str) -> str:
    return reverse("jobs:workshop-edit", args=[name])


def stored() -> Workshop:
    return Workshop.objects.get(pk=1)


@pytest.mark.parametrize("count", [1, 3])
def test_the_page_takes_as_many_queries_however_much_is_set(as_owner: Browser, count: int) -> None:
    for _ in range(count):
        make.person()
        make.tax_rate()
        make.labour_rate()
        make.phase_list("Lining")
    assert queries_of(as_owner, reverse("jobs:workshop")) == 8


@pytest.mark.parametrize("name", SECTIONS)
def test_each_section_is_saved(as_owner: Browser, name: str) -> None:
    answer = as_owner.post(section(name), {**SECTIONS[name], "version": 1})
    assert answer.status_code == 302, answer.context["form"].errors
    assert stored().version == 2
    assert HistoryEntry.objects.get(record="workshop").action == "edited"


def test_what_was_saved_is_tidied(as_owner: Browser) -> None:
    as_owner.post(section("place"), {**PLACE, "version": 1})
    assert (stored().currency, stored().locale) == ("EUR", "en_IE")


@pytest.mark.parametrize(
    ("name", "typed", "said"),
    [
        ("letterhead", {"name": ""}, "This field is required."),
        ("letterhead", {"email": "nobody"}, "Enter a valid email address."),
        ("place", {"currency": "GPB"}, "no currency code of ISO 4217"),
        ("place", {"country": "Eire"}, "Ensure this value has at most 2 characters"),
        ("place", {"country": "1E"}, "Two letters, such as GB or IE."),
        ("place", {"locale": "xx_YY"}, "An unknown locale."),
        ("place", {"time_zone": "Mars/Olympus"}, "An unknown time zone."),
        ("place", {"time_zone": "../etc"}, "An unknown time zone."),
        ("pricing", {"contingency_percent": "101"}, "Between 0 and 100 %."),
        ("pricing", {"labour_markup_percent": "1001"}, "Between 0 and 1000 %."),
        ("pricing", {"alert_percent": "-1"}, "Between 0 and 100 %."),
        ("pricing", {"overhead_an_hour": "-1"}, "Not less than nothing."),
        ("pricing", {"overhead_percent": "4"}, "Either on each hour or on cost"),
        ("pricing", {"overhead_percent": "much"}, "Enter a number."),
        ("hours", {"hours_a_day": "0"}, "More than 0, at most 24."),
        ("hours", {"hours_a_day": "25"}, "More than 0, at most 24."),
        ("hours", {"round_minutes_to": "7"}, "7 is not one of the available choices"),
        ("quotes", {"stages": "40 % deposit\n50 % handover"}, "add up to 90 %, not to 100 %."),
        ("quotes", {"stages": "deposit"}, "does not start with a share"),
        ("quotes", {"stages": "0 % nothing\n100 % rest"}, "asks for nothing"),
        ("quotes", {"quote_days_valid": "0"}, "From 1 to 365 days."),
    ],
)
def test_nonsense_is_said_beside_the_field(
    as_owner: Browser, name: str, typed: dict[str, str], said: str
) -> None:
    before = Workshop.objects.values().get()
    answer = as_owner.post(section(name), {**SECTIONS[name], **typed, "version": 1})
    assert answer.status_code == 422
    field = next(iter(typed))
    assert any(said in error for error in answer.context["form"].errors[field]), answer.context["form"].errors
    assert answer.context["form"][field].value() == typed[field]
    assert Workshop.objects.values().get() == before


def test_stages_are_kept_as_shares(as_owner: Browser) -> None:
    as_owner.post(section("quotes"), {**QUOTES, "stages": "33,5 % first\n66.5 rest", "version": 1})
    assert stored().payment_stages == [
        {"title": "first", "percent": "33.5"},
        {"title": "rest", "percent": "66.5"},
    ]
    assert says(as_owner.get(section("quotes")), "33.5 % first\n66.5 % rest")


def test_somebody_without_a_rate_is_shown_without_one(as_owner: Browser) -> None:
    make.person("Nia No-rate", rate=None)
    assert says(as_owner.get(reverse("jobs:workshop")), "Nia No-rate")


def test_the_later_save_is_shown_both_versions(as_owner: Browser) -> None:
    as_owner.post(section("hours"), {**HOURS, "version": 1})
    answer = as_owner.post(section("hours"), {**HOURS, "hours_a_day": "9", "version": 1})
    assert answer.status_code == 409
    assert says(answer, "7.5", "9")


def test_an_unknown_section_is_not_there(as_owner: Browser) -> None:
    assert as_owner.get(section("secrets")).status_code == 404


@pytest.mark.parametrize("kind", ["PNG", "JPEG"])
def test_a_logo_is_kept_as_a_picture_of_its_own(as_owner: Browser, kind: str) -> None:
    upload = SimpleUploadedFile("logo", picture(3000, 600, kind))
    as_owner.post(section("letterhead"), {**LETTERHEAD, "logo_file": upload, "version": 1})
    answer = as_owner.get(reverse("jobs:logo"))
    assert answer.headers["Content-Type"] == "image/png"
    assert Image.open(io.BytesIO(answer.content)).size == (1200, 240)


def test_a_file_that_is_no_picture_is_refused(as_owner: Browser) -> None:
    upload = SimpleUploadedFile("logo.png", b"<svg onload='alert(1)'/>")
    answer = as_owner.post(section("letterhead"), {**LETTERHEAD, "logo_file": upload, "version": 1})
    assert says(answer, "This is no PNG or JPEG picture.", "Thornbeck Joinery")


def test_the_logo_comes_off(as_owner: Browser) -> None:
    make.logo()
    as_owner.post(section("letterhead"), {**LETTERHEAD, "no_logo": "on", "version": 1})
    assert as_owner.get(reverse("jobs:logo")).status_code == 404


TAX = {"name": "VAT", "category": "S", "percent": "20", "from_date": "2026-01-01"}


def test_a_tax_rate_is_added_and_becomes_the_one_to_start_with(as_owner: Browser) -> None:
    as_owner.post(reverse("jobs:tax-rate-add"), {**TAX, "is_default": "on"})
    assert [rate.name for rate in TaxRate.objects.filter(is_default=True)] == ["VAT"]


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"percent": "-1"}, "percent"),
        ({"percent": "101"}, "percent"),
        ({"percent": "0"}, "percent"),
        ({"category": "Z"}, "percent"),
        ({"category": "E", "percent": "0"}, "reason"),
        ({"from_date": "today"}, "from_date"),
        ({"category": "X"}, "category"),
    ],
)
def test_a_wrong_tax_rate_is_said_beside_the_field(
    as_owner: Browser, typed: dict[str, str], field: str
) -> None:
    answer = as_owner.post(reverse("jobs:tax-rate-add"), {**TAX, **typed})
    assert answer.status_code == 422
    assert field in answer.context["form"].errors


def test_two_rates_of_a_name_from_one_day_are_refused(as_owner: Browser) -> None:
    for _ in range(2):
        answer = as_owner.post(reverse("jobs:tax-rate-add"), TAX)
    assert answer.status_code == 422
    assert TaxRate.objects.filter(name="VAT").count() == 1


def test_a_tax_rate_is_changed(as_owner: Browser) -> None:
    rate = make.tax_rate()
    as_owner.post(reverse("jobs:tax-rate", args=[rate.pk]), {**TAX, "percent": "21", "version": "1"})
    rate.refresh_from_db()
    assert rate.percent == 21


def test_a_trade_rate_is_added_and_changed(as_owner: Browser) -> None:
    typed = {"name": "Joiner", "from_date": "2026-01-01", "cost_rate": "21.50", "charge_rate": "42"}
    as_owner.post(reverse("jobs:labour-rate-add"), typed)
    rate = LabourRate.objects.get()
    as_owner.post(reverse("jobs:labour-rate", args=[rate.pk]), {**typed, "cost_rate": "22", "version": "1"})
    assert LabourRate.objects.get().cost_rate == Decimal(22)


def test_a_trade_rate_below_nothing_is_refused(as_owner: Browser) -> None:
    typed = {"name": "Joiner", "from_date": "2026-01-01", "cost_rate": "-1", "charge_rate": "42"}
    assert says(as_owner.post(reverse("jobs:labour-rate-add"), typed), "Not less than nothing.")


@pytest.mark.parametrize("name", ["tax-rate", "labour-rate", "person", "phase-list"])
def test_what_is_unknown_is_not_there(as_owner: Browser, name: str) -> None:
    assert as_owner.get(reverse(f"jobs:{name}", args=[999])).status_code == 404
