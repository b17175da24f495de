"""One page for every form: saved, amiss, or overtaken by somebody else's save."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any

from django.core.exceptions import ValidationError
from django.db import models
from django.forms import BaseForm
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from jobs.forms.versioned import Difference, VersionedForm, differences
from jobs.refusals import RefusedError
from jobs.versions import StaleError

AMISS = 422
OVERTAKEN = 409


@dataclass
class FormPage:
    """What the page around a form says."""

    title: str
    act: str
    back: str
    back_to: str = "Back"
    above: str = ""
    clash: Sequence[Difference] = field(default_factory=list)
    template: str = "components/form_page.html"
    record: str = ""  # whose history is told below the form
    leave: str = "Cancel"
    more: dict[str, Any] = field(default_factory=dict)


def form_page(
    request: HttpRequest, form: BaseForm, save: Callable[[], models.Model | str], page: FormPage
) -> HttpResponse:
    """Save and go on; or the form again, with what was typed and what is amiss beside it."""
    status = 200
    if request.method == "POST":
        status = AMISS
        if form.is_valid():
            try:
                return redirect(save())  # type: ignore[arg-type]  # a record that says its own address
            except StaleError as stale:
                status, page.clash = OVERTAKEN, differences(form, stale.stored)
                if isinstance(form, VersionedForm):
                    form.take_over(stale.stored)
            except ValidationError as error:
                put_beside_fields(form, error)
            except RefusedError as refusal:
                form.add_error(None, str(refusal))
    return render(request, page.template, {"form": form, "page": page, **page.more}, status=status)


def put_beside_fields(form: BaseForm, error: ValidationError) -> None:
    """What a service refuses stands beside the field it is about, or above the form."""
    if not hasattr(error, "error_dict"):
        form.add_error(None, error)
        return
    for name, errors in error.error_dict.items():
        form.add_error(name if name in form.fields else None, errors)
