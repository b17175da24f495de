"""The client says yes while the workshop takes the offer back, at the same instant: one of the two holds."""

from __future__ import annotations

import threading

import pytest
from django.db import OperationalError, connection

from jobs.models import BudgetEntry
from jobs.refusals import RefusedError
from quotes.models import Decision, Quote
from quotes.queries.client_page import open_link
from quotes.services import deciding, issuing, links
from tests import make


def at_once(*steps):
    """Start the steps together; which went through."""
    gate, done = threading.Barrier(len(steps)), []

    def run(name, step):
        gate.wait()
        try:
            step()
            done.append(name)
        except (RefusedError, OperationalError):
            pass
        finally:
            connection.close()

    threads = [threading.Thread(target=run, args=step) for step in steps]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return done


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("taken_back", ["offer", "link"])
def test_accepted_and_taken_back_at_once(taken_back):
    make.workshop()
    quote = make.issued_quote()
    owner = make.person(role="owner")
    link = open_link(make.link_to(quote))
    reply = deciding.Reply("Cleo Client", quote.document.sha256)

    def accept():
        deciding.accept(link=link, quote=quote, reply=reply, caller=links.Caller())

    def take_back():
        if taken_back == "offer":
            issuing.withdraw(quote=quote, person=owner)
        else:
            links.withdraw_links(quote=quote, person=owner)

    done = at_once(("accept", accept), ("take back", take_back))
    state, accepted = Quote.objects.get().state, "accept" in done
    assert Decision.objects.exists() is BudgetEntry.objects.exists() is accepted
    assert (state == "accepted") is accepted
    if taken_back == "offer":
        assert len(done) == 1
        assert state in {"accepted", "withdrawn"}
    else:
        assert "take back" in done
        link.refresh_from_db()
        assert link.withdrawn_at is not None
