"""Where the lines and figures of a drawing fall on paper."""

from __future__ import annotations

import pytest

from materials.takeoff.drawing import Dimension, Drawing
from materials.takeoff.paper import LETTER, lay_on_paper


def sheet(*dimensions):
    return lay_on_paper(Drawing(24_000, 18_000, dimensions=dimensions))


def test_it_fills_its_paper_and_keeps_its_shape():
    drawn = lay_on_paper(Drawing(24_000, 12_000))
    assert (drawn.width - 28) / (drawn.height - 28) == pytest.approx(2)


def test_figures_that_lie_beside_a_short_upright_dimension_clear_the_one_outside_it():
    short = Dimension(0, 400, '4 7/16"', across=False)
    overall = Dimension(0, 18_000, "5' 10 7/8\"", across=False, row=1)
    drawn = sheet(short, overall)
    beside = next(word for word in drawn.figures if word.text == short.text)
    outside = float(drawn.dimensions[1].d[1:].split()[0])
    assert not beside.turned
    assert beside.x - LETTER * len(short.text) / 2 >= outside


def test_a_level_dimension_too_short_for_its_figures_leaves_them_out():
    drawn = sheet(Dimension(0, 200, "20"), Dimension(0, 24_000, "2400", row=1))
    assert [word.text for word in drawn.figures] == ["2400"]
