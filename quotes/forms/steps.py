"""What may be typed when a quote goes out, is extended or is answered?"""

from __future__ import annotations

from typing import Any

from django import forms

from quotes.enums import Answer
from quotes.models import Quote
from quotes.papers.paper import Paper

LETTER = "Dear {name},\n\nhere is our {kind} for {title}.\n\nWe are glad to answer any question."


class SendForm(forms.Form):
    """To whom does it go, and with which words?"""

    to = forms.EmailField(label="To")
    words = forms.CharField(label="Words", widget=forms.Textarea(attrs={"rows": 8}), max_length=4000)

    def __init__(self, *args: Any, quote: Quote, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        client = quote.job.client
        self.fields["to"].initial = client.email
        self.fields["words"].initial = LETTER.format(
            name=client.contact or client.name,
            kind="change order" if quote.is_change_order else "quotation",
            title=quote.title,
        )


class ExtendForm(forms.Form):
    """For how many days more?"""

    days = forms.IntegerField(label="Days from today", min_value=1, max_value=365, initial=30)


class CancelForm(forms.Form):
    """Why is a contract cancelled?"""

    reason = forms.CharField(
        label="Why", max_length=400, widget=forms.Textarea(attrs={"rows": 2}), help_text="kept in the history"
    )


class PaperAnswerForm(forms.Form):
    """An answer that came by letter or in person."""

    answer = forms.ChoiceField(label="Answer", choices=Answer.choices)
    name = forms.CharField(label="Who gave it", max_length=120)
    extras = forms.MultipleChoiceField(
        label="Extras chosen with it", required=False, widget=forms.CheckboxSelectMultiple
    )
    reason = forms.CharField(label="How and why", widget=forms.Textarea(attrs={"rows": 2}), required=False)

    def __init__(self, *args: Any, paper: Paper | None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        offered = [(line.key, line.description) for line in paper.options] if paper else []
        if not offered:
            del self.fields["extras"]
            return
        field = self.fields["extras"]
        assert isinstance(field, forms.MultipleChoiceField)
        field.choices = offered


class AnswerForm(forms.Form):
    """What the workshop answers to a question."""

    text = forms.CharField(label="Answer", widget=forms.Textarea(attrs={"rows": 3}), max_length=4000)
