"""For the accountant: invoices, payments and costs of a period as CSV or XLSX."""

from __future__ import annotations

from datetime import date
from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from jobs.access import sees_prices
from jobs.exports import FORMATS, as_file
from quotes.queries.accounts import TABLES


class PeriodForm(forms.Form):
    """Which table, of which days, in which format?"""

    table = forms.ChoiceField(choices=[(name, name) for name in TABLES])
    first = forms.DateField(label="From", widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"))
    last = forms.DateField(label="To", widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"))
    format = forms.ChoiceField(choices=[(name, name.upper()) for name in FORMATS])

    def clean(self) -> dict[str, Any]:
        data = super().clean() or {}
        if data.get("first") and data.get("last") and data["first"] > data["last"]:
            self.add_error("last", "The last day is before the first.")
        return data


@require_safe
@sees_prices
def accounts(request: HttpRequest) -> HttpResponse:
    today: date = timezone.localdate()
    start = {"first": today.replace(day=1), "last": today}
    form = PeriodForm(request.GET) if "table" in request.GET else PeriodForm(initial=start)
    if form.is_bound and form.is_valid():
        data = form.cleaned_data
        return as_file(TABLES[data["table"]](data["first"], data["last"]), data["format"])
    return render(request, "quotes/accounts.html", {"form": form})
