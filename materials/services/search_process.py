"""Starts the search for better plans as a process of its own, so that no request waits for it."""

from __future__ import annotations

import subprocess
import sys
import threading
import uuid

from django.conf import settings


def start_search(run: uuid.UUID) -> None:
    """Let `manage.py solve_plan` work through the plans of this run; nobody waits for it.

    It starts a session of its own, so that a restart of the server does not take the search with it.
    """
    child = subprocess.Popen(
        [sys.executable, str(settings.BASE_DIR / "manage.py"), "solve_plan", str(run)],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,  # what it found stands in its rows
        cwd=settings.BASE_DIR,
        start_new_session=True,
    )
    threading.Thread(target=child.wait, daemon=True).start()  # reaps it, or it would stay as a zombie
