"""Who may open what: one row for every address of the project. A new address without a row fails the test.

`who` names the roles let in: o owner, m maker, b bookkeeper; `*` is everybody, also without log-in;
`own` is whose thing it is, and nobody else is told that it is there.
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
    sign_in: Any = field(default_factory=make.sign_in)


Arguments = Callable[[World], list[Any]]


@dataclass(frozen=True)
class Row:
    name: str
    who: str
    args: Arguments = lambda world: []


ROWS = [
    Row("login", "*"),
    Row("log_in_code", "*"),
    Row("logout", "*"),
    Row("choose_password", "*", lambda w: ["no-such-link"]),
    Row("jobs:account", "omb"),
    Row("jobs:change_password", "omb"),
    Row("jobs:end_log_in", "own", lambda w: [w.sign_in.pk]),
    Row("jobs:end_other_log_ins", "omb"),
    Row("jobs:second_factor", "omb"),
    Row("jobs:second_factor_off", "omb"),
    Row("jobs:list", "omb"),
    Row("jobs:detail", "omb", lambda w: [w.job.pk]),
    Row("jobs:clients", "omb"),
    Row("jobs:client", "omb", lambda w: [w.client.pk]),
    Row("jobs:workshop", "o"),
    Row("jobs:find", "omb"),
    Row("materials:list", "omb"),
    Row("materials:material", "omb", lambda w: [w.material.pk]),
]
