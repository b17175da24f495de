"""Plain makers of priced things for the tests of calculation."""

from decimal import Decimal

from quotes.pricing import Kind, Line, Rules, TaxCategory, TaxRate

STANDARD = TaxRate(TaxCategory.STANDARD, Decimal(20))
REDUCED = TaxRate(TaxCategory.STANDARD, Decimal(5))
ZERO_RATED = TaxRate(TaxCategory.ZERO)
REVERSED = TaxRate(TaxCategory.REVERSE_CHARGE, reason_code="VATEX-EU-AE", reason="Reverse charge")
PLAIN = Rules(currency="GBP")


def make_line(**changes):
    fields = {
        "key": "1",
        "phase": "lining",
        "kind": Kind.MATERIAL,
        "quantity": Decimal(1),
        "unit_cost": Decimal(100),
        "tax": STANDARD,
    }
    return Line(**(fields | changes))


def labour(hours, rate, **changes):
    hours = Decimal(hours)
    return make_line(kind=Kind.LABOUR, quantity=hours, hours=hours, unit_cost=Decimal(rate), **changes)
