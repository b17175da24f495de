"""What may be typed at the bench, or be sent by a phone that typed it an hour ago?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils import timezone

from jobs import receipts
from jobs.enums import CostKind
from jobs.models import Change, Phase, TaxRate
from jobs.money import tax_inside
from jobs.photos import Picture, read_picture
from jobs.progress.stretches import read_hours
from jobs.queries.bench import JobChoice
from jobs.refusals import RefusedError
from jobs.workshop import current_workshop

PICKS = [("0:30", "½"), ("1", "1"), ("2", "2"), ("3", "3"), ("4", "4"), ("5", "5"), ("6", "6"), ("8", "8")]
YEARS = range(2000, 3000)
PHASE_GONE = {"invalid_choice": "That phase was taken out. Choose another."}


class HoursInput(forms.CharField):
    """A length of time as makers write it, given on as seconds."""

    def to_python(self, value: Any) -> Any:
        text = super().to_python(value)
        if not text:
            return None
        try:
            return read_hours(text)
        except ValueError as fault:
            raise ValidationError(str(fault)) from None


def check_year(on: date) -> None:
    """Refuses what no reckoning with time zones and days could follow."""
    if on.year not in YEARS:
        raise ValidationError("Look at the year: is the clock right?")


class InstantInput(forms.DateTimeField):
    """An instant of a clock that knows its year; one that was never set may tell of the year 1."""

    def to_python(self, value: Any) -> datetime | None:
        at = super().to_python(value)
        if at is not None:
            check_year(at)
        return at


class PictureInput(forms.FileField):
    """A picture, told by its content and made small; given on as `Picture`."""

    widget = forms.FileInput(attrs={"accept": "image/*"})

    def clean(self, data: Any, initial: Any = None) -> Picture | None:
        sent = super().clean(data, initial)
        if not sent:
            return None
        try:
            return read_picture(sent.read())
        except RefusedError as refused:
            raise ValidationError(str(refused)) from None


class KeyForm(forms.Form):
    """Every write carries a key, so that it's done once."""

    key = forms.UUIDField(widget=forms.HiddenInput)


def offer_phases(form: forms.Form, jobs: Sequence[JobChoice]) -> None:
    """Draw the phases under their jobs."""
    form.fields["phase"].widget.choices = [
        (f"{job.number} {job.title}", [(phase.pk, f"{phase.title} · {job.title}") for phase in job.phases])
        for job in jobs
    ]


class WorkForm(KeyForm):
    """On what was worked, and for which change if for one."""

    phase = forms.ModelChoiceField(Phase.objects.select_related("job"), error_messages=PHASE_GONE)
    change = forms.ModelChoiceField(Change.objects.all(), required=False, empty_label="the job as agreed")

    def offer(self, jobs: Sequence[JobChoice]) -> None:
        """Draw these jobs' phases and changes; what else is sent is for the service to judge."""
        offer_phases(self, jobs)
        self.fields["change"].widget.choices = [
            ("", "the job as agreed"),
            *(
                (job.title, [(change.pk, change.words) for change in job.changes])
                for job in jobs
                if job.changes
            ),
        ]


class StartForm(WorkForm):
    """Start a timer; from a phone, at its own time."""

    at = InstantInput(required=False)
    note = forms.CharField(max_length=240, required=False)


class SwitchForm(StartForm):
    """Stop what runs and start this. `stopped_at` is when the old one stopped, where that was earlier."""

    stops = forms.UUIDField(required=False)
    stopped_at = InstantInput(required=False)
    sure = forms.BooleanField(required=False)


class StopForm(forms.Form):
    """Stop a timer, now or at the time that is said."""

    timer = forms.UUIDField()
    at = InstantInput(required=False)
    day = forms.DateField(required=False)
    clock = forms.TimeField(required=False)
    sure = forms.BooleanField(required=False)
    note = forms.CharField(max_length=240, required=False)

    def clean(self) -> dict[str, Any]:
        said = super().clean() or {}
        if said.get("day") and said.get("clock"):
            check_year(said["day"])
            said["at"] = timezone.make_aware(datetime.combine(said["day"], said["clock"]))
            said["sure"] = True
        return said


class StretchForm(WorkForm):
    """A stretch of work that is over."""

    started_at = InstantInput()
    ended_at = InstantInput()
    note = forms.CharField(max_length=240, required=False)


class HoursForm(WorkForm):
    """Hours of a day, picked or typed."""

    pick = forms.ChoiceField(label="Hours", choices=PICKS, required=False, widget=forms.RadioSelect)
    hours = HoursInput(
        label="or typed",
        required=False,
        widget=forms.TextInput(attrs={"placeholder": "7:30", "inputmode": "text"}),
    )
    on_date = forms.DateField(label="Day", widget=forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"}))
    note = forms.CharField(max_length=240, required=False)

    def clean(self) -> dict[str, Any]:
        said = super().clean() or {}
        if "hours" not in self.errors and said.get("hours") is None:
            said["hours"] = read_hours(said["pick"]) if said.get("pick") else None
            if not said["hours"]:
                self.add_error("hours", "How long did it take?")
        return said


class CostForm(WorkForm):
    """A receipt: what was paid with tax, what it was, and a picture of the paper."""

    field_order = (
        "key", "total", "photo", "phase", "change", "order", "all_came", "supplier", "rate", "tax", "kind",
    )  # fmt: skip

    total = forms.DecimalField(
        label="Paid, with tax",
        max_digits=12,
        decimal_places=3,
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
    )
    rate = forms.ModelChoiceField(TaxRate.objects.all(), label="Tax", required=False, empty_label="no tax")
    tax = forms.DecimalField(
        label="Tax, if the paper says another figure",
        max_digits=12,
        decimal_places=3,
        required=False,
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
    )
    kind = forms.ChoiceField(choices=CostKind, initial=CostKind.MATERIAL)
    order = forms.CharField(label="For order", max_length=20, required=False, widget=forms.Select)
    all_came = forms.BooleanField(label="All that was to come on it is here", required=False)
    supplier = forms.CharField(
        max_length=120, required=False, widget=forms.TextInput(attrs={"list": "suppliers"})
    )
    description = forms.CharField(label="What for", max_length=200, required=False)
    on_date = forms.DateField(label="Day", widget=forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"}))
    photo = PictureInput(label="Picture of the receipt", required=False)

    def offer(self, jobs: Sequence[JobChoice]) -> None:
        """Draw the open orders under their suppliers as well; without any there is nothing to ask.

        Nor is there anything to ask of the tax where none can be claimed back.
        """
        super().offer(jobs)
        by_supplier: dict[str, list[tuple[str, str]]] = {}
        for order in receipts.open_orders():
            by_supplier.setdefault(order.supplier, []).append((order.number, f"{order.number} · {order.job}"))
        if by_supplier:
            self.fields["order"].widget.choices = [("", "no order"), *by_supplier.items()]
        else:
            del self.fields["order"], self.fields["all_came"]
        if current_workshop().not_registered_for_tax:
            del self.fields["rate"], self.fields["tax"]
        self.suppliers = receipts.suppliers()

    def clean(self) -> dict[str, Any]:
        said = super().clean() or {}
        total, tax, rate = said.get("total"), said.get("tax"), said.get("rate")
        if total is not None and tax is None:
            tax = tax_inside(total, rate.percent, current_workshop().currency) if rate else Decimal(0)
        said["tax"], said["net"] = tax, None if total is None or tax is None else total - tax
        return said


class NoteForm(KeyForm):
    """Words or a picture for the desk."""

    phase = forms.ModelChoiceField(Phase.objects.select_related("job"), error_messages=PHASE_GONE)
    text = forms.CharField(
        label="Note", required=False, max_length=4000, widget=forms.Textarea(attrs={"rows": 3})
    )
    photo = PictureInput(label="Picture", required=False)
    at = InstantInput(required=False, widget=forms.HiddenInput)

    def offer(self, jobs: Sequence[JobChoice]) -> None:
        """Draw these jobs' phases."""
        offer_phases(self, jobs)


FORMS: Mapping[str, type[forms.Form]] = {
    "start": StartForm,
    "switch": SwitchForm,
    "stop": StopForm,
    "stretch": StretchForm,
    "hours": HoursForm,
    "cost": CostForm,
    "note": NoteForm,
}


def messages_by_field(form: forms.Form) -> dict[str, Sequence[str]]:
    """The form's complaints as plain lists."""
    return {name: [str(one) for one in said] for name, said in form.errors.items()}
