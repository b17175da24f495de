"""What differs between a revision and the one before it, line by line?"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from django.utils import timezone

from jobs.money import ZERO
from materials.takeoff.figures import with_unit
from quotes.models import Quote
from quotes.queries.figures import QuoteFigures, figures_of

Key = tuple[str, str]


@dataclass(frozen=True)
class Entry:
    """A line of one revision: how much of it, its price, and whether that is in the total."""

    amount: str
    price: Decimal
    counts: bool

    @property
    def in_total(self) -> Decimal:
        """What it adds to the price; nothing for an extra nobody has chosen."""
        return self.price if self.counts else ZERO


@dataclass(frozen=True)
class LineChange:
    """A line in both, or in one only: its quantity and price before and now."""

    phase: str
    description: str
    before: Entry | None
    now: Entry | None

    @property
    def difference(self) -> Decimal:
        """What the line does to the total; nothing for an extra that isn't in it."""
        return (self.now.in_total if self.now else ZERO) - (self.before.in_total if self.before else ZERO)

    @property
    def is_beside_the_price(self) -> bool:
        """Whether it is an extra that neither total counts."""
        return not any(entry.counts for entry in (self.before, self.now) if entry)

    @property
    def is_same(self) -> bool:
        """Nothing about the line has changed."""
        return self.before == self.now


@dataclass(frozen=True)
class Comparison:
    """Two revisions side by side; `earlier` is None for the first. The differences of the lines, less that of
    the discount on the whole, add up to the difference of the totals.
    """

    quote: Quote
    earlier: Quote | None
    lines: tuple[LineChange, ...]
    total_before: Decimal
    total_now: Decimal
    discount_before: Decimal
    discount_now: Decimal

    @property
    def difference(self) -> Decimal:
        """Total without tax now less before."""
        return self.total_now - self.total_before

    @property
    def discount_difference(self) -> Decimal:
        """What the discount on the whole does to the total."""
        return self.discount_before - self.discount_now


def compare_with_earlier(quote: Quote) -> Comparison:
    """Compare with the revision before. Lines are matched by phase and words, in their order."""
    earlier = (
        Quote.objects.filter(number=quote.number, revision__lt=quote.revision).order_by("-revision").first()
    )
    today = timezone.localdate()
    now = figures_of(quote, on=today)
    before = figures_of(earlier, on=today) if earlier else None
    return Comparison(
        quote=quote,
        earlier=earlier,
        lines=_matched(_by_words(before) if before else {}, _by_words(now)),
        total_before=before.priced.totals.without_tax if before else ZERO,
        total_now=now.priced.totals.without_tax,
        discount_before=before.priced.totals.allowances if before else ZERO,
        discount_now=now.priced.totals.allowances,
    )


def _by_words(figures: QuoteFigures) -> dict[Key, Entry]:
    """Lines by phase and words; of several with the same words each has its number."""
    found: dict[Key, Entry] = {}
    for row in figures.rows:
        key, again = (row.phase.title, row.description), 1
        while key in found:
            again += 1
            key = (row.phase.title, f"{row.description} ({again})")
        optional = ", optional" if row.optional else ""
        amount = with_unit(f"{row.quantity.normalize():f}", row.unit)
        priced = figures.of_row(row)
        found[key] = Entry(f"{amount}{optional}", priced.price, priced.counts)
    return found


def _matched(before: dict[Key, Entry], now: dict[Key, Entry]) -> tuple[LineChange, ...]:
    changes = [
        LineChange(phase, words, before.get((phase, words)), now.get((phase, words)))
        for phase, words in dict.fromkeys([*before, *now])
    ]
    return tuple(change for change in changes if not change.is_same)
