"""Who may open what: one row for every address of the project. A new address without a row fails the test.

`who` names the roles let in: o owner, m maker, b bookkeeper; `*` is everybody, also without log-in.
`args` picks the address's arguments out of the world that the test has made.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from tests import make


@dataclass(frozen=True)
class World:
    """One of each thing an address can name."""

    job: Any = field(default_factory=make.job)
    client: Any = field(default_factory=make.client)
    material: Any = field(default_factory=make.material)


Arguments = Callable[[World], list[Any]]


@dataclass(frozen=True)
class Row:
    name: str
    who: str
    args: Arguments = lambda world: []


ROWS = [
    Row("login", "*"),
    Row("logout", "*"),
    Row("jobs:list", "omb"),
    Row("jobs:detail", "omb", lambda w: [w.job.pk]),
    Row("jobs:clients", "omb"),
    Row("jobs:client", "omb", lambda w: [w.client.pk]),
    Row("jobs:workshop", "o"),
    Row("jobs:find", "omb"),
    Row("materials:list", "omb"),
    Row("materials:material", "omb", lambda w: [w.material.pk]),
]
