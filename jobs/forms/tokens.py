"""What a script's token is for, and what it may do."""

from __future__ import annotations

from django import forms

from jobs.services.accounts.tokens import SCOPES


class TokenForm(forms.Form):
    """A name to know it by, and its scopes."""

    name = forms.CharField(label="What is it for?", max_length=80)
    scopes = forms.MultipleChoiceField(
        label="What may it do?", choices=list(SCOPES.items()), widget=forms.CheckboxSelectMultiple
    )
