"""What may a client type on the page behind the link?"""

from __future__ import annotations

from django import forms


class AcceptForm(forms.Form):
    """A yes with a typed name, and which document it is said to."""

    name = forms.CharField(
        label="Your name",
        max_length=120,
        widget=forms.TextInput(attrs={"autocomplete": "name"}),
        error_messages={"required": "Please type your name."},
    )
    agrees = forms.BooleanField(
        label="I have read it and agree to it",
        error_messages={"required": "Please tick that you agree."},
    )
    sha256 = forms.CharField(max_length=64, widget=forms.HiddenInput)


class DeclineForm(forms.Form):
    """A no with its reason."""

    name = forms.CharField(
        label="Your name",
        max_length=120,
        widget=forms.TextInput(attrs={"autocomplete": "name"}),
        error_messages={"required": "Please type your name."},
    )
    reason = forms.CharField(
        label="Why not, if you like to say",
        required=False,
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 3}),
    )
    sha256 = forms.CharField(max_length=64, widget=forms.HiddenInput)


class AskForm(forms.Form):
    """A question."""

    name = forms.CharField(label="Your name", max_length=120, required=False)
    text = forms.CharField(
        label="Your question",
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 3}),
        error_messages={"required": "Please write your question."},
    )
