"""The second factor against RFC 6238, Appendix B: SHA-1, the last six of the eight figures."""

from __future__ import annotations

import base64
from datetime import UTC, datetime

import pytest

from jobs.models import SecondFactor
from jobs.services.accounts.second_factor import WrongCodeError, check
from tests import make

SECRET = base64.b32encode(b"12345678901234567890").decode()
VECTORS = [
    (59, "94287082"),
    (1111111109, "07081804"),
    (1111111111, "14050471"),
    (1234567890, "89005924"),
    (2000000000, "69279037"),
    (20000000000, "65353130"),
]


@pytest.mark.django_db
@pytest.mark.parametrize(("seconds", "figures"), VECTORS)
def test_a_code_of_the_standard_is_accepted_once(seconds: int, figures: str) -> None:
    person, now = make.person(), datetime.fromtimestamp(seconds, UTC)
    SecondFactor.objects.create(person=person, secret=SECRET, confirmed_at=now)
    check(person=person, code=figures[-6:], now=now)
    with pytest.raises(WrongCodeError):
        check(person=person, code=figures[-6:], now=now)


@pytest.mark.django_db
def test_a_code_of_another_time_is_refused() -> None:
    person, now = make.person(), datetime.fromtimestamp(1234567890, UTC)
    SecondFactor.objects.create(person=person, secret=SECRET, confirmed_at=now)
    with pytest.raises(WrongCodeError):
        check(person=person, code="287082", now=now)
