"""Money: minor units, rounding, shares and writing."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.money import (
    UnknownCurrencyError,
    cash_digits,
    format_money,
    format_number,
    minor_digits,
    round_half_up,
    round_money,
    split_money,
)

amounts = st.decimals("-1000000", "1000000", places=4)
weights = st.lists(st.decimals("0", "10000", places=3), min_size=1, max_size=30)
currencies = st.sampled_from(["GBP", "JPY", "KWD"])


@pytest.mark.parametrize(
    ("currency", "digits"),
    [  # ISO 4217 (from memory for the last three, where everyday use differs from the standard)
        ("GBP", 2), ("EUR", 2), ("USD", 2), ("JPY", 0), ("KWD", 3), ("RSD", 2), ("IQD", 3), ("ALL", 2),
    ],
)  # fmt: skip
def test_minor_units_are_those_of_iso_4217(currency, digits):
    assert minor_digits(currency) == digits


@pytest.mark.parametrize(
    ("currency", "digits"),
    [("GBP", 2), ("JPY", 0), ("KWD", 3), ("IDR", 0), ("HUF", 0)],  # CLDR, cashDigits
)
def test_what_coins_pay_is_that_of_everyday_use(currency, digits):
    assert cash_digits(currency) == digits


@pytest.mark.parametrize("code", ["", "POUND", "gbp", "XQQ"])
def test_a_code_that_is_no_currency_is_refused(code):
    with pytest.raises(UnknownCurrencyError):
        minor_digits(code)


@pytest.mark.parametrize(
    ("amount", "currency", "expected"),
    [
        ("0.005", "GBP", "0.01"),
        ("-0.005", "GBP", "-0.01"),
        ("0.0049", "GBP", "0.00"),
        ("365.125", "EUR", "365.13"),
        ("-365.125", "EUR", "-365.13"),
        ("0.5", "JPY", "1"),
        ("2.0005", "KWD", "2.001"),
    ],
)
def test_halves_round_away_from_nothing(amount, currency, expected):
    assert str(round_money(Decimal(amount), currency)) == expected


def test_places_may_be_none_at_all():
    assert round_half_up(Decimal("2.5"), 0) == 3


@pytest.mark.parametrize(
    ("total", "shares", "expected"),
    [
        ("100", [1, 1, 1], ["33.34", "33.33", "33.33"]),
        ("0.02", [1, 1, 1], ["0.01", "0.01", "0.00"]),
        ("-100", [1, 1, 1], ["-33.34", "-33.33", "-33.33"]),
        ("10", [0, 0], ["5.00", "5.00"]),
        ("10", [0, 3], ["0.00", "10.00"]),
        ("0", [1, 2], ["0.00", "0.00"]),
    ],
)
def test_shares_by_largest_remainder(total, shares, expected):
    parts = split_money(Decimal(total), [Decimal(share) for share in shares], "GBP")
    assert [f"{part:.2f}" for part in parts] == [f"{Decimal(figure):.2f}" for figure in expected]


@given(total=amounts, shares=weights, currency=currencies)
def test_shares_add_up_to_the_rounded_total(total, shares, currency):
    assert sum(split_money(total, shares, currency)) == round_money(total, currency)


@given(total=amounts, shares=weights, currency=currencies)
def test_no_share_is_a_whole_unit_from_its_fair_part(total, shares, currency):
    rounded, whole = round_money(total, currency), sum(shares) or len(shares)
    fair = [rounded * (share if sum(shares) else 1) / whole for share in shares]
    unit = Decimal(1).scaleb(-minor_digits(currency))
    parts = split_money(total, shares, currency)
    assert all(abs(part - due) < unit for part, due in zip(parts, fair, strict=True))


@given(total=amounts, shares=weights)
def test_a_credit_is_shared_as_the_mirror_of_the_charge(total, shares):
    charge, credit = split_money(total, shares, "GBP"), split_money(-total, shares, "GBP")
    assert [-part for part in charge] == list(credit)


@pytest.mark.parametrize("shares", [[], [Decimal(1), Decimal(-1)]])
def test_shares_that_make_no_sense_are_refused(shares):
    with pytest.raises(ValueError, match="share"):
        split_money(Decimal(1), shares, "GBP")


@pytest.mark.parametrize(
    ("amount", "currency", "locale", "expected"),
    [  # CLDR's patterns for each locale
        ("1234.5", "GBP", "en_GB", "£1,234.50"),
        ("-48", "GBP", "en-GB", "−£48.00"),
        ("1234.5", "EUR", "de_DE", "1.234,50\u00a0€"),
        ("1234.5", "USD", "en_US", "$1,234.50"),
        ("1234.4", "JPY", "ja_JP", "¥1,234"),
        ("1.2345", "KWD", "en_GB", "KWD\u00a01.235"),
        ("5", "GBP", "not a locale", "£5.00"),
    ],
)
def test_money_is_written_as_the_locale_does(amount, currency, locale, expected):
    assert format_money(Decimal(amount), currency, locale).replace("￥", "¥") == expected


def test_numbers_are_written_as_the_locale_does():
    assert format_number(Decimal("1234.5"), "de_DE", 2) == "1.234,50"
    assert format_number(Decimal("-0.25"), "en_GB", 1) == "−0.3"
