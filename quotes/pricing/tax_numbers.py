"""May this tax be charged by this workshop, and does the paper carry the tax numbers it must?"""

from __future__ import annotations

from collections.abc import Iterable

from quotes.pricing.tax import TaxCategory, TaxRate

NEEDS_BOTH = frozenset({TaxCategory.REVERSE_CHARGE, TaxCategory.INTRA_COMMUNITY})


def charged_unregistered(rates: Iterable[TaxRate]) -> str:
    """Why a workshop that is not registered for tax can't ask for these rates; nothing if it can."""
    if any(rate.percent > 0 for rate in rates):
        return (
            "The workshop is not registered for tax, so it charges none. Use a tax that is outside the scope,"
            " or say in the workshop that it is registered."
        )
    return ""


def amiss_on_invoice(
    rates: Iterable[TaxRate], *, is_registered: bool, seller_number: str, buyer_number: str
) -> str:
    """Why an invoice under these rates can't go out; nothing if it can.

    Who is not registered charges no tax. Every category but outside the scope (O) wants the seller's number
    on the paper (EN 16931 BR-S-02, BR-Z-02, BR-E-02, BR-AE-02, BR-G-02, BR-IC-02); reverse charge and
    intra-community supply want the client's as well.
    """
    found = set(rates)
    if not is_registered and (why := charged_unregistered(found)):
        return why
    categories = {rate.category for rate in found}
    if categories & NEEDS_BOTH and not (seller_number and buyer_number):
        return "Reverse charge needs the tax numbers of the client and of the workshop."
    if categories - {TaxCategory.OUTSIDE_SCOPE} and not seller_number:
        return (
            "The workshop’s tax number is missing: the invoice must carry it. Write it in the letterhead; or,"
            " if the workshop is not registered for tax, say so there and use a tax outside the scope."
        )
    return ""
