"""What is typed to get in, and to choose a password."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib.auth import authenticate
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError

from jobs.models import Person

AUTOFOCUS = {"autofocus": True}


class LogInForm(forms.Form):
    """E-mail and password. One message for every reason, so that nobody learns which e-mails are known."""

    email = forms.EmailField(
        label="E-mail", widget=forms.EmailInput(attrs={"autocomplete": "username", **AUTOFOCUS})
    )
    password = forms.CharField(
        strip=False, widget=forms.PasswordInput(attrs={"autocomplete": "current-password"})
    )

    person: Person | None = None

    def clean(self) -> dict[str, Any]:
        given: dict[str, Any] = super().clean() or {}
        if {"email", "password"} <= given.keys():
            found = authenticate(username=given["email"], password=given["password"])
            if not isinstance(found, Person):
                raise ValidationError("That e-mail and password do not go together.")
            self.person = found
        return given


class CodeForm(forms.Form):
    """A code of the generator, or a spare one. When the generator is new there are no spare ones yet."""

    code = forms.CharField(
        max_length=40,
        widget=forms.TextInput(attrs={"autocomplete": "one-time-code", "inputmode": "text", **AUTOFOCUS}),
        help_text="The six figures your generator shows now, or one of your spare codes.",
    )

    def __init__(self, *args: Any, first: bool = False, **options: Any) -> None:
        super().__init__(*args, **options)
        if first:
            self.fields["code"].help_text = "The six figures your generator shows now."


class ChoosePasswordForm(forms.Form):
    """A new password, once: it can be looked at while it is typed."""

    password = forms.CharField(
        label="New password",
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password", **AUTOFOCUS}),
        help_text="12 characters or more. A few plain words together are good; a common password is refused.",
    )

    def __init__(self, *args: Any, person: Person, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.person = person

    def clean_password(self) -> str:
        password: str = self.cleaned_data["password"]
        validate_password(password, self.person)
        return password


class ChangePasswordForm(ChoosePasswordForm):
    """The present password and the new one."""

    present = forms.CharField(
        label="Present password",
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
    )
    field_order = ["present", "password"]

    def clean_present(self) -> str:
        present: str = self.cleaned_data["present"]
        if not self.person.check_password(present):
            raise ValidationError("That is not your present password.")
        return present
