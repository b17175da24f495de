"""Grids are cut the way their surroundings are, and nothing gets larger by it."""

from hypothesis import given
from hypothesis import strategies as st

from materials.cutting.blocks import ACROSS, UPWARD, Leaf, Stack, leaves, stack
from materials.cutting.tidy_blocks import tidy


def leaf(width, height):
    return Leaf(0, False, width, height)


def row(*blocks):
    return stack(ACROSS, list(blocks))


def column(*blocks):
    return stack(UPWARD, list(blocks))


def test_columns_of_equal_parts_become_rows_that_are_ripped_first():
    tidied = tidy(row(column(leaf(5, 3), leaf(5, 2)), column(leaf(4, 3), leaf(4, 2))))
    assert tidied == column(row(leaf(5, 2), leaf(4, 2)), row(leaf(5, 3), leaf(4, 3)))


def test_a_grid_in_a_row_joins_the_row():
    grid = column(row(leaf(5, 3), leaf(5, 3)), row(leaf(5, 3), leaf(5, 3)))
    tidied = tidy(row(leaf(7, 6), grid))
    assert isinstance(tidied, Stack)
    assert [child.width for child in tidied.children] == [7, 5, 5]


def test_parts_of_one_height_in_a_row_stay_a_row():
    assert tidy(row(leaf(5, 3), leaf(2, 3))) == row(leaf(5, 3), leaf(2, 3))


def test_unequal_columns_stay():
    block = row(column(leaf(5, 3), leaf(5, 3)), column(leaf(5, 2), leaf(5, 4)))
    assert tidy(block) == block


SIZES = st.sampled_from([2, 3])
BLOCKS = st.recursive(
    st.builds(leaf, SIZES, SIZES),
    lambda inner: st.builds(
        stack, st.sampled_from([ACROSS, UPWARD]), st.lists(inner, min_size=1, max_size=3)
    ),
    max_leaves=12,
)


@given(BLOCKS)
def test_the_pieces_stay_and_nothing_grows(block):
    tidied = tidy(block)
    assert sorted(map(repr, leaves(tidied))) == sorted(map(repr, leaves(block)))
    assert tidied.width <= block.width
    assert tidied.height <= block.height
    assert depth(tidied) <= depth(block)


def depth(block):
    return 0 if isinstance(block, Leaf) else 1 + max(map(depth, block.children))
