"""What differs between a revision and the one before it, line by line?"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from django.utils import timezone

from jobs.money import ZERO
from quotes.models import Quote
from quotes.queries.figures import QuoteFigures, figures_of

Key = tuple[str, str]


@dataclass(frozen=True)
class LineChange:
    """A line in both, or in one only: its quantity and price before and now."""

    phase: str
    description: str
    before: str
    now: str
    price_before: Decimal | None
    price_now: Decimal | None

    @property
    def difference(self) -> Decimal:
        """Price now less price before; a line that is not there is worth nothing."""
        return (self.price_now or ZERO) - (self.price_before or ZERO)

    @property
    def is_same(self) -> bool:
        """Nothing about the line has changed."""
        return self.before == self.now and self.price_before == self.price_now


@dataclass(frozen=True)
class Comparison:
    """Two revisions side by side; `earlier` is None for the first."""

    quote: Quote
    earlier: Quote | None
    lines: tuple[LineChange, ...]
    total_before: Decimal
    total_now: Decimal

    @property
    def difference(self) -> Decimal:
        """Total without tax now less before."""
        return self.total_now - self.total_before


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
    )


def _by_words(figures: QuoteFigures) -> dict[Key, tuple[str, Decimal]]:
    """Lines by phase and words; of several with the same words each has its number."""
    found: dict[Key, tuple[str, Decimal]] = {}
    for row in figures.rows:
        key, again = (row.phase.title, row.description), 1
        while key in found:
            again += 1
            key = (row.phase.title, f"{row.description} ({again})")
        optional = ", optional" if row.optional else ""
        amount = f"{row.quantity.normalize():f} {row.unit}".strip()
        found[key] = (f"{amount}{optional}", figures.of_row(row).price)
    return found


def _matched(
    before: dict[Key, tuple[str, Decimal]], now: dict[Key, tuple[str, Decimal]]
) -> tuple[LineChange, ...]:
    changes = []
    for phase, words in dict.fromkeys([*before, *now]):
        old, new = before.get((phase, words)), now.get((phase, words))
        changes.append(
            LineChange(
                phase=phase,
                description=words,
                before=old[0] if old else "",
                now=new[0] if new else "",
                price_before=old[1] if old else None,
                price_now=new[1] if new else None,
            )
        )
    return tuple(change for change in changes if not change.is_same)
