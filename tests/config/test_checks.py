"""Start-up says what is misconfigured, and the deployed set-up passes Django's own checks."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from config import checks

ROOT = Path(__file__).resolve().parents[2]


def ids(found: list[Any]) -> list[str]:
    return [message.id for message in found]


def test_a_bare_start_has_nothing_amiss(settings: Any, tmp_path: Path) -> None:
    settings.DATA_DIR = tmp_path
    every = (checks.data_folder, checks.address, checks.public_server, checks.mail)
    assert [message for check in every for message in check(None)] == []


def test_a_data_folder_that_is_not_there(settings: Any, tmp_path: Path) -> None:
    settings.DATA_DIR = tmp_path / "nowhere"
    (found,) = checks.data_folder(None)
    assert "mkdir -p" in (found.hint or "")


@pytest.mark.parametrize(
    ("changed", "expected"),
    [
        ({"DEBUG": True, "HTTPS": True, "PROXIES_IN_FRONT": 1}, ["kerfbook.E003"]),
        ({"HTTPS": False}, ["kerfbook.W001"]),
        ({"HTTPS": True, "PROXIES_IN_FRONT": 0}, ["kerfbook.W002"]),
        ({"HTTPS": True, "PROXIES_IN_FRONT": 1}, []),
    ],
)
def test_a_server_that_others_reach(settings: Any, changed: dict[str, Any], expected: list[str]) -> None:
    settings.SITE_URL = "https://kerf.example"
    for name, value in changed.items():
        setattr(settings, name, value)
    assert ids(checks.public_server(None)) == expected


def test_an_address_the_server_does_not_answer_to(settings: Any) -> None:
    settings.SITE_URL = "https://kerf.example"
    (found,) = checks.address(None)
    assert found.hint == "Set KERFBOOK_HOSTS=kerf.example"
    settings.ALLOWED_HOSTS = ["kerf.example"]
    assert checks.address(None) == []


def test_no_mail_server(settings: Any) -> None:
    settings.SITE_URL = "https://kerf.example"
    assert ids(checks.mail(None)) == ["kerfbook.W003"]


def run_check(tmp_path: Path, **switches: str) -> subprocess.CompletedProcess[str]:
    kept = {key: value for key, value in os.environ.items() if not key.startswith(("KERFBOOK_", "DJANGO_"))}
    environment = kept | {"DJANGO_SETTINGS_MODULE": "config.settings"}
    environment |= {"KERFBOOK_DATA_DIR": str(tmp_path), **switches}
    command = [sys.executable, "manage.py", "check", "--deploy", "--fail-level", "WARNING"]
    return subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True, check=False)


def test_the_deployed_set_up_is_clean(tmp_path: Path) -> None:
    done = run_check(
        tmp_path,
        KERFBOOK_URL="https://kerf.example",
        KERFBOOK_HOSTS="kerf.example",
        KERFBOOK_PROXIES="1",
        KERFBOOK_SMTP_HOST="mail.kerf.example",
    )
    assert done.returncode == 0, done.stderr


def test_a_switch_that_cannot_be_meant_is_said(tmp_path: Path) -> None:
    done = run_check(tmp_path, KERFBOOK_DEBUG="perhaps")
    assert "write 1 for yes or 0 for no" in done.stderr
