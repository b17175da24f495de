"""What the phone's queue sends, one message at a time, each done once however often it comes."""

from __future__ import annotations

import base64
import binascii
import json
from typing import Any
from uuid import UUID

from django.core.files.uploadedfile import SimpleUploadedFile, UploadedFile
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.utils.datastructures import MultiValueDict
from django.views.decorators.http import require_http_methods

from jobs.access import person_of
from jobs.forms.bench import FORMS, messages_by_field
from jobs.models import Person
from jobs.queries.bench import running_now
from jobs.refusals import AskError, RefusedError
from jobs.services.bench import ACTS
from jobs.services.phone import take_message

NOT_YOURS = "Somebody else wrote this. It goes when they are logged in on this phone."


class UnreadableError(Exception):
    """What came is no message of ours; the argument is what is said beside each field."""

    def __init__(self, /, **errors: str) -> None:
        super().__init__()
        self.errors = {name: [words] for name, words in errors.items()}


class NotYoursError(Exception):
    """What came was written by somebody else than who is logged in on this phone now."""


@require_http_methods(["GET", "HEAD", "POST"])
def queue(request: HttpRequest) -> HttpResponse:
    """GET is the page that shows what waits on this phone. POST answers 201, or 200 for a repeat with the
    same body; 403 where somebody else must be logged in for it; 409 with words where it can't be done as
    things stand; 400 with words beside the fields.
    """
    if request.method != "POST":
        shown = {"kind": "queue", "running": running_now(person_of(request))}
        return render(request, "jobs/bench/queue.html", shown)
    try:
        return _take(person_of(request), _message(request))
    except UnreadableError as fault:
        return JsonResponse({"errors": fault.errors}, status=400)
    except NotYoursError:
        return JsonResponse({"words": NOT_YOURS}, status=403)
    except AskError as ask:
        return JsonResponse({"words": str(ask), "asks": ask.asks}, status=409)
    except RefusedError as refused:
        return JsonResponse({"words": str(refused)}, status=409)


def _message(request: HttpRequest) -> dict[str, Any]:
    try:
        message = json.loads(request.body)
    except (ValueError, RecursionError):
        raise UnreadableError(message="This is no JSON.") from None
    if not isinstance(message, dict):
        raise UnreadableError(message="An object is wanted.")
    return message


def _take(person: Person, message: dict[str, Any]) -> HttpResponse:
    act = str(message.get("act"))
    if act not in FORMS:
        raise UnreadableError(act="Unknown.")
    if message.get("person") != person.pk:
        raise NotYoursError
    form = FORMS[act](_words(message), _files(message))
    if not form.is_valid():
        return JsonResponse({"errors": messages_by_field(form)}, status=400)
    said = form.cleaned_data
    try:
        told = take_message(
            person=person, key=_key(message), kind=act, said=message, act=lambda: ACTS[act](person, said)
        )
    except RefusedError as refused:
        if refused.beside not in form.fields:
            raise
        raise UnreadableError(**{refused.beside: str(refused)}) from None
    return JsonResponse(told.answer, status=201 if told.new else 200)


def _words(message: dict[str, Any]) -> dict[str, str | None]:
    """The message as a form is filled in: words alone, and such as can be written down."""
    words = {}
    for name, value in message.items():
        if name == "photo":
            continue
        words[name] = None if value is None else str(value)
        if isinstance(value, (dict, list)) or not _can_be_written(words[name] or ""):
            raise UnreadableError(**{name: "This cannot be read. Type it again."})
    return words


def _can_be_written(text: str) -> bool:
    """Half a pair of UTF-16, as a phone leaves where it cut a text short, is no character."""
    return not any("\ud800" <= one <= "\udfff" for one in text)


def _key(message: dict[str, Any]) -> UUID:
    try:
        return UUID(str(message.get("key")))
    except ValueError:
        raise UnreadableError(key="A UUID is wanted.") from None


def _files(message: dict[str, Any]) -> MultiValueDict[str, UploadedFile[Any]]:
    """A picture comes as base64 beside the words."""
    sent = message.get("photo")
    if not sent:
        return MultiValueDict()
    try:
        content = base64.b64decode(sent, validate=True)
    except (binascii.Error, TypeError, ValueError):
        raise UnreadableError(photo="This is no picture.") from None
    return MultiValueDict({"photo": [SimpleUploadedFile("picture", content)]})
