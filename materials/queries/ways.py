"""How do the ways to make one thing compare: mass, hours, days, material?"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from jobs.workshop import current_workshop
from materials.models import TakeoffItem
from materials.queries.rates import labour_rates
from materials.queries.specs import catalogue_of
from materials.queries.takeoff import kind_name
from materials.services.ways import ways_of
from materials.takeoff.costing import Cost, material_cost
from materials.takeoff.figures import rounded
from materials.takeoff.labour import Grade, hours_for
from materials.takeoff.registry import material_keys
from materials.takeoff.ways import WayCompared, compare


@dataclass(frozen=True)
class WayRow:
    """One way as the page shows it."""

    number: int
    compared: WayCompared
    kind_name: str
    hours: Decimal
    days: Decimal
    cost: Cost | None


def way_rows(item: TakeoffItem) -> tuple[WayRow, ...]:
    """Every way of an item by today's catalogue; in five queries."""
    ways = ways_of(item)
    catalogue = catalogue_of(material_keys(item.inputs))
    rates, grade = labour_rates(), Grade(item.phase.grade)
    day = current_workshop().hours_a_day or Decimal(8)
    rows: list[WayRow] = []
    for number, compared in enumerate(compare(ways, catalogue)):
        work = compared.result.work if compared.result else ()
        hours = sum((line.hours for line in hours_for(work, grade, rates)), Decimal(0))
        cost = material_cost(compared.result, catalogue) if compared.result else None
        name = kind_name(compared.way.kind)
        rows.append(WayRow(number, compared, name, hours, rounded(hours / day, 1), cost))
    return tuple(rows)
