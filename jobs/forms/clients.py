"""What is typed about a client."""

from __future__ import annotations

from typing import Any

from django import forms

from jobs.forms.versioned import VersionedForm
from jobs.models import Client

FIELDS = ["name", "is_company", "contact", "email", "phone", "address", "country", "tax_number", "notes"]
KINDS = [("", "a private person"), ("yes", "a company")]


class ClientForm(VersionedForm):
    """A private person or a company."""

    is_company = forms.TypedChoiceField(
        label="Kind", choices=KINDS, coerce=bool, required=False, widget=forms.RadioSelect
    )

    class Meta:
        model = Client
        fields = FIELDS
        labels = {"email": "E-mail"}
        help_texts = {
            "country": "Two letters, such as GB. Empty: the same as the workshop.",
            "tax_number": "Only for a company that gave one.",
        }
        widgets = {
            "address": forms.Textarea(attrs={"rows": 3}),
            "notes": forms.Textarea(attrs={"rows": 3}),
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.initial["is_company"] = "yes" if self.instance.is_company else ""

    def clean_is_company(self) -> bool:
        return bool(self.cleaned_data["is_company"])

    def clean_country(self) -> str:
        country = str(self.cleaned_data["country"]).strip().upper()
        if country and not (len(country) == 2 and country.isascii() and country.isalpha()):
            raise forms.ValidationError("Two letters, such as GB or IE.")
        return country
