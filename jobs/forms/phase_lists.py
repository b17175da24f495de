"""What is typed about a list of phases."""

from __future__ import annotations

from typing import Any

from django import forms

from jobs.enums import Caution, Grade
from jobs.forms.versioned import AnyModelForm
from jobs.models import PhaseList

SPARE_ROWS = 3


class PhaseListForm(AnyModelForm):
    """The name of the list."""

    class Meta:
        model = PhaseList
        fields = ["name"]
        help_texts = {"name": "Such as: shepherd’s hut, kitchen, bookcase."}


class PhaseItemForm(forms.Form):
    """One phase of the list; without a title it is left out."""

    title = forms.CharField(max_length=120, required=False)
    grade = forms.ChoiceField(label="Finish grade", choices=Grade, initial=Grade.SEEN, required=False)
    planned_days = forms.IntegerField(
        label="Working days", min_value=0, max_value=400, initial=0, required=False
    )
    position = forms.IntegerField(label="Place", min_value=1, max_value=999, required=False)
    cautions = forms.MultipleChoiceField(
        choices=Caution.choices, required=False, widget=forms.CheckboxSelectMultiple
    )


PhaseItems = forms.formset_factory(PhaseItemForm, extra=SPARE_ROWS, max_num=60, absolute_max=80)


def phase_items(data: Any, stored: PhaseList | None) -> Any:
    """A row for each phase of the list, and a few spare ones."""
    names = ("title", "grade", "planned_days", "cautions")
    rows = stored.items.order_by("position", "pk") if stored else []
    initial = [
        {**{name: getattr(item, name) for name in names}, "position": place}
        for place, item in enumerate(rows, start=1)
    ]
    return PhaseItems(data, initial=initial, prefix="phases")


def typed_items(formset: Any) -> list[dict[str, Any]]:
    """The phases that have a title, by the place typed; those without a place stand last, as they came."""
    rows = [row for row in formset.cleaned_data if row.get("title")]
    rows.sort(key=lambda row: row["position"] or 1000)
    return [
        {
            "title": row["title"],
            "grade": row["grade"] or Grade.SEEN,
            "planned_days": row["planned_days"] or 0,
            "cautions": row["cautions"],
        }
        for row in rows
    ]
