"""Which forms does a page offer, and what stands in their fields?"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser
from urllib.parse import urljoin, urlsplit

VOID_TYPES = {"submit", "button", "image", "reset", "file"}


@dataclass
class PageForm:
    """A form: where it is sent and how, what stands in each field, and what a choice offers."""

    action: str
    method: str
    values: dict[str, str] = field(default_factory=dict)
    offers: dict[str, list[str]] = field(default_factory=dict)


class FormReader(HTMLParser):
    """Reads the forms of one page."""

    def __init__(self, page_address: str) -> None:
        super().__init__()
        self.page_address = page_address
        self.forms: list[PageForm] = []
        self._open: PageForm | None = None
        self._select = ""
        self._textarea = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        has = {name: value or "" for name, value in attrs}
        if tag == "form":
            self._begin(has)
        elif self._open is not None and tag == "input":
            self._input(self._open, has)
        elif self._open is not None and tag in {"select", "textarea"} and has.get("name"):
            self._open.values.setdefault(has["name"], "")
            setattr(self, f"_{tag}", has["name"])
        elif self._open is not None and tag == "option" and self._select:
            self._option(self._open, has)
        elif self._open is not None and tag == "button" and has.get("name"):
            self._open.offers.setdefault(has["name"], []).append(has.get("value", ""))

    def _begin(self, has: dict[str, str]) -> None:
        action = urljoin(self.page_address, has.get("action") or has.get("hx-post") or self.page_address)
        method = "post" if "hx-post" in has else has.get("method", "get").lower()
        self._open = PageForm(urlsplit(action).path, method)
        self.forms.append(self._open)

    def _input(self, form: PageForm, has: dict[str, str]) -> None:
        name, kind = has.get("name"), has.get("type", "text")
        if not name or kind in VOID_TYPES:
            return
        if kind in {"checkbox", "radio"}:
            form.offers.setdefault(name, []).append(has.get("value", "on"))
            if "checked" not in has:
                return
        form.values[name] = has.get("value", "")

    def _option(self, form: PageForm, has: dict[str, str]) -> None:
        form.offers.setdefault(self._select, []).append(has.get("value", ""))
        if "selected" in has:
            form.values[self._select] = has.get("value", "")

    def handle_data(self, data: str) -> None:
        if self._open is not None and self._textarea:
            self._open.values[self._textarea] += data

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self._open = None
        elif tag in {"select", "textarea"}:
            setattr(self, f"_{tag}", "")


def forms_of(html: str, page_address: str) -> Iterator[PageForm]:
    """The forms of a page, in their order."""
    reader = FormReader(page_address)
    reader.feed(html)
    yield from reader.forms
