"""Where does what was typed differ from what somebody else saved meanwhile?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django import forms
from django.db import models


@dataclass(frozen=True)
class Difference:
    """One field: what stands now, and what was typed."""

    label: str
    saved: str
    typed: str


def differences(form: forms.ModelForm[Any], saved: models.Model) -> tuple[Difference, ...]:
    """The fields of a form whose typed value is not the saved one. The form takes on the new version, so that
    saving again is a decision made with both in sight.
    """
    fresh = type(form)(instance=saved, **({"on": form.on} if hasattr(form, "on") else {}))
    found = []
    for name in form.fields:
        if name == "version":
            continue
        kept, typed = fresh[name].value(), form[name].value()
        if _text(form, name, kept) != _text(form, name, typed):
            found.append(Difference(str(form[name].label), _text(form, name, kept), _text(form, name, typed)))
    form.data = {**form.data, "version": saved.version}  # type: ignore[attr-defined]  # both have one
    return tuple(found)


def _text(form: forms.ModelForm[Any], name: str, value: Any) -> str:
    """A value as the field would keep it, so that 2 and 2.00 are the same."""
    field = form.fields[name]
    try:
        cleaned = field.clean(value)
    except forms.ValidationError:
        return str(value)
    choices = dict(getattr(field, "choices", ()))
    return str(choices.get(cleaned, "" if cleaned is None else cleaned))
