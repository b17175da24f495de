"""The table over a folder of instances."""

import json
from fractions import Fraction

from materials.cutting.benchmark import Result, line_of, run, totals

BARS = {
    "kind": "1d",
    "class": "small",
    "objective": "bins",
    "stock": [{"length": 100, "qty": None}],
    "items": [{"length": 50, "qty": 3}],
    "best_known": {"bins": 2},
}
SHEETS = {
    "kind": "2d",
    "class": "flat",
    "objective": "cost",
    "stock": [{"width": 100, "height": 50, "cost": 2.5, "qty": None}],
    "items": [{"width": 50, "height": 50, "qty": 4}],
    "best_known": {"objective": 5},
}


def write(folder, **instances):
    for name, data in instances.items():
        (folder / f"{name}.json").write_text(json.dumps(data))


def test_a_folder_of_both_kinds(tmp_path):
    write(tmp_path, bars=BARS, sheets=SHEETS)
    told = []
    results = run(tmp_path, tmp_path / "plans", 0.5, told.append)
    assert [(r.name, r.value, r.bound, r.proven) for r in results] == [
        ("bars", 2, 2, True),
        ("sheets", 5, 5, True),
    ]
    assert told[1].split()[:4] == ["bars", "2", "2", "2"]
    bars = json.loads((tmp_path / "plans" / "bars.json").read_text())["bars"]
    assert sum(bar["repeat"] * len(bar["cuts"]) for bar in bars) == 3
    sheets = json.loads((tmp_path / "plans" / "sheets.json").read_text())["sheets"]
    assert sum(sheet["repeat"] * len(sheet["placements"]) for sheet in sheets) == 4


def test_what_is_no_instance_is_said_and_the_rest_goes_on(tmp_path):
    too_long = {**BARS, "items": [{"length": 101, "qty": 1}]}
    write(tmp_path, a={"some": "thing"}, b=too_long, c=BARS, d=[1], e={**BARS, "items": []})
    (tmp_path / "f.json").write_text("{")
    told = []
    results = run(tmp_path, tmp_path / "plans", 0.2, told.append)
    assert [result.name for result in results] == ["c", "e"]
    assert "is not an instance" in told[1]
    assert "longer than any stock" in told[2]
    assert results[1].value == 0


def result(group, value, best, proven=False):
    return Result(
        "x", group, Fraction(value), None if best is None else Fraction(best), Fraction(0), 1.5, proven
    )


def test_totals_a_class_and_for_all():
    lines = totals([result("a", 10, 10, proven=True), result("a", 11, 10), result("b", 7, None)])
    assert lines[2].split() == ["a", "2", "1", "1", "5.000%", "10.00%", "1.50"]
    assert lines[3].split() == ["b", "1", "0", "0", "0.000%", "0.00%", "1.50"]
    assert lines[4].split()[:4] == ["all", "3", "1", "1"]


def test_a_gap_to_nothing_is_the_value_itself():
    assert result("a", 3, 0).gap == 3


def test_a_line_without_a_best_known():
    assert line_of(result("a", 7, None)).split() == ["x", "7", "-", "0", "1.50", "-"]
