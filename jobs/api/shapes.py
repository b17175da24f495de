"""What goes over the wire, and in which units."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from typing import Annotated, Literal
from uuid import UUID

from ninja import Schema
from pydantic import Field

Money = Annotated[Decimal, Field(ge=-(10**9), le=10**9, max_digits=16, decimal_places=4)]
RowId = Annotated[int, Field(ge=1, lt=2**63)]
MOST_ROWS = 500


class Page(Schema):
    """Which rows of a long answer are wanted."""

    limit: Annotated[int, Field(ge=1, le=MOST_ROWS)] = MOST_ROWS
    offset: Annotated[int, Field(ge=0, lt=2**31)] = 0


class JobsWanted(Page):
    """Jobs of one state, or of any."""

    state: Literal["", "enquiry", "quoted", "won", "bench", "handed_over", "closed", "lost"] = ""


class HoursWanted(Page):
    """Hours from one day to another, both included."""

    from_date: date | None = None
    to_date: date | None = None


class JobOut(Schema):
    """A job. `state` is one of: enquiry, quoted, won, bench, handed_over, closed, lost."""

    id: int
    number: str
    title: str
    client: str
    state: str
    starts_on: date | None
    ends_on: date | None


class PhaseOut(Schema):
    """A phase of a job; `percent_done` is what the maker entered."""

    id: int
    title: str
    grade: str
    planned_start: date | None
    planned_days: int
    percent_done: Decimal


class HoursOut(Schema):
    """A stretch of work; `seconds` is empty while its timer runs."""

    key: UUID
    person: str
    phase_id: int
    on_date: date
    started_at: datetime | None
    seconds: int | None
    note: str


class HoursIn(Schema):
    """Hours of a day on a phase. The key is yours: sent again, it is the same entry."""

    key: UUID
    phase_id: RowId
    on_date: date
    hours: Annotated[Decimal, Field(gt=0, le=24, max_digits=8, decimal_places=4)]
    note: Annotated[str, Field(max_length=240)] = ""


class CostIn(Schema):
    """A cost of a phase, in the workshop's currency. The key is yours: sent again, it is the same cost.

    Net and tax are as the paper says them; a workshop that is not registered for tax keeps both as net.
    """

    key: UUID
    phase_id: RowId
    on_date: date
    net: Money
    tax: Money = Decimal(0)
    kind: Literal["material", "subcontract", "hire", "travel", "other"] = "material"
    supplier: Annotated[str, Field(max_length=120)] = ""
    description: Annotated[str, Field(max_length=200)] = ""


class Kept(Schema):
    """What is now kept, and whether it was new."""

    key: UUID
    new: bool


class Refused(Schema):
    """Why nothing was done."""

    said: str
