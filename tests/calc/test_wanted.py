"""What is wanted, what is cut of it already, and the marks that parts are known by."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.cutting.wanted import Cut, Wanted, gathered, mark_of, still_wanted

LONG = Wanted("1", "Wall, course", 24000, quantity=5)
SHORT = Wanted("2", "Bunk, board", 6000, quantity=3)


@pytest.mark.parametrize(
    ("number", "mark"),
    [(0, "A"), (7, "H"), (8, "J"), (12, "N"), (13, "P"), (23, "Z"), (24, "AA"), (47, "AZ"), (48, "BA")],
)
def test_marks_leave_out_i_and_o(number: int, mark: str) -> None:
    assert mark_of(number) == mark


def test_marks_are_all_different() -> None:
    assert len({mark_of(number) for number in range(2000)}) == 2000


def test_pieces_alike_become_one_with_one_mark() -> None:
    found = gathered([LONG, SHORT, LONG])
    assert [(piece.mark, piece.length_mm10, piece.quantity) for piece in found] == [
        ("A", 24000, 10),
        ("B", 6000, 3),
    ]


def test_a_cut_piece_is_no_longer_wanted() -> None:
    rest, over = still_wanted([LONG, SHORT], [Cut("1", "Wall, course", 24000, 0, 2)])
    assert [piece.quantity for piece in rest] == [3, 3]
    assert over == ()


def test_what_is_all_cut_is_gone() -> None:
    rest, over = still_wanted([LONG, SHORT], [Cut("2", "Bunk, board", 6000, 0, 3)])
    assert rest == (LONG,)
    assert over == ()


def test_a_cut_piece_serves_another_name_of_its_size() -> None:
    rest, over = still_wanted([LONG], [Cut("9", "Door, stile", 24000, 0, 1)])
    assert rest[0].quantity == 4
    assert over == ()


def test_its_own_label_is_served_first() -> None:
    twin = Wanted("1", "Wall, other", 24000, quantity=5)
    rest, _ = still_wanted([twin, LONG], [Cut("1", "Wall, course", 24000, 0, 5)])
    assert rest == (twin,)


def test_what_nobody_wants_any_more_is_said() -> None:
    rest, over = still_wanted([SHORT], [Cut("2", "Bunk, board", 6000, 0, 5)])
    assert rest == ()
    assert over == (Cut("2", "Bunk, board", 6000, 0, 2),)


sizes = st.integers(1, 4)
wanted_lists = st.lists(
    st.builds(Wanted, st.sampled_from("12"), st.sampled_from("ab"), sizes, st.just(0), st.integers(1, 5)),
    max_size=8,
)
cut_lists = st.lists(
    st.builds(Cut, st.sampled_from("123"), st.sampled_from("abc"), sizes, st.just(0), st.integers(1, 5)),
    max_size=8,
)


@given(wanted_lists, cut_lists)
def test_every_piece_is_served_once(wanted: list[Wanted], cut: list[Cut]) -> None:
    rest, over = still_wanted(wanted, cut)
    for size in range(1, 5):
        asked = sum(w.quantity for w in wanted if w.length_mm10 == size)
        made = sum(c.quantity for c in cut if c.length_mm10 == size)
        assert sum(w.quantity for w in rest if w.length_mm10 == size) == max(0, asked - made)
        assert sum(c.quantity for c in over if c.length_mm10 == size) == max(0, made - asked)
