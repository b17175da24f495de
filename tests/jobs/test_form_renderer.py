"""Controls written out here are, save for line breaks, what Django's own templates write."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest
from django import forms
from django.forms.renderers import TemplatesSetting
from django.utils.safestring import mark_safe

from jobs.form_renderer import WRITTEN, KerfbookForms

AWKWARD = "<b>\"a & b'</b>"
SIZES = [("", "Choose…"), ("Boards", [("1", "Oak"), ("2", AWKWARD)]), ("Sheets", [("3", "Birch")])]
CASES = [
    (forms.TextInput({"class": "figure", "required": True, "disabled": False}), AWKWARD),
    (forms.TextInput({"data-x": mark_safe("&amp;")}), mark_safe("&lt;")),
    (forms.TextInput(), None),
    (forms.TextInput(), ""),
    (forms.NumberInput({"min": 0, "step": Decimal("0.5")}), Decimal("2.50")),
    (forms.NumberInput({"min": 0}), 0),
    (forms.HiddenInput(), 12345),
    (forms.EmailInput(), "a@b.example"),
    (forms.PasswordInput(), "secret"),
    (forms.DateInput(), "2026-03-01"),
    (forms.TimeInput(), "08:30"),
    (forms.CheckboxInput({"id": "x"}), True),
    (forms.CheckboxInput(), False),
    (forms.Select({"aria-invalid": "true"}, SIZES), "2"),
    (forms.Select(choices=[(1, 1234567), (None, "none")]), 1),
    (forms.Select(), None),
]


def close(html):
    return re.sub(r"\s*\n\s*", "", html)


@pytest.mark.parametrize(("widget", "value"), CASES, ids=lambda case: type(case).__name__)
def test_it_is_what_the_template_writes(widget, value):
    assert widget.template_name in WRITTEN
    ours = widget.render("na<me", value, {"id": "id_x"}, renderer=KerfbookForms())
    theirs = widget.render("na<me", value, {"id": "id_x"}, renderer=TemplatesSetting())
    assert close(ours) == close(theirs)


def test_what_is_typed_cannot_break_out():
    drawn = forms.TextInput().render("name", '"><script>', renderer=KerfbookForms())
    assert "<script>" not in drawn
