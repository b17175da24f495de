"""Load the demo: all of it or nothing."""

from __future__ import annotations

from datetime import date, timedelta

from django.db import transaction

from materials.services.price_lists import upload, write
from quotes.demo import bookcase, galley, hut, rack
from quotes.demo.clock import on
from quotes.demo.workshop import make_workshop, price_list_path


@transaction.atomic
def load_demo(today: date) -> None:
    """An invented workshop with its price list and three jobs. Refused where there is a workshop already."""
    team = make_workshop(today)
    path = price_list_path()
    listed = upload(name=path.name, content=path.read_bytes(), supplier="", person=team.owner)
    write(price_list=listed, leave_out_bad_rows=False, person=team.owner)
    with on(today):
        rack.lay_in(team.owner)
        bookcase.tell(team, today)
        hut_story = hut.tell(team, today)
        rack.order_finishes(hut_story, today - timedelta(days=1))
        galley.tell(team, today)
