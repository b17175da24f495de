"""Does the ground of every page hold in a real browser?"""

from __future__ import annotations

import pytest

from tests.browser.conftest import DESK, PHONE

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("size", [DESK, PHONE], ids=["desk", "phone"])
@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_the_first_page_has_its_styles_and_nothing_amiss(size, dark, owner, open_page, amiss):
    page = open_page(owner, size=size, dark=dark)
    page.goto("/")
    assert page.evaluate("getComputedStyle(document.querySelector('.strip')).borderBottomStyle") == "double"
    assert amiss(page) == []
