"""Which optional extras and alternatives has the client chosen?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import replace

from quotes.pricing.lines import Line
from quotes.pricing.rules import PricingError


def choose(lines: Sequence[Line], chosen_keys: Collection[str]) -> tuple[Line, ...]:
    """The lines with exactly these options chosen. Refuses a key that isn't an option."""
    unknown = set(chosen_keys) - {line.key for line in lines if line.optional}
    if unknown:
        raise PricingError("One of the extras chosen is not offered in this quote.")
    chosen = tuple(replace(line, chosen=line.key in chosen_keys) if line.optional else line for line in lines)
    check_groups(chosen)
    return chosen


def check_groups(lines: Sequence[Line]) -> None:
    """Of a group of alternatives at most one may count."""
    counts = Counter(line.group for line in lines if line.group and (line.chosen or not line.optional))
    twice = [group for group, count in counts.items() if count > 1]
    if twice:
        raise PricingError(f"Only one of the alternatives “{min(twice)}” can be chosen.")
