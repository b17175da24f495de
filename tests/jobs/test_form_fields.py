"""Lengths typed into a form."""

from __future__ import annotations

import pytest
from django.core.exceptions import ValidationError
from django.test import Client as Browser
from django.urls import reverse
from hypothesis import given
from hypothesis import strategies as st

from jobs.form_fields import LengthField, length_as_typed
from jobs.lengths import System, parse_length
from jobs.models import Workshop
from tests import make


def test_a_length_is_read_as_makers_write_it(workshop: Workshop) -> None:
    assert LengthField().clean("2.4 m") == 24000


def test_the_workshops_system_decides_a_bare_number(db: None) -> None:
    make.workshop(measurement="feet")
    assert LengthField().clean("10") == 2540


@pytest.mark.parametrize("text", ["2,400", "two metres", "-5", "1 km"])
def test_what_is_no_length_is_refused_in_words(workshop: Workshop, text: str) -> None:
    with pytest.raises(ValidationError):
        LengthField().clean(text)


def test_empty_is_nothing_where_it_may_be(workshop: Workshop) -> None:
    assert LengthField(required=False).clean("") is None


@pytest.mark.parametrize("text", ["9", "3001"])
def test_bounds_are_kept(workshop: Workshop, text: str) -> None:
    with pytest.raises(ValidationError, match=r"At (least|most)"):
        LengthField(least_mm10=100, most_mm10=30_000).clean(text)


@given(length_mm10=st.integers(1, 200_000), system=st.sampled_from(System))
def test_what_is_shown_reads_back_as_the_same_length(length_mm10: int, system: System) -> None:
    assert parse_length(length_as_typed(length_mm10, system), system) == length_mm10


@pytest.mark.parametrize(
    ("name", "args"),
    [
        ("jobs:client-add", []),
        ("jobs:person-add", []),
        ("jobs:workshop-edit", ["letterhead"]),
        ("materials:supplier-new", []),
    ],
)
def test_e_mail_is_spelt_in_one_way(as_owner: Browser, name: str, args: list[str]) -> None:
    text = as_owner.get(reverse(name, args=args)).text
    assert ">E-mail" in text
    assert ">Email" not in text
