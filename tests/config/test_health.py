"""A monitor learns whether the database answers, how old the last copy is and what it lacks, and no more."""

from __future__ import annotations

import json
import logging
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from django.db import OperationalError
from django.test import Client as Browser
from django.utils import timezone

from config import health
from config.log import JsonLine
from jobs.backup.archive import LAST_GOOD


def test_it_answers_and_tells_the_age_of_the_copy(
    as_stranger: Browser, settings: Any, tmp_path: Path
) -> None:
    settings.DATA_DIR = tmp_path
    none = {"database": "answers", "days_since_backup": None, "photos_missing": None}
    assert as_stranger.get("/health/").json() == none
    made_at = (timezone.now() - timedelta(days=3, hours=1)).isoformat()
    (tmp_path / LAST_GOOD).write_text(json.dumps({"file": "x", "made_at": made_at, "bytes": 1}))
    three = {"database": "answers", "days_since_backup": 3, "photos_missing": 0}
    assert as_stranger.get("/health/").json() == three
    note = {"file": "x", "made_at": made_at, "bytes": 1, "missing_photos": ["ab", "cd"]}
    (tmp_path / LAST_GOOD).write_text(json.dumps(note))
    assert as_stranger.get("/health/").json()["photos_missing"] == 2


def test_a_database_that_does_not_answer(as_stranger: Browser, monkeypatch: pytest.MonkeyPatch) -> None:
    class Gone:
        def cursor(self) -> None:
            raise OperationalError("gone")

    monkeypatch.setattr(health, "connection", Gone())
    answer = as_stranger.get("/health/")
    assert answer.status_code == 503
    assert answer.json() == {"database": "does not answer"}


def test_a_line_of_the_log_as_json() -> None:
    try:
        raise ValueError("knot")
    except ValueError as error:
        record = logging.LogRecord(
            "jobs", logging.ERROR, "f", 1, "a %s", ("board",), (type(error), error, None)
        )
    line = json.loads(JsonLine().format(record))
    assert (line["level"], line["from"], line["said"]) == ("ERROR", "jobs", "a board")
    assert "knot" in line["trace"]
