"""A NUL in the address is refused before any page, whatever the database would make of it."""

from __future__ import annotations

import pytest
from django.test import Client as Browser


@pytest.mark.parametrize("address", ["/find/?q=a%00b", "/materials/?q=%00", "/?%00=1", "/clients/%00/"])
def test_a_nul_is_nobodys_question(as_owner: Browser, address: str) -> None:
    answer = as_owner.get(address)
    assert answer.status_code == 400
    assert "Content-Security-Policy" in answer.headers


def test_other_odd_characters_are_looked_for(as_owner: Browser) -> None:
    assert as_owner.get("/find/?q=%C2%BD%20%F0%9F%AA%9A").status_code == 200
