"""Which number comes next in a series? None is skipped and none is given twice."""

from __future__ import annotations

from jobs.models import NumberSeries


def next_number(series: str) -> int:
    """Take the next number of a series; call it inside the transaction that uses the number.

    The row is locked until that transaction ends: if it fails, the number is free again.
    """
    NumberSeries.objects.get_or_create(name=series)
    row = NumberSeries.objects.select_for_update().get(name=series)
    row.last += 1
    row.save(update_fields=["last"])
    return row.last
