"""Steps of an upgrade that work out what older records did not say."""

from __future__ import annotations

from importlib import import_module

import pytest
from django.apps import apps

from quotes.services import issuing
from tests import make

pytestmark = pytest.mark.usefixtures("workshop")


def test_what_a_client_ticked_is_marked_on_the_lines(owner):
    draft = make.quote()
    make.quote_line(1000, quote=draft)
    rack, _ = (make.quote_line(cost, quote=draft, optional=True) for cost in (100, 50))
    quote = make.answer(issuing.issue(quote=draft, person=owner), options=[str(rack.pk)]).quote
    quote.lines.update(chosen=False)
    import_module("quotes.migrations.0004_agreed_extras_stay_chosen").mark_agreed_extras(apps, None)
    assert list(quote.lines.filter(chosen=True)) == [rack]
