"""README's table of settings names every switch that the code reads, and no other."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
READ = re.compile(r"""(?:env\.(?:text|flag|whole_number|listed)|text|environ\.get)\(\s*["']([A-Z_]+)["']""")
GROUPED = "`KERFBOOK_SMTP_HOST`, `_PORT`, `_USER`, `_PASSWORD`, `_TLS`"


def switches_read() -> set[str]:
    sources = (ROOT / "config").glob("*.py")
    return {name for source in sources for name in READ.findall(source.read_text())}


def switches_documented() -> set[str]:
    settings_on = (ROOT / "README.md").read_text().partition("## Settings")[2]
    table = settings_on.partition("## On a small server")[0]
    rest = (
        {f"KERFBOOK_SMTP{part}" for part in re.findall(r"`(_[A-Z]+)`", GROUPED)}
        if GROUPED in table
        else set()
    )
    return rest | set(re.findall(r"`([A-Z][A-Z_]{3,})`", table.replace("`INFO`", "")))


def test_the_table_and_the_code_name_the_same_switches() -> None:
    assert switches_read() == switches_documented()
