"""What did the environment say? Typed readers for every switch, with the default beside the name."""

from __future__ import annotations

import os
import secrets
from pathlib import Path

YES = frozenset({"1", "true", "yes", "on"})
NO = frozenset({"", "0", "false", "no", "off"})


class MisconfiguredError(Exception):
    """A switch in the environment holds something that cannot be meant."""


def text(name: str, default: str = "") -> str:
    """The switch as written, or the default when it is unset or empty."""
    return os.environ.get(name, "").strip() or default


def flag(name: str, *, default: bool = False) -> bool:
    """The switch as yes or no."""
    raw = os.environ.get(name)
    if raw is None:
        return default
    word = raw.strip().lower()
    if word in YES:
        return True
    if word in NO:
        return False
    raise MisconfiguredError(f"{name} is {raw!r}: write 1 for yes or 0 for no.")


def whole_number(name: str, default: int) -> int:
    """The switch as a whole number."""
    raw = text(name, str(default))
    try:
        return int(raw)
    except ValueError:
        raise MisconfiguredError(f"{name} is {raw!r}: write a whole number such as {default}.") from None


def listed(name: str, default: str = "") -> list[str]:
    """The switch as a list of words parted by commas."""
    return [word.strip() for word in text(name, default).split(",") if word.strip()]


def secret_key(data_dir: Path) -> str:
    """KERFBOOK_SECRET_KEY, or one made at the first start and kept in the data folder."""
    given = text("KERFBOOK_SECRET_KEY")
    if given:
        return given
    kept = data_dir / "secret_key"
    if not kept.exists():
        data_dir.mkdir(parents=True, exist_ok=True)
        kept.touch(mode=0o600)
        kept.write_text(secrets.token_urlsafe(50), encoding="ascii")
    return kept.read_text(encoding="ascii").strip()
