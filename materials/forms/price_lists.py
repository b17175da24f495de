"""What is typed to bring a price list in."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from materials.enums import MaterialKind
from materials.models import PriceList, Supplier
from materials.pricelist.columns import LABELS, Column
from materials.pricelist.numbers import COMMA, POINT
from materials.pricelist.reading import LENGTH_UNITS, from_kept
from materials.pricelist.table import MOST_BYTES
from materials.queries.price_lists import AskedKind, ShownColumn


class UploadForm(forms.Form):
    """A file, and whose list it is."""

    file = forms.FileField(
        label="Price list",
        help_text=f"CSV or XLSX, up to {MOST_BYTES // 1024 // 1024} MB. Nothing is written yet.",
        widget=forms.ClearableFileInput(attrs={"accept": ".csv,.txt,.tsv,.xlsx"}),
        allow_empty_file=True,
    )
    supplier = forms.ModelChoiceField(
        queryset=Supplier.objects.none(),
        required=False,
        empty_label="named in the list",
        help_text="Whose prices these are, where the list does not say it row by row.",
    )
    new_supplier = forms.CharField(required=False, max_length=120, label="Or a new supplier")

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["supplier"].queryset = Supplier.objects.filter(archived_at=None)  # type: ignore[attr-defined]  # a choice field

    def clean_file(self) -> Any:
        file = self.cleaned_data["file"]
        if file.size > MOST_BYTES:
            raise ValidationError(f"The file is over {MOST_BYTES // 1024 // 1024} MB. Split it in two.")
        return file

    @property
    def supplier_name(self) -> str:
        chosen = self.cleaned_data["supplier"]
        typed = " ".join(self.cleaned_data["new_supplier"].split())
        return typed or (chosen.name if chosen else "")


class MatchForm(forms.Form):
    """What each column of the list holds, and how its figures are written."""

    supplier = forms.CharField(required=False, max_length=120, label="Supplier of rows that name none")
    kind = forms.ChoiceField(
        required=False,
        label="Kind of new rows that name none",
        choices=[("", "none: the row must say"), *MaterialKind.choices],
    )
    decimal_mark = forms.ChoiceField(
        label="Decimals after", choices=[(POINT, "a point (12.50)"), (COMMA, "a comma (12,50)")]
    )
    length_unit = forms.ChoiceField(
        required=False, label="Lengths without a unit are", choices=list(LENGTH_UNITS.items())
    )
    today = forms.DateField(
        label="Prices hold from", widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
    )
    heads_row = forms.IntegerField(
        required=False,
        min_value=0,
        label="Row with the column heads",
        help_text="Left empty, the heads are looked for.",
    )
    sheet = forms.ChoiceField(required=False, label="Sheet of the workbook")

    def __init__(
        self, *args: Any, price_list: PriceList, columns: tuple[ShownColumn, ...], sheets: tuple[str, ...],
        rows: int, sheet: str, kinds: tuple[AskedKind, ...] = (), **options: Any,
    ) -> None:  # fmt: skip
        reading = from_kept(price_list.reading)
        options["initial"] = {
            "supplier": reading.supplier,
            "kind": reading.kind,
            "decimal_mark": reading.decimal_mark,
            "length_unit": reading.length_unit,
            "today": reading.today,
            "heads_row": reading.heads_row or None,
            "sheet": sheet,
        }
        super().__init__(*args, **options)
        self.sheet_before, self.rows = sheet, rows
        self.columns = [(column, self._add(column)) for column in columns]
        self.kinds, self.kinds_before = kinds, reading.kinds
        for asked in kinds:
            self._ask(asked)
        if len(sheets) > 1:
            self.fields["sheet"].choices = [(name, name) for name in sheets]  # type: ignore[attr-defined]  # a choice field
        else:
            del self.fields["sheet"]

    def _add(self, column: ShownColumn) -> str:
        self.fields[column.field_name] = forms.ChoiceField(
            required=False,
            label=f"What is in “{column.head or column.at + 1}”",
            initial=column.matched,
            choices=[("", "not used"), *((one.value, LABELS[one]) for one in Column)],
        )
        return column.field_name

    def _ask(self, asked: AskedKind) -> None:
        self.fields[asked.field_name] = forms.ChoiceField(
            required=False,
            label=f"What is “{asked.name}”?",
            initial=asked.kind,
            choices=[("", "choose…"), *MaterialKind.choices],
        )

    @property
    def kind_rows(self) -> list[tuple[AskedKind, forms.BoundField]]:
        return [(asked, self[asked.field_name]) for asked in self.kinds]

    @property
    def column_rows(self) -> list[tuple[ShownColumn, forms.BoundField]]:
        return [(column, self[name]) for column, name in self.columns]

    @property
    def other_fields(self) -> list[forms.BoundField]:
        return [self[name] for name in self.fields if not name.startswith(("column_", "kind_"))]

    def clean_heads_row(self) -> int:
        row = self.cleaned_data["heads_row"] or 0
        if row > self.rows:
            raise ValidationError(f"The list has {self.rows} rows.")
        return int(row)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        seen: dict[str, str] = {}
        for column, name in self.columns:
            value = cleaned.get(name)
            if value and value in seen:
                self.add_error(name, f"“{LABELS[Column(value)]}” is matched to “{seen[value]}” already.")
            elif value:
                seen[value] = column.head
        return cleaned

    @property
    def matched(self) -> dict[int, Column]:
        return {
            column.at: Column(self.cleaned_data[name])
            for column, name in self.columns
            if self.cleaned_data[name]
        }

    @property
    def how(self) -> dict[str, Any]:
        """The other fields of a `Reading`."""
        names = ("supplier", "kind", "decimal_mark", "length_unit", "today", "heads_row")
        said = {asked.row: self.cleaned_data[asked.field_name] for asked in self.kinds}
        kinds = {row: kind for row, kind in {**self.kinds_before, **said}.items() if kind}
        return {name: self.cleaned_data[name] for name in names} | {"kinds": kinds}

    @property
    def other_sheet(self) -> str:
        chosen = self.cleaned_data.get("sheet", "")
        return chosen if chosen and chosen != self.sheet_before else ""
