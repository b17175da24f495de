"""Random sheet problems that can be cut: every part goes into the first stock, which never runs out."""

from hypothesis import strategies as st

from materials.cutting.sheet_problem import SheetPart, SheetProblem, SheetStock, Trim

TRIMS = st.builds(Trim, *[st.integers(0, 20)] * 4)


@st.composite
def sheet_problems(draw, most_parts=8, most_quantity=5):
    kerf = draw(st.sampled_from([0, 0, 1, 30, 42]))
    first = SheetStock(draw(st.integers(300, 3000)), draw(st.integers(300, 3000)), cost=100, trim=draw(TRIMS))
    others = draw(st.lists(_other_stock(), max_size=3))
    families = st.sampled_from(["", "", "", "doors", "ends"])
    parts = [
        SheetPart(
            draw(st.integers(1, first.usable_width_mm10)),
            draw(st.integers(1, first.usable_height_mm10)),
            draw(st.integers(1, most_quantity)),
            may_turn=draw(st.booleans()),
            family=draw(families),
        )
        for _ in range(draw(st.integers(1, most_parts)))
    ]
    return SheetProblem(
        tuple(parts), (first, *others), kerf, draw(st.integers(0, 200)), draw(st.integers(0, 500))
    )


def _other_stock():
    return st.builds(
        SheetStock,
        st.integers(200, 3000),
        st.integers(200, 3000),
        cost=st.integers(0, 150),
        quantity=st.integers(0, 2),
        trim=TRIMS,
        keep_value=st.integers(0, 20),
    )


def one_size(width_mm, height_mm, parts, **others):
    """A problem of one stock, in whole millimetres: parts are (width, height, quantity, may_turn)."""
    kerf = others.pop("kerf_mm10", 0)
    return SheetProblem(
        tuple(SheetPart(w * 10, h * 10, quantity, may_turn=turn) for w, h, quantity, turn in parts),
        (SheetStock(width_mm * 10, height_mm * 10, **others),),
        kerf,
    )
