"""Which passwords will do? Long ones that nobody guesses; what they are made of is one's own affair."""

from __future__ import annotations

import pytest
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError

from jobs.models import Person

ASH = Person(name="Ash Turnerswood", email="turnerswood@kerfbook.example")


@pytest.mark.parametrize(
    "password", ["short", "123456123456", "1q2w3e4r5t6y", "ash turnerswood", "turnerswood@kerfbook.example"]
)
def test_common_and_own_words_are_refused(password: str) -> None:
    with pytest.raises(ValidationError):
        validate_password(password, ASH)


@pytest.mark.parametrize(
    "password",
    ["two boards and a batten", "ВОСЕМЬ ДОСОК И РЕЙКА", "🪚" * 12, "a plank " * 20, "9 41 73 02 68 5"],
)
def test_any_long_sentence_will_do(password: str) -> None:
    validate_password(password, ASH)
