"""Take what a phone sends, once. Sent again, it is told the same and nothing is done twice."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.db import transaction

from jobs.models import Person, PhoneMessage
from jobs.refusals import RefusedError
from jobs.services.hours import hold

Answer = dict[str, Any]


@dataclass(frozen=True)
class Told:
    """What the phone is told, and whether anything was done for it now."""

    answer: Answer
    new: bool


@transaction.atomic
def take_message(
    *, person: Person, key: UUID, kind: str, said: Mapping[str, Any], act: Callable[[], Answer]
) -> Told:
    """What is said is done, and what was answered is kept with it, in the same transaction.

    A message with the same key gets the same answer. Refused when the key comes again with other words: then
    one of the two would be lost.
    """
    hold(person)
    print_of_it = fingerprint(kind, said)
    before = PhoneMessage.objects.filter(person=person, key=key).first()
    if before is None:
        answer = act()
        PhoneMessage.objects.create(person=person, key=key, kind=kind, fingerprint=print_of_it, answer=answer)
        return Told(answer, new=True)
    if before.fingerprint != print_of_it:
        raise RefusedError("The phone sent something else under the same key before.")
    return Told(before.answer, new=False)


def fingerprint(kind: str, said: Mapping[str, Any]) -> str:
    """The same for the same words, in whatever order."""
    return hashlib.sha256(json.dumps([kind, said], sort_keys=True).encode()).hexdigest()
