"""Whether so many bars are enough, yes or no, against trying all."""

from hypothesis import given, settings
from hypothesis import strategies as st

from materials.cutting.bar_decide import choose, patterns_of_a_plan
from materials.cutting.bar_master import Master, fillings_of
from materials.cutting.bar_pricing import Pattern

from .bar_models import is_whole, least_cost_by_trying_all, model


def never():
    return False


def prices(model):
    master = Master(model)
    return master.values_at(master.relax(never).duals)


@st.composite
def models_of_one_stock(draw):
    lengths = sorted(draw(st.sets(st.integers(5, 60), min_size=1, max_size=4)), reverse=True)
    demand = [draw(st.integers(1, 2)) for _ in lengths]
    return model(lengths, demand, [(max(lengths) + draw(st.integers(0, 50)), 1, None)])


@settings(max_examples=80, deadline=None)
@given(models_of_one_stock())
def test_the_least_number_of_bars_is_enough_and_one_fewer_is_not(model):
    bars = least_cost_by_trying_all(model)[1]
    chosen = choose(model, patterns_of_a_plan(model, prices(model), bars), bars, never)
    assert sum(chosen.values()) == bars
    assert is_whole(model, fillings_of(chosen))
    if bars > 1:
        assert not choose(model, patterns_of_a_plan(model, prices(model), bars - 1), bars - 1, never)


def test_a_bar_more_than_the_length_asks_for():
    """Two of 44, three of 33 and six of 12 fill 259 of two bars of 132, yet want a third."""
    pieces = model([44, 33, 12], [2, 3, 6], [(132, 1, None)])
    assert choose(pieces, patterns_of_a_plan(pieces, prices(pieces), 2), 2, never) is None
    assert choose(pieces, patterns_of_a_plan(pieces, prices(pieces), 3), 3, never)


def test_a_pattern_may_waste_no_more_than_the_plan():
    """Two of 60 and two of 40 fill two bars of 100: no bar of such a plan has a gap."""
    pieces = model([60, 40], [2, 2], [(100, 1, None)])
    assert patterns_of_a_plan(pieces, [6, 4], 2) == [Pattern(0, ((0, 1), (1, 1)))]


def test_too_large_a_table_is_not_begun():
    pieces = model([60, 40], [2, 2], [(2_000_000, 1, None)])
    assert patterns_of_a_plan(pieces, [6, 4], 2) is None


def test_time_over_decides_nothing():
    pieces = model(range(60, 20, -1), [3] * 40, [(150, 1, None)])
    patterns = patterns_of_a_plan(pieces, list(pieces.lengths), 33)
    assert patterns is None or choose(pieces, patterns, 33, lambda: True) == {}
