"""Whatever is typed into any form of any page, the program answers; it never breaks.

Each form is sent as it stands with a few fields replaced. KERFBOOK_CASES sets how many cases a page gets.
"""

from __future__ import annotations

import os
from functools import cache
from typing import Any

import pytest
from django.test import Client as Browser
from django.urls import reverse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.access_table import ROWS, Row, World
from tests.form_reader import PageForm, forms_of

CASES = int(os.environ.get("KERFBOOK_CASES", "10"))
AWKWARD = [
    "",
    " ",
    "0",
    "-1",
    "-0.00001",
    "1e400",
    "1E-400",
    "NaN",
    "-Infinity",
    "9" * 400,
    str(2**31),
    str(2**63),
    str(2**64),
    "12,5",
    "1.234.567,89",
    "٣",
    "½",
    "4' 6 1/2\"",
    "-3 m",
    "2026-02-30",
    "0001-01-01",
    "9999-12-31",
    "2026-03-29T01:30",
    "25:61",
    "00000000-0000-0000-0000-000000000000",
    "\x00",
    "a\x00b",
    "' OR 1=1 --",
    "<script>alert(1)</script>",
    "{{ 7 }}",
    "=1+1",
    "[]",
    '{"a": 1}',
    "null",
    "on",
    "../../etc/passwd",
    "é" * 300,
    "🪚" * 50,
    "\u202eright to left",
]
APART = {"logout", "api:openapi-json"}  # logging out would end the walk; the other is no page
PAGES = [row for row in ROWS if row.who not in {"token", "own"} and row.name not in APART]
awkward = st.sampled_from(AWKWARD) | st.text(max_size=60).filter(lambda text: text.isprintable())


def changed(form: PageForm) -> st.SearchStrategy[dict[str, str]]:
    """The form as it stands with up to three fields replaced or left out."""
    names = sorted(form.values.keys() | form.offers.keys())
    if not names:
        return st.just({})
    values = {
        name: awkward | st.sampled_from([*form.offers.get(name, []), form.values.get(name, "")])
        for name in names
    }
    return st.lists(st.sampled_from(names), max_size=3, unique=True).flatmap(
        lambda picked: st.fixed_dictionaries({name: values[name] for name in picked}).map(
            lambda new: form.values | new
        )
    )


@pytest.mark.parametrize("row", PAGES, ids=lambda row: row.name)
def test_no_input_breaks_a_page(row: Row, as_owner: Browser) -> None:
    as_owner.raise_request_exception = False
    address = reverse(row.name, args=row.args(World()))
    page = as_owner.get(address)
    is_html = page.headers.get("Content-Type", "").startswith("text/html") and not page.streaming
    forms = list(forms_of(page.text, address)) if page.status_code == 200 and is_html else []
    forms.append(PageForm(address, "post"))
    forms = [form for form in forms if "log-out" not in form.action]

    @settings(max_examples=CASES, suppress_health_check=list(HealthCheck), database=None)
    @given(data=st.data())
    def answers(data: Any) -> None:
        form = data.draw(st.sampled_from(forms), label="form")
        said = data.draw(changed(form), label="said")
        send = as_owner.post if form.method == "post" else as_owner.get
        answer = send(form.action, said)
        assert answer.status_code < 500, f"{form.method} {form.action} {said!r}: {answer.status_code}"

    answers()


def test_no_question_in_the_address_breaks_a_page(as_owner: Browser) -> None:
    as_owner.raise_request_exception = False
    names = st.sampled_from(
        ["q", "page", "state", "kind", "from", "to", "week", "day", "person", "next", "sort"]
    )

    @cache
    def address_of(page: int) -> str:  # what the page is about is made once: every row more slows the rest
        row = PAGES[page]
        return reverse(row.name, args=row.args(World()))

    @settings(max_examples=CASES * 5, suppress_health_check=list(HealthCheck), database=None)
    @given(page=st.integers(0, len(PAGES) - 1), asked=st.dictionaries(names, awkward, max_size=3))
    def answers(page: int, asked: dict[str, str]) -> None:
        answer = as_owner.get(address_of(page), asked)
        assert answer.status_code < 500, f"{PAGES[page].name} {asked!r}: {answer.status_code}"

    answers()


def test_the_reader_finds_what_stands_in_a_form() -> None:
    html = """<form method="post" action="/a/"><input name="t" value="1"><textarea name="w">two</textarea>
    <select name="s"><option value="x"><option value="y" selected></select>
    <input type="checkbox" name="c" value="yes"><button name="go" value="now">Go</button></form>"""
    (form,) = forms_of(html, "/page/")
    assert (form.action, form.method) == ("/a/", "post")
    assert form.values == {"t": "1", "w": "two", "s": "y"}
    assert form.offers == {"s": ["x", "y"], "c": ["yes"], "go": ["now"]}
