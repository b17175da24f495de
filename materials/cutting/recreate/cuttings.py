"""What is the most that can be cut out of a sheet, when each shape has its worth and there is no end of it?

Gilmore and Gomory's recursion over the sizes that rows of shapes can add up to. Exact, in whole numbers.
"""

from __future__ import annotations

from materials.cutting.recreate.compiled import compiled
from materials.cutting.recreate.trees import Ints


@compiled
def fill_table(
    xs: Ints, ys: Ints, floor_x: Ints, floor_y: Ints, shapes: Ints, worth: Ints, table: Ints
) -> None:
    """Write into `table[i, j]` the most that a rectangle xs[i] wide and ys[j] high is worth.

    `shapes` are widths and heights, a shape that may turn standing there twice; `floor_x[w]` is the index of
    the largest of `xs` that is at most w. Both begin with 0.
    """
    for i in range(xs.size):
        for j in range(ys.size):
            table[i, j] = 0
    for s in range(worth.size):
        i, j = floor_x[shapes[s, 0]], floor_y[shapes[s, 1]]
        table[i, j] = max(table[i, j], worth[s])
    for i in range(1, xs.size):
        for j in range(1, ys.size):
            most = max(table[i, j], table[i - 1, j], table[i, j - 1])
            k = 1
            while k < i and 2 * xs[k] <= xs[i]:
                most = max(most, table[k, j] + table[floor_x[xs[i] - xs[k]], j])
                k += 1
            k = 1
            while k < j and 2 * ys[k] <= ys[j]:
                most = max(most, table[i, k] + table[i, floor_y[ys[j] - ys[k]]])
                k += 1
            table[i, j] = most
