"""What is typed about a job and its phases."""

from __future__ import annotations

from typing import Any

from django import forms

from jobs.enums import Caution
from jobs.forms.versioned import VersionedForm
from jobs.models import Client, Job, Phase, PhaseList

MASSES = ["gross_mass_limit_kg", "empty_mass_kg"]
JOB_FIELDS = ["title", "fitted_out", "site", "starts_on", "ends_on", *MASSES, "notes"]
DAY = forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")


class JobForm(VersionedForm):
    """A job. Its client is typed by name, so that a long list need not be searched by eye."""

    client_name = forms.CharField(
        label="Client",
        max_length=120,
        widget=forms.TextInput(attrs={"list": "clients", "autocomplete": "off"}),
    )
    new_client = forms.BooleanField(label="Add this client as a new one", required=False)

    class Meta:
        model = Job
        fields = JOB_FIELDS
        labels = {"starts_on": "Starts on", "ends_on": "Is to be ready on"}
        help_texts = {
            "fitted_out": "Such as: shepherd’s hut, 4.8 m by 2.1 m.",
            "gross_mass_limit_kg": "Only for a vehicle or vessel: the plated limit, from the plate.",
            "empty_mass_kg": "As weighed before the work.",
        }
        widgets = {
            "starts_on": DAY,
            "ends_on": DAY,
            "site": forms.Textarea(attrs={"rows": 2}),
            "notes": forms.Textarea(attrs={"rows": 3}),
        }

    field_order = ["client_name", "new_client"]

    def __init__(self, *args: Any, client: Client | None = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.preset = client or (self.instance.client if self.instance.pk else None)
        if self.preset:
            self.initial["client_name"] = self.preset.name

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        self._check_dates(cleaned)
        self._check_masses(cleaned)
        if cleaned.get("client_name"):
            cleaned["client"] = self._client(cleaned["client_name"].strip(), adding=cleaned["new_client"])
        return cleaned

    @property
    def details(self) -> dict[str, Any]:
        """The job's own fields, with its client."""
        names = [*JOB_FIELDS, "client"]
        return {name: self.cleaned_data[name] for name in names}

    def _check_dates(self, cleaned: dict[str, Any]) -> None:
        starts, ends = cleaned.get("starts_on"), cleaned.get("ends_on")
        if starts and ends and ends < starts:
            self.add_error("ends_on", "This is before the start.")

    def _check_masses(self, cleaned: dict[str, Any]) -> None:
        limit, empty = cleaned.get("gross_mass_limit_kg"), cleaned.get("empty_mass_kg")
        for name in MASSES:
            mass = cleaned.get(name)
            if mass is not None and mass <= 0:
                self.add_error(name, "A mass is more than nothing.")
        if limit and empty and empty >= limit > 0:
            self.add_error("empty_mass_kg", "Empty it is already at its limit: nothing may be fitted.")

    def _client(self, name: str, *, adding: bool) -> Client | None:
        """The client meant: the preset one, the only one of that name, or a new one not yet saved."""
        if self.preset and self.preset.name == name:
            return self.preset
        known = list(Client.objects.filter(name__iexact=name, archived_at=None)[:2])
        if adding and known:
            self.add_error("new_client", "There is a client of that name already. Untick this to use it.")
        elif adding:
            return Client(name=name)
        elif not known:
            self.add_error("client_name", "Nobody of that name yet. Tick the box below to add them.")
        elif len(known) > 1:
            self.add_error("client_name", "Two clients have this name: start from the page of the one meant.")
        else:
            return known[0]
        return None


class NewJobForm(JobForm):
    """A new job, from nothing or from a phase list of the workshop."""

    phase_list = forms.ModelChoiceField(
        PhaseList.objects.all(), label="Start with the phases of", required=False, empty_label="no list"
    )
    field_order = ["client_name", "new_client", "title", "phase_list"]


class PhaseForm(VersionedForm):
    """A phase as planned."""

    cautions = forms.MultipleChoiceField(
        choices=Caution.choices, required=False, widget=forms.CheckboxSelectMultiple
    )

    class Meta:
        model = Phase
        fields = ["title", "grade", "planned_start", "planned_days", "cautions", "notes"]
        labels = {"planned_start": "Planned to start on", "planned_days": "Planned working days"}
        widgets = {"planned_start": DAY, "notes": forms.Textarea(attrs={"rows": 3})}

    def clean_planned_days(self) -> int:
        days = int(self.cleaned_data["planned_days"] or 0)
        if days > 400:
            raise forms.ValidationError("More than 400 working days: is this one phase?")
        return days
