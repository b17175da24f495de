"""The table of security requirements in DEVELOPERS.md: in order, and every test it names exists."""

from __future__ import annotations

import ast
import re
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
ROW = re.compile(r"^\| (\d+\.\d+\.\d+) \| (.+?) \| (.+?) \| `(.+?)` \|$", re.MULTILINE)


def rows() -> list[tuple[str, str, str, str]]:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    return ROW.findall(text.partition("## Security")[2])


def named_in(file: Path) -> set[str]:
    tree = ast.parse(file.read_text(encoding="utf-8"))
    return {node.name for node in tree.body if isinstance(node, ast.FunctionDef)}


def test_every_row_is_read() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").partition("## Security")[2]
    begun = [line for line in text.splitlines() if re.match(r"\| \d", line)]
    assert len(begun) == len(rows()) > 50


def test_each_requirement_stands_once_and_in_order() -> None:
    ids = [tuple(int(part) for part in row[0].split(".")) for row in rows()]
    assert ids == sorted(set(ids))


def test_every_test_named_exists() -> None:
    missing = []
    for _, _, _, named in rows():
        file, _, name = named.partition("::")
        place = ROOT / "tests" / file
        if not place.is_file() or name not in named_in(place):
            missing.append(named)
    assert missing == []
