"""One take-off as typed: a form, its rows, its outline; read as a whole and answered as a whole."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django import forms

from materials.forms.takeoff.fields import Shelf, TakeoffForm, built, initial_of
from materials.forms.takeoff.outline import OutlineEntry
from materials.forms.takeoff.rows import Rows
from materials.models import TakeoffItem
from materials.takeoff.codec import from_json
from materials.takeoff.errors import MeasureAgain
from materials.takeoff.registry import kind_of, material_keys

MORE = "more:"


@dataclass(frozen=True)
class EntryKind:
    """How one kind of take-off is typed."""

    key: str
    form: type[TakeoffForm]
    rows: tuple[Rows, ...] = ()
    title: str = ""

    @property
    def name(self) -> str:
        """What the kind is called."""
        return kind_of(self.key).name

    @property
    def has_outline(self) -> bool:
        """Whether it is measured as an outline."""
        return kind_of(self.key).has_outline


class HeadForm(forms.Form):
    """What the item is called, and which save it was read at."""

    title = forms.CharField(label="What is it", max_length=120)
    version = forms.IntegerField(required=False, widget=forms.HiddenInput)


class Entry:
    """A take-off being typed, from nothing, from stored inputs, or from what was sent."""

    def __init__(
        self,
        kind: EntryKind,
        data: Mapping[str, Any] | None = None,
        item: TakeoffItem | None = None,
        *,
        job_id: int | None = None,
    ) -> None:
        made = _made_of(item, kind) if item else None
        head = {"title": item.title, "version": item.version} if item else {"title": kind.title}
        self.kind = kind
        self.asks_more = _more_of(data)
        self._version = 0
        shelf = Shelf(material_keys(item.inputs) if item else (), job_id)
        self.head = HeadForm(data, initial=head)
        self.form = kind.form(data, shelf=shelf, initial=initial_of(made) if made is not None else {})
        self.rows = {
            rows.name: rows.bound(shelf, data, getattr(made, rows.name, ()), more=self.asks_more == rows.name)
            for rows in kind.rows
        }
        outline = getattr(made, "outline", None)
        self.outline = OutlineEntry(shelf, data, outline, self.asks_more) if kind.has_outline else None

    def is_valid(self) -> bool:
        """True when everything can be read; every message is set either way."""
        answers = [self.head.is_valid(), self.form.is_valid()]
        answers += [formset.is_valid() for formset in self.rows.values()]
        answers += [self.outline.is_valid()] if self.outline else []
        return all(answers)

    def inputs(self) -> Any:
        """Calculation's inputs; only once `is_valid`."""
        given: dict[str, Any] = {rows.name: rows.taken(self.rows[rows.name]) for rows in self.kind.rows}
        if self.outline:
            given["outline"] = self.outline.built()
        return built(kind_of(self.kind.key).inputs, self.form.cleaned_data, **given)

    def answer(self, trouble: MeasureAgain) -> None:
        """Put calculation's message beside the field it names."""
        rows = self.rows | (self.outline.rows if self.outline else {})
        if trouble.field in rows:
            rows[trouble.field].trouble = trouble.message
        elif trouble.field in self.form.fields:
            self.form.add_error(trouble.field, trouble.message)
        elif self.outline and trouble.field in self.outline.form.fields:
            self.outline.form.add_error(trouble.field, trouble.message)
        else:
            self.form.add_error(None, trouble.message)

    def stale(self, stored: TakeoffItem) -> None:
        """Say that somebody else saved first, and let the next save go over theirs knowingly."""
        headline = stored.result.get("headline", "")
        words = (
            f"Somebody else has changed this meanwhile; it now says “{stored.title}: {headline}”. "
            "What you typed is still here: save again to keep it instead."
        )
        self.head.add_error(None, words)
        self._version = stored.version

    @property
    def version(self) -> Any:
        """Which save of the item was read, for the next save to name."""
        return self._version or self.head["version"].value() or ""

    @property
    def troubles(self) -> list[str]:
        """Every message of calculation's own, and of the rows as a whole, for beside the drawing."""
        rows = [*self.rows.values(), *(self.outline.rows.values() if self.outline else ())]
        forms_ = [self.head, self.form, *([self.outline.form] if self.outline else [])]
        found = [formset.trouble for formset in rows if formset.trouble]
        return found + [text for form in forms_ for text in _messages(form)]

    @property
    def wanted(self) -> list[str]:
        """What is still to be measured before anything can be computed."""
        forms_ = [self.head, self.form, *([self.outline.form] if self.outline else [])]
        return [str(form[name].label) for form in forms_ if form.is_bound for name in _empty(form)]

    @property
    def row_groups(self) -> list[tuple[Rows, Any]]:
        """The rows with what was typed, for the page."""
        return [(rows, self.rows[rows.name]) for rows in self.kind.rows]

    @property
    def outline_groups(self) -> dict[str, tuple[Rows, Any]]:
        """The outline's rows with what was typed, for the page."""
        return (
            {r.name: (r, self.outline.rows[r.name]) for r in self.outline.row_kinds} if self.outline else {}
        )


def _made_of(item: TakeoffItem, kind: EntryKind) -> Any:
    """What was entered; nothing where it was written by rules no longer known: it is typed again."""
    try:
        return from_json(item.inputs, kind_of(kind.key).inputs)
    except MeasureAgain:
        return None


def _empty(form: forms.Form) -> list[str]:
    """Fields that are in error only because nothing is in them yet."""
    return [name for name in form.errors if name in form.fields and not form[name].value()]


def _messages(form: forms.Form) -> list[str]:
    if not form.is_bound:
        return []
    empty = _empty(form)
    named = {name: f"{form[name].label}: " if name in form.fields else "" for name in form.errors}
    return [
        f"{named[name]}{text}" for name, texts in form.errors.items() if name not in empty for text in texts
    ]


def _more_of(data: Mapping[str, Any] | None) -> str:
    act = str(data.get("act", "")) if data is not None else ""
    return act.removeprefix(MORE) if act.startswith(MORE) else ""
