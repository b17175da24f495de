"""What is typed about the workshop: its letterhead, and its rules of money, time and quotes."""

from __future__ import annotations

import io
import re
import zoneinfo
from decimal import Decimal
from typing import Any

from babel import Locale, UnknownLocaleError
from django import forms
from django.core.exceptions import ValidationError

from jobs.forms.versioned import VersionedForm
from jobs.models import LabourRate, TaxRate, Workshop
from jobs.money import UnknownCurrencyError, minor_digits

MOST_MARKUP = Decimal(1000)
WHOLE = Decimal(100)
LOGO_BYTES = 2 * 1024 * 1024
LOGO_SIDE = 1200
ROUNDINGS = [
    (0, "to the minute"),
    (5, "5 minutes"),
    (6, "6 minutes"),
    (15, "15 minutes"),
    (30, "half an hour"),
]
NAME = ["name", "address", "email", "phone", "website"]
NUMBERS = ["registration_number", "tax_number", "not_registered_for_tax", "bank_details"]
CATEGORIES = [
    ("S", "standard or reduced rate"),
    ("Z", "zero rate"),
    ("E", "exempt"),
    ("AE", "reverse charge: the client accounts for it"),
    ("O", "outside the scope: the workshop is not registered"),
]
STAGE = re.compile(r"(?P<percent>\d+(?:[.,]\d+)?)\s*%?\s+(?P<title>\S.*)")
DAY = forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")


def share(value: Decimal, most: Decimal = WHOLE) -> Decimal:
    """A share in per cent between nothing and `most`."""
    if not 0 <= value <= most:
        raise ValidationError(f"Between 0 and {most} %.")
    return value


class LetterheadForm(VersionedForm):
    """Who the workshop is, as it stands at the head of its papers."""

    website = forms.URLField(assume_scheme="https", required=False)
    logo_file = forms.FileField(
        label="Logo", required=False, help_text="PNG or JPEG, at most 2 MB. It replaces the one there is."
    )
    no_logo = forms.BooleanField(label="Take the logo off", required=False)

    class Meta:
        model = Workshop
        fields = [*NAME, *NUMBERS]
        labels = {"email": "E-mail"}
        widgets = {
            "address": forms.Textarea(attrs={"rows": 4}),
            "bank_details": forms.Textarea(attrs={"rows": 3}),
        }

    def clean_logo_file(self) -> bytes | None:
        upload = self.cleaned_data["logo_file"]
        return logo_bytes(upload) if upload else None

    @property
    def details(self) -> dict[str, Any]:
        """The letterhead, and the logo where a new one came or the old one goes."""
        details = {name: self.cleaned_data[name] for name in self.Meta.fields}
        if self.cleaned_data["logo_file"]:
            details |= {"logo": self.cleaned_data["logo_file"], "logo_type": "image/png"}
        elif self.cleaned_data["no_logo"]:
            details |= {"logo": None, "logo_type": ""}
        return details


class PlaceForm(VersionedForm):
    """Where the workshop is: its money, language, clock, measures and paper."""

    class Meta:
        model = Workshop
        fields = ["country", "currency", "locale", "time_zone", "measurement", "paper"]
        labels = {"locale": "Way of writing numbers and dates"}
        help_texts = {
            "country": "Two letters, such as GB.",
            "currency": "The code of ISO 4217, such as GBP. Amounts already entered keep their figures.",
            "locale": "Such as en_GB or de_DE.",
            "time_zone": "Such as Europe/London.",
        }

    def clean_country(self) -> str:
        country = str(self.cleaned_data["country"]).strip().upper()
        if not re.fullmatch("[A-Z]{2}", country):
            raise ValidationError("Two letters, such as GB or IE.")
        return country

    def clean_currency(self) -> str:
        currency = str(self.cleaned_data["currency"]).strip().upper()
        try:
            minor_digits(currency)
        except UnknownCurrencyError:
            raise ValidationError("This is no currency code of ISO 4217. Pounds sterling are GBP.") from None
        return currency

    def clean_locale(self) -> str:
        locale = str(self.cleaned_data["locale"]).strip().replace("-", "_")
        try:
            return str(Locale.parse(locale))
        except (UnknownLocaleError, ValueError):
            raise ValidationError("An unknown locale. British English is en_GB.") from None

    def clean_time_zone(self) -> str:
        name = str(self.cleaned_data["time_zone"]).strip()
        try:
            zoneinfo.ZoneInfo(name)
        except (zoneinfo.ZoneInfoNotFoundError, ValueError, OSError):
            raise ValidationError("An unknown time zone. Such as Europe/London.") from None
        return name


class MoneyForm(VersionedForm):
    """The rules by which cost becomes price."""

    class Meta:
        model = Workshop
        fields = [
            "overhead_an_hour", "overhead_percent", "contingency_percent", "labour_at_charge_rate",
            "labour_markup_percent", "material_markup_percent", "other_markup_percent", "alert_percent",
        ]  # fmt: skip
        help_texts = {
            "overhead_percent": "On hours or on cost: a quote bears one of the two.",
            "labour_at_charge_rate": "In place of overhead, contingency and markup on new lines of labour.",
            "labour_markup_percent": "Markup is on cost: 25 % on 100 is a price of 125, a margin of 20 %.",
            "alert_percent": "A job, or a phase, that is forecast to pass its budget by more is pointed out.",
        }

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        for name in self.Meta.fields:
            value = cleaned.get(name)
            most = MOST_MARKUP if "markup" in name else WHOLE
            if value is not None and name.endswith("percent") and not 0 <= value <= most:
                self.add_error(name, f"Between 0 and {most} %.")
        if (cleaned.get("overhead_an_hour") or 0) < 0:
            self.add_error("overhead_an_hour", "Not less than nothing.")
        if cleaned.get("overhead_an_hour") and cleaned.get("overhead_percent"):
            self.add_error("overhead_percent", "Either on each hour or on cost: leave one of the two at 0.")
        return cleaned


class HoursForm(VersionedForm):
    """How hours are counted."""

    round_minutes_to = forms.TypedChoiceField(label="Hours are rounded to", choices=ROUNDINGS, coerce=int)

    class Meta:
        model = Workshop
        fields = ["hours_a_day", "round_minutes_to"]
        labels = {"hours_a_day": "Working hours a day"}

    def clean_hours_a_day(self) -> Decimal:
        hours = Decimal(self.cleaned_data["hours_a_day"])
        if not 0 < hours <= 24:
            raise ValidationError("More than 0, at most 24.")
        return hours


class QuoteRulesForm(VersionedForm):
    """What every quote starts from."""

    stages = forms.CharField(
        label="Payment stages",
        required=False,
        widget=forms.Textarea(attrs={"rows": 4}),
        help_text="One a line, the share first: 40 % deposit on acceptance. They add up to 100 %.",
    )

    class Meta:
        model = Workshop
        fields = ["quote_days_valid", "quote_terms", "quote_exclusions", "payment_days"]
        labels = {
            "quote_days_valid": "A quote holds for, days",
            "payment_days": "An invoice is due after, days",
        }

    field_order = ["quote_days_valid", "payment_days", "stages"]

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        stages = self.instance.payment_stages
        self.initial["stages"] = "\n".join(f"{stage['percent']} % {stage['title']}" for stage in stages)

    def clean_stages(self) -> list[dict[str, str]]:
        lines = [line.strip() for line in self.cleaned_data["stages"].splitlines() if line.strip()]
        stages = [_stage(line) for line in lines]
        whole = sum((Decimal(stage["percent"]) for stage in stages), Decimal(0))
        if stages and whole != WHOLE:
            raise ValidationError(f"The stages add up to {whole} %, not to 100 %.")
        return stages

    def clean_quote_days_valid(self) -> int:
        days = int(self.cleaned_data["quote_days_valid"])
        if not 1 <= days <= 365:
            raise ValidationError("From 1 to 365 days.")
        return days

    @property
    def details(self) -> dict[str, Any]:
        """The rules, with the stages as they are kept."""
        details = {name: self.cleaned_data[name] for name in self.Meta.fields}
        return details | {"payment_stages": self.cleaned_data["stages"]}


class TaxRateForm(VersionedForm):
    """A named rate of tax from a day on."""

    category = forms.ChoiceField(choices=CATEGORIES)

    class Meta:
        model = TaxRate
        fields = ["name", "category", "percent", "reason", "from_date", "is_default"]
        labels = {"percent": "Rate, %", "from_date": "From", "is_default": "New quotes start with this rate"}
        widgets = {"from_date": DAY}

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        percent, category = cleaned.get("percent"), cleaned.get("category")
        if percent is None:
            return cleaned
        if not 0 <= percent <= WHOLE:
            self.add_error("percent", "Between 0 and 100 %.")
        elif category == "S" and percent == 0:
            self.add_error("percent", "More than nothing; for nothing choose the zero rate.")
        elif category != "S" and percent != 0:
            self.add_error("percent", "No tax is charged in this category, so the rate is 0.")
        if category in ("E", "AE") and not cleaned.get("reason"):
            self.add_error("reason", "The law asks for the reason on the invoice.")
        return cleaned


class LabourRateForm(VersionedForm):
    """What an hour of a trade costs and is charged at, from a day on."""

    class Meta:
        model = LabourRate
        fields = ["name", "from_date", "cost_rate", "charge_rate"]
        labels = {
            "name": "Trade",
            "from_date": "From",
            "cost_rate": "Costs the workshop an hour",
            "charge_rate": "Charged an hour",
        }
        widgets = {"from_date": DAY}

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        refuse_below_nothing(self, cleaned, "cost_rate", "charge_rate")
        return cleaned


def refuse_below_nothing(form: forms.BaseForm, cleaned: dict[str, Any], *names: str) -> None:
    """An hour may cost nothing, but not less."""
    for name in names:
        if cleaned.get(name) is not None and cleaned[name] < 0:
            form.add_error(name, "Not less than nothing.")


def logo_bytes(upload: Any) -> bytes:
    """The picture as a PNG of its own, without whatever else the file held."""
    from PIL import Image, UnidentifiedImageError  # slow import

    if upload.size > LOGO_BYTES:
        raise ValidationError("This file is over 2 MB. A smaller picture prints as well.")
    try:
        with Image.open(upload, formats=["PNG", "JPEG"]) as picture:
            picture.thumbnail((LOGO_SIDE, LOGO_SIDE))
            out = io.BytesIO()
            picture.convert("RGBA").save(out, "PNG")
    except (UnidentifiedImageError, OSError, ValueError, Image.DecompressionBombError):
        raise ValidationError("This is no PNG or JPEG picture.") from None
    return out.getvalue()


def _stage(line: str) -> dict[str, str]:
    found = STAGE.fullmatch(line)
    if not found:
        raise ValidationError(f"“{line}” does not start with a share, such as: 40 % deposit on acceptance.")
    percent = Decimal(found["percent"].replace(",", "."))
    if percent <= 0:
        raise ValidationError(f"“{line}” asks for nothing.")
    return {"title": found["title"].strip(), "percent": f"{percent.normalize():f}"}
