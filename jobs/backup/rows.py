"""Every row of every room, as lines of text that any database can take back."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import datetime
from typing import IO, Any

from django.apps import apps
from django.apps.registry import Apps
from django.core import serializers
from django.core.serializers.json import DjangoJSONEncoder
from django.core.serializers.python import Deserializer
from django.db import connections, models, transaction
from django.db.models import Sum

from jobs.append_only import kept_models
from jobs.fields import ExactDecimalField

# Made anew by every migration, or worth nothing in another place.
LEFT_OUT = frozenset({"contenttypes", "auth", "sessions"})
AT_A_TIME = 500


class ToTheMicrosecond(DjangoJSONEncoder):
    """Django's own encoder cuts times to the millisecond; a copy must hold them whole."""

    def default(self, o: Any) -> Any:
        return o.isoformat() if isinstance(o, datetime) else super().default(o)


def kept_rows(registry: Apps = apps) -> list[type[models.Model]]:
    """The models whose rows go into a copy, in a settled order."""
    every = [model for model in registry.get_models() if model._meta.app_label not in LEFT_OUT]
    return sorted(every, key=lambda model: model._meta.label_lower)


@dataclass
class Facts:
    """What must be equal after a restore: rows a model, their digest, ledger sums, hashes of papers."""

    counts: dict[str, int] = field(default_factory=dict)
    digests: dict[str, str] = field(default_factory=dict)
    sums: dict[str, str] = field(default_factory=dict)
    papers: dict[str, str] = field(default_factory=dict)

    def differences(self, other: Facts) -> list[str]:
        """In words, each fact in which the two differ."""
        told: list[str] = []
        for kind, name in (("rows", "counts"), ("content", "digests"), ("sum", "sums"), ("paper", "papers")):
            mine, theirs = getattr(self, name), getattr(other, name)
            told += [
                f"{kind} of {key}: {mine.get(key)} in the copy, {theirs.get(key)} here"
                for key in sorted(mine.keys() | theirs.keys())
                if mine.get(key) != theirs.get(key)
            ]
        return told


def write_rows(target: IO[bytes], using: str, registry: Apps = apps) -> Facts:
    """Write every row as a line; returns the facts of what was written."""
    facts = Facts()
    for model in kept_rows(registry):
        label, digest, count = model._meta.label_lower, hashlib.sha256(), 0
        for line in _lines(model, using):
            target.write(line)
            digest.update(settled(line))
            count += 1
        facts.counts[label], facts.digests[label] = count, digest.hexdigest()
    facts.sums, facts.papers = _sums(using, registry), _papers(using, registry)
    return facts


def settled(line: bytes) -> bytes:
    """A row in one spelling, whatever the order of its fields, which may differ between versions."""
    return json.dumps(json.loads(line), sort_keys=True).encode()


def digests_in(lines: Iterable[bytes], labels: Iterable[str]) -> dict[str, str]:
    """The digest of each model's rows as they stand in a copy."""
    digests = {label: hashlib.sha256() for label in labels}
    for line in lines:
        digests.setdefault(json.loads(line)["model"], hashlib.sha256()).update(settled(line))
    return {label: digest.hexdigest() for label, digest in digests.items()}


def _lines(model: type[models.Model], using: str) -> Iterator[bytes]:
    rows = model._base_manager.using(using).order_by("pk").iterator(chunk_size=AT_A_TIME)
    for row in rows:
        yield serializers.serialize("jsonl", [row], cls=ToTheMicrosecond).encode().rstrip(b"\n") + b"\n"


def _sums(using: str, registry: Apps) -> dict[str, str]:
    """The sum of every amount in every ledger."""
    sums: dict[str, str] = {}
    ledgers = {model._meta.label_lower for model in kept_models()}
    for model in kept_rows(registry):
        if model._meta.label_lower not in ledgers:
            continue
        amounts = [at.name for at in model._meta.fields if isinstance(at, ExactDecimalField)]
        if amounts:
            totals = model._base_manager.using(using).aggregate(**{f"all_{at}": Sum(at) for at in amounts})
            sums |= {f"{model._meta.label_lower}.{at}": str(totals[f"all_{at}"] or 0) for at in amounts}
    return sums


def _papers(using: str, registry: Apps) -> dict[str, str]:
    """The SHA-256 of each stored paper, computed anew from its bytes."""
    hashes: dict[str, str] = {}
    for model in kept_rows(registry):
        names = {at.name for at in model._meta.fields}
        if {"sha256", "content"} <= names:
            rows = model._base_manager.using(using).order_by("pk").values_list("pk", "content")
            hashes |= {f"{model._meta.label_lower} {pk}": _sha256(content) for pk, content in rows.iterator()}
    return hashes


def _sha256(content: Any) -> str:
    return hashlib.sha256(bytes(content)).hexdigest()


def is_empty(using: str) -> bool:
    """Whether no room holds a single row."""
    return not any(model._base_manager.using(using).exists() for model in kept_rows())


class _RowsOf(Deserializer):
    """Rows of the models of one registry, which may be the models as they were at an earlier step."""

    def __init__(self, rows: Iterable[Any], *, registry: Apps, using: str) -> None:
        super().__init__(rows, using=using)
        self.registry = registry

    def _get_model_from_node(self, model_identifier: str) -> type[models.Model]:
        return self.registry.get_model(model_identifier)


def read_rows(lines: Iterable[bytes], using: str, registry: Apps = apps) -> int:
    """Take every row back, as it was, all or none; returns how many. Raises DeserializationError."""
    count = 0
    with transaction.atomic(using=using):
        for row in _RowsOf(map(json.loads, lines), registry=registry, using=using):
            row.save(using=using)
            count += 1
        _reset_sequences(using, registry)
    return count


def _reset_sequences(using: str, registry: Apps) -> None:
    """The next row gets the next number: PostgreSQL must be told, since the rows came with theirs."""
    connection = connections[using]
    from django.core.management.color import no_style

    with connection.cursor() as cursor:
        for statement in connection.ops.sequence_reset_sql(no_style(), kept_rows(registry)):
            cursor.execute(statement)
