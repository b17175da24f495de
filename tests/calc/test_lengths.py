"""Lengths as makers write them. Inch and foot: NIST SP 811 (2008) App. B, the 1959 definitions."""

import doctest

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs import lengths
from jobs.lengths import LengthError, System, format_inches, format_length, parse_length


@pytest.mark.parametrize(
    ("written", "expected_mm10"),
    [
        ("2400", 24000),
        (" 2400 mm ", 24000),
        ("2400mm", 24000),
        ("2.4 m", 24000),
        ("2,4 m", 24000),
        ("2.400 m", 24000),
        ("2,400 m", 24000),
        ("240cm", 24000),
        ("1 m 35 cm", 13500),
        ("1m 350mm", 13500),
        ("12", 120),
        ("12.5", 125),
        ("12,5", 125),
        (".5", 5),
        ("0", 0),
        ("0.04", 0),
        ("0.05", 1),
        ("19.0499", 190),
        ("0.750", 8),
        ("1 in", 254),
        ("3/4 in", 191),
        ("3/4in.", 191),
        ("1 ft", 3048),
        ("4' 6 1/2\"", 13843),
        ("4' 6-1/2\"", 13843),
        ("4'-6 1/2\"", 13843),
        ("4’ 6½”", 13843),
        ("4 ft 6.5 in", 13843),
        ("4′ 6″", 13716),
        ("4' 6''", 13716),
        ("6ft 2", 18796),
        ("6 foot 2 inches", 18796),
        ("6'2", 18796),
        ('7/16"', 111),
        ("2400\u00a0mm", 24000),
    ],
)
def test_metric_workshop_reads(written, expected_mm10):
    assert parse_length(written) == expected_mm10


@pytest.mark.parametrize(
    ("written", "expected_mm10"),
    [
        ("3/4", 191),
        ("54 1/2", 13843),
        ("96", 24384),
        ("8'", 24384),
        ("2400 mm", 24000),
        ("2.125", 540),
    ],
)
def test_feet_workshop_reads(written, expected_mm10):
    assert parse_length(written, System.FEET) == expected_mm10


@pytest.mark.parametrize(
    ("written", "system", "words"),
    [
        ("", System.METRIC, "Write a length"),
        ("   ", System.FEET, "Write a length"),
        ("-20", System.METRIC, "below zero"),
        ("−20", System.METRIC, "below zero"),
        ("tall", System.METRIC, "is not a length"),
        ("24OO", System.METRIC, "not a unit"),
        ("24 km", System.METRIC, "“km” is not a unit"),
        ("2,400", System.METRIC, "could be 2.4 or 2400"),
        ("2.400", System.METRIC, "could be 2.4 or 2400"),
        ("2,400 in", System.METRIC, "could be 2.4 or 2400"),
        ("1,000", System.METRIC, "could be 1.0 or 1000"),
        ("3/4", System.METRIC, "needs a unit"),
        ("3/0 in", System.METRIC, "over nothing"),
        ("2 m 40", System.METRIC, "unit of the last number"),
        ("2 m 3 in", System.METRIC, "mixes units"),
        ("6 in 2 ft", System.METRIC, "mixes units"),
        ("6 ft 2 ft", System.METRIC, "mixes units"),
        ("1001 m", System.METRIC, "over a kilometre"),
        ("1//2 in", System.METRIC, "is not a length"),
    ],
)
def test_what_cannot_be_read_is_said_in_plain_words(written, system, words):
    with pytest.raises(LengthError, match=words):
        parse_length(written, system)


@pytest.mark.parametrize(
    ("length_mm10", "expected"),
    [(24000, "2400 mm"), (195, "19.5 mm"), (0, "0 mm"), (5, "0.5 mm"), (-195, "−19.5 mm")],
)
def test_metric_is_shown_in_millimetres(length_mm10, expected):
    assert format_length(length_mm10) == expected


@pytest.mark.parametrize(
    ("length_mm10", "expected"),
    [
        (13843, "4' 6 1/2\""),
        (3048, "1'"),
        (254, '1"'),
        (191, '3/4"'),
        (0, '0"'),
        (3200, "1' 5/8\""),
        (3047, "1'"),
        (-254, '−1"'),
    ],
)
def test_feet_are_shown_with_fractions_in_lowest_terms(length_mm10, expected):
    assert format_length(length_mm10, System.FEET) == expected


def test_a_finer_fraction_can_be_asked_for():
    assert format_inches(8, smallest=32) == '1/32"'


@given(st.integers(min_value=0, max_value=lengths.LONGEST_MM10))
def test_what_is_shown_in_millimetres_reads_back_the_same(length_mm10):
    assert parse_length(format_length(length_mm10)) == length_mm10


@given(st.integers(min_value=0, max_value=lengths.LONGEST_MM10 - 10))
def test_what_is_shown_in_feet_reads_back_within_a_thirty_second(length_mm10):
    read = parse_length(format_length(length_mm10, System.FEET), System.FEET)
    assert abs(read - length_mm10) <= 254 / 32 + 1


@settings(max_examples=50)
@given(st.text(alphabet="0123456789 .,/-'\"mcinft½", max_size=12))
def test_any_text_is_read_or_refused_with_words(text):
    try:
        answer = parse_length(text)
    except LengthError as error:
        answer = str(error)
    assert answer in range(lengths.LONGEST_MM10 + 1) or len(answer) > 10


def test_the_examples_in_the_module_run():
    assert doctest.testmod(lengths).failed == 0
