"""Which tax numbers an invoice must carry: EN 16931-1 rules BR-S-02, BR-Z-02, BR-E-02, BR-AE-02, BR-O-02."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quotes.pricing import TaxCategory, TaxRate
from quotes.pricing.tax_numbers import amiss_on_invoice, charged_unregistered

STANDARD = TaxRate(TaxCategory.STANDARD, Decimal(20))
REDUCED = TaxRate(TaxCategory.STANDARD, Decimal(5))
ZERO = TaxRate(TaxCategory.ZERO)
EXEMPT = TaxRate(TaxCategory.EXEMPT, reason="By law")
REVERSED = TaxRate(TaxCategory.REVERSE_CHARGE, reason_code="VATEX-EU-AE", reason="Reverse charge")
OUTSIDE = TaxRate(TaxCategory.OUTSIDE_SCOPE, reason_code="VATEX-EU-O", reason="Not registered")
SOME = st.lists(st.sampled_from([STANDARD, REDUCED, ZERO, EXEMPT, REVERSED, OUTSIDE]), max_size=4)


@pytest.mark.parametrize(
    ("rates", "is_registered", "seller", "buyer", "words"),
    [
        ([STANDARD], True, "GB1", "", ""),
        ([STANDARD], True, "", "", "tax number is missing"),
        ([STANDARD], False, "", "", "not registered"),
        ([STANDARD], False, "GB1", "", "not registered"),
        ([ZERO], True, "", "", "tax number is missing"),
        ([EXEMPT], True, "", "", "tax number is missing"),
        ([EXEMPT], False, "GB1", "", ""),
        ([OUTSIDE], True, "", "", ""),
        ([OUTSIDE], False, "", "", ""),
        ([OUTSIDE, REDUCED], False, "", "", "not registered"),
        ([REVERSED], True, "GB1", "", "Reverse charge needs"),
        ([REVERSED], True, "", "GB2", "Reverse charge needs"),
        ([REVERSED], True, "GB1", "GB2", ""),
        ([], True, "", "", ""),
    ],
)
def test_what_is_amiss_is_said(rates, is_registered, seller, buyer, words):
    said = amiss_on_invoice(rates, is_registered=is_registered, seller_number=seller, buyer_number=buyer)
    assert words in said
    assert bool(said) is bool(words)


@given(SOME, st.booleans(), st.booleans())
def test_no_tax_leaves_an_unregistered_workshop(rates, has_number, buyer_has):
    said = amiss_on_invoice(
        rates,
        is_registered=False,
        seller_number="X1" * has_number,
        buyer_number="X2" * buyer_has,
    )
    charges = any(rate.percent > 0 for rate in rates)
    assert not charges or said
    assert bool(charged_unregistered(rates)) is charges


@given(SOME)
def test_with_both_numbers_a_registered_workshop_may_charge_anything(rates):
    assert not amiss_on_invoice(rates, is_registered=True, seller_number="X1", buyer_number="X2")
