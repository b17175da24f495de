"""The command that measures cutting plans, without a database."""

import json
from io import StringIO

import pytest
from django.core.management import CommandError, call_command

BARS = {
    "kind": "1d",
    "stock": [{"length": 100}],
    "items": [{"length": 50, "qty": 3}],
    "best_known": {"bins": 2},
}


def test_prints_a_table_and_writes_the_plans(tmp_path):
    (tmp_path / "small.json").write_text(json.dumps(BARS))
    out = StringIO()
    call_command("cutting_benchmark", str(tmp_path), out=tmp_path / "plans", seconds=0.5, stdout=out)
    assert "small" in out.getvalue()
    assert out.getvalue().splitlines()[-1].split()[:4] == ["all", "1", "1", "1"]
    assert "bars" in json.loads((tmp_path / "plans" / "small.json").read_text())


def test_an_empty_folder_is_said(tmp_path):
    with pytest.raises(CommandError, match=r"no \*\.json"):
        call_command("cutting_benchmark", str(tmp_path), out=tmp_path / "plans")


def test_no_time_is_refused(tmp_path):
    (tmp_path / "small.json").write_text(json.dumps(BARS))
    with pytest.raises(CommandError, match="over nothing"):
        call_command("cutting_benchmark", str(tmp_path), out=tmp_path / "plans", seconds=0.0)
