"""What may be typed about a change?"""

from __future__ import annotations

import uuid
from typing import Any

from django import forms

from jobs.forms.bench import PictureInput
from jobs.money import ZERO
from quotes.models import QuoteLine


class PictureForm(forms.Form):
    """What it looks like, for the desk and, if ticked, for the client."""

    picture = PictureInput(label="Picture", required=False)
    shows_photo = forms.BooleanField(label="The client may see the picture", required=False)


class ChangeForm(PictureForm):
    """A change in a minute: what, why, a picture, rough hours; and how it was asked for."""

    field_order = ("key", "title", "reason", "picture", "shows_photo", "rough_hours")
    ALOUD = ("given_by", "given_on", "words")

    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4, required=False)

    title = forms.CharField(label="What", max_length=160)
    reason = forms.CharField(label="Why", widget=forms.Textarea(attrs={"rows": 2}), required=False)
    rough_hours = forms.DecimalField(
        label="Rough hours", min_value=ZERO, max_value=10_000, decimal_places=2, required=False
    )
    given_by = forms.CharField(label="Asked for by", max_length=120, required=False)
    given_on = forms.DateField(
        label="On", required=False, widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
    )
    words = forms.CharField(
        label="What was said",
        help_text="for an instruction given aloud; the change order confirms it in writing",
        widget=forms.Textarea(attrs={"rows": 2}),
        required=False,
    )

    @property
    def asked_aloud(self) -> list[forms.BoundField]:
        """The fields of an instruction given aloud, which fold away."""
        return [self[name] for name in self.ALOUD]

    @property
    def at_once(self) -> list[forms.BoundField]:
        """The fields that are always in sight."""
        return [field for field in self.visible_fields() if field.name not in self.ALOUD]

    @property
    def opens_aloud(self) -> bool:
        """Whether something is typed or amiss in what folds away."""
        return any(field.errors or (self.is_bound and field.value()) for field in self.asked_aloud)

    def clean(self) -> dict[str, Any]:
        data = super().clean() or {}
        if data.get("words") and not data.get("given_by"):
            self.add_error("given_by", "Write down who said it.")
        data["rough_hours"] = data.get("rough_hours") or ZERO
        return data


class AgreedLineField(forms.ModelChoiceField):  # type: ignore[type-arg]  # generic for the type checker alone
    """A line named by its phase and its words."""

    def label_from_instance(self, obj: Any) -> str:
        return f"{obj.phase}: {obj.description}"


class OmitForm(forms.Form):
    """Which agreed line, and how much of it?"""

    line = AgreedLineField(label="Line", queryset=QuoteLine.objects.none())
    percent = forms.DecimalField(
        label="Share left out, %", min_value=0, max_value=100, decimal_places=2, initial=100
    )

    actual_cost = forms.DecimalField(
        label="Actual cost to put in its place, without tax",
        help_text="to settle a prime cost or provisional sum",
        min_value=ZERO,
        max_value=100_000_000,
        decimal_places=2,
        required=False,
    )

    def __init__(self, *args: Any, lines: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field = self.fields["line"]
        assert isinstance(field, forms.ModelChoiceField)
        field.queryset = lines
