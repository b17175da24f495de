"""The command says whether sheets are planned by the compiled search."""

from __future__ import annotations

from io import StringIO

import pytest
from django.core.management import call_command

COMMAND = "materials.management.commands.ready_cutting"


@pytest.mark.parametrize(("works", "said"), [(True, "Ready."), (False, "filling alone")])
def test_it_says_how_sheets_are_planned(works: bool, said: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(f"{COMMAND}.wait_until_ready", lambda: works)
    heard = StringIO()
    call_command("ready_cutting", stdout=heard)
    assert said in heard.getvalue()
