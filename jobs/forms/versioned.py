"""A form that remembers which version of the record it was opened on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, cast

from django import forms
from django.db import models
from django.http import QueryDict

if TYPE_CHECKING:
    AnyModelForm = forms.ModelForm[Any]
else:
    AnyModelForm = forms.ModelForm  # subscriptable for the type checker alone


class VersionedForm(AnyModelForm):
    """A form for a record that counts its saves; the version it was opened on travels with it."""

    version = forms.IntegerField(widget=forms.HiddenInput, required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["version"].initial = getattr(self.instance, "version", None)

    @property
    def opened_on(self) -> int:
        """The version that was edited; nought, which no record has, where none was sent."""
        return self.cleaned_data.get("version") or 0

    @property
    def details(self) -> dict[str, Any]:
        """What was typed, by field, without the version."""
        return {name: value for name, value in self.cleaned_data.items() if name != "version"}

    def take_over(self, stored: models.Model) -> None:
        """From here on the form is about the record as it stands."""
        sent_again_over(self, stored)


@dataclass(frozen=True)
class Difference:
    """One field on which two people differ."""

    label: str
    theirs: str
    yours: str


def differences(form: forms.BaseForm, stored: models.Model) -> list[Difference]:
    """The fields where what is stored now is not what was typed."""
    found = []
    for name in form.fields:
        if name == "version" or not hasattr(stored, name):
            continue
        theirs, yours = _words(stored, name), _words_typed(form, stored, name)
        if theirs != yours:
            found.append(Difference(str(form[name].label), theirs or "nothing", yours or "nothing"))
    return found


def changed_since(form: forms.BaseForm) -> list[Difference]:
    """The same for a form with no model behind it: what it would open with now, and what was typed."""
    found = []
    for name, field in form.fields.items():
        if field.widget.is_hidden:
            continue
        theirs, yours = form.get_initial_for_field(field, name), form.cleaned_data.get(name)
        if (theirs or None) != (getattr(yours, "pk", yours) or None):
            label = str(form[name].label)
            said = [_said(field, value) or "nothing" for value in (theirs, yours)]
            found.append(Difference(label, *said))
    return found


def sent_again_over(form: forms.BaseForm, stored: models.Model) -> None:
    """From here on the form is about the record as it stands: sent again, it goes over it knowingly."""
    data = cast(QueryDict, form.data).copy()
    data[form.add_prefix("version")] = str(getattr(stored, "version", ""))
    form.data = data


def _said(field: forms.Field, value: Any) -> str:
    """A value as the field writes it; of a record its name."""
    if isinstance(field, forms.ModelChoiceField) and value and field.queryset is not None:
        return str(field.queryset.filter(pk=getattr(value, "pk", value)).first() or "")
    return "" if value is None else str(field.prepare_value(value))


def _words(stored: models.Model, name: str) -> str:
    said = getattr(stored, f"get_{name}_display", None)
    value = said() if said else getattr(stored, name)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return ", ".join(str(part) for part in value)
    return "" if value is None else str(value)


def _words_typed(form: forms.BaseForm, stored: models.Model, name: str) -> str:
    value = form.cleaned_data.get(name)
    if value is None:
        return ""
    typed = type(stored)()
    setattr(typed, name, value)
    return _words(typed, name)
