"""How long does take-off take? Run by hand: python -m tests.benchmark_takeoff

Prints milliseconds, the middle and the worst of twenty runs, and of the processor alone, which a busy machine
stretches less: computing and drawing an outline of 60 courses
with 10 openings (to be under 100), and a job of 40 items (to be under 300).
"""

from __future__ import annotations

import time
from collections.abc import Callable
from statistics import median
from typing import Any

from materials.takeoff import registry
from materials.takeoff.cladding import Cladding
from materials.takeoff.codec import to_json
from materials.takeoff.end_joints import EndJoint
from materials.takeoff.outline import Opening, Outline
from materials.takeoff.paper import lay_on_paper
from materials.takeoff.shapes import Rectangle
from tests.calc.takeoff.hand import CATALOGUE
from tests.calc.takeoff.test_registry import ONE_OF_EACH

RUNS = 20


def big_wall() -> dict[str, Any]:
    """60 courses of 112 mm round 10 openings, scarfed on battens."""
    openings = tuple(
        Opening(f"W{n}", 1_500 + n % 5 * 8_000, 5_000 + n // 5 * 25_000, 3_000, 8_000, 50) for n in range(10)
    )
    outline = Outline(Rectangle(45_000, 67_200), openings)
    return to_json(Cladding(outline, "board", end_joint=EndJoint.SCARF, batten_spacing_mm10=6_000))


def forty_items() -> list[tuple[str, dict[str, Any]]]:
    """One of each kind, over and over."""
    each = [(key, to_json(inputs)) for key, inputs in ONE_OF_EACH]
    return [each[n % len(each)] for n in range(40)]


def compute_and_draw(key: str, inputs: dict[str, Any]) -> None:
    result = registry.compute(key, inputs, CATALOGUE)
    if result.drawing:
        lay_on_paper(result.drawing)


def timed(what: str, run: Callable[[], None]) -> None:
    run()
    spent, worked = [], []
    for _ in range(RUNS):
        start, at_work = time.perf_counter(), time.process_time()
        run()
        spent.append((time.perf_counter() - start) * 1000)
        worked.append((time.process_time() - at_work) * 1000)
    waited = f"{median(spent):.1f} ms, at worst {max(spent):.1f} ms"
    print(f"{what}: {waited}; of the processor {median(worked):.1f} ms")


def main() -> None:
    wall, items = big_wall(), forty_items()
    timed("60 courses, 10 openings", lambda: compute_and_draw("cladding", wall))
    timed("40 items", lambda: [compute_and_draw(key, inputs) for key, inputs in items] and None)


if __name__ == "__main__":
    main()
