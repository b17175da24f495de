"""Add, change and put away clients."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import transaction
from django.utils import timezone

from jobs.history import record
from jobs.models import Client, Person
from jobs.versions import save_edit


@transaction.atomic
def add_client(*, person: Person, details: Mapping[str, Any]) -> Client:
    """There is a client of these details."""
    client = Client(**details)
    client.full_clean()
    client.save()
    record(person=person, thing=client, action="added")
    return client


def edit_client(client: Client, *, person: Person, version: int, details: Mapping[str, Any]) -> Client:
    """The client has these details; refused (`StaleError`) when somebody else saved first."""
    return save_edit(client, version=version, details=details, person=person)


@transaction.atomic
def remember_email(client: Client, *, email: str, person: Person) -> None:
    """Where a first letter went is the client's address from now on; one that is known stays as it is."""
    stored = Client.objects.select_for_update().get(pk=client.pk)
    if stored.email:
        return
    stored.email = email
    stored.version += 1
    stored.save(update_fields=["email", "version"])
    record(person=person, thing=stored, action="edited", before={"email": ""}, after={"email": email})


@transaction.atomic
def archive_client(client: Client, *, person: Person, archived: bool) -> Client:
    """The client is put away, or taken out again. Nothing of theirs is lost either way."""
    stored = Client.objects.select_for_update().get(pk=client.pk)
    if (stored.archived_at is not None) != archived:
        stored.archived_at = timezone.now() if archived else None
        stored.save(update_fields=["archived_at"])
        record(person=person, thing=stored, action="put away" if archived else "taken out again")
    return stored
