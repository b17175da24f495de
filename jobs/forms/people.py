"""What is typed about the people of the workshop and what their hours cost."""

from __future__ import annotations

from typing import Any

from django.core.exceptions import ValidationError

from jobs.forms.versioned import AnyModelForm, VersionedForm
from jobs.forms.workshop import DAY, refuse_below_nothing
from jobs.models import Person, PersonRate

HOURS_IN_A_WEEK = 168


class PersonForm(VersionedForm):
    """Somebody who can log in."""

    class Meta:
        model = Person
        fields = ["name", "email", "role", "hours_a_week", "is_active"]
        labels = {"email": "E-mail", "hours_a_week": "Working hours a week", "is_active": "May log in"}
        help_texts = {
            "role": "A maker sees no prices and no margins. A bookkeeper sees prices but books no hours.",
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if not self.instance.pk:
            del self.fields["is_active"]

    def clean_email(self) -> str:
        email = str(self.cleaned_data["email"]).strip().lower()
        if Person.objects.exclude(pk=self.instance.pk).filter(email__iexact=email).exists():
            raise ValidationError("Somebody has this e-mail already.")
        return email

    def clean_hours_a_week(self) -> int:
        hours = int(self.cleaned_data["hours_a_week"])
        if hours > HOURS_IN_A_WEEK:
            raise ValidationError("A week has 168 hours.")
        return hours


class PersonRateForm(AnyModelForm):
    """What an hour of this person costs and is charged at, from a day on."""

    class Meta:
        model = PersonRate
        fields = ["from_date", "cost_rate", "charge_rate"]
        labels = {
            "from_date": "From",
            "cost_rate": "Costs the workshop an hour",
            "charge_rate": "Charged an hour",
        }
        widgets = {"from_date": DAY}

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        refuse_below_nothing(self, cleaned, "cost_rate", "charge_rate")
        return cleaned

    def clean_from_date(self) -> Any:
        day = self.cleaned_data["from_date"]
        taken = PersonRate.objects.filter(person=self.instance.person_id, from_date=day)
        if taken.exclude(pk=self.instance.pk).exists():
            raise ValidationError("There is a rate from this day already.")
        return day
