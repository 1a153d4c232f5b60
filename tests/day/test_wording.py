"""Sentences that keep their numbers in SI until somebody shows them."""

import math

import pytest

from spreadwright import quantity
from spreadwright.day.wording import Number, Sentence, plain


def test_a_sentence_shows_its_numbers_as_the_page_wishes():
    wind = Sentence.of(
        "Wind {given}, over your limit of {limit}.", given=Number(11.3, "speed"), limit=Number(9.0, "speed")
    )
    assert wind.read() == "Wind 22 kn, over your limit of 17 kn."
    assert wind.read(lambda value, dimension: f"<{value} {dimension}>") == (
        "Wind <11.3 speed>, over your limit of <9.0 speed>."
    )


def test_a_sentence_can_be_shown_by_the_units_of_the_whole_program():
    height = Sentence.of("Waves {given}.", given=Number(1.8, "length"))
    assert height.read(lambda value, dimension: quantity.show(value, dimension, "us")) == "Waves 5.91 ft."


def test_a_brace_without_its_number_is_found_at_once():
    with pytest.raises(KeyError):
        Sentence.of("Wind {given}.")


@pytest.mark.parametrize(
    ("value", "dimension", "text"),
    [
        (10.288889, "speed", "20 kn"),
        (1.84, "length", "1.8 m"),
        (1852.0, "length", "1852 m"),
        (9000.0, "time", "2 h 30 min"),
        (7200.0, "time", "2 h"),
        (-1500.0, "time", "-25 min"),
        (20.0, "time", "0 min"),
        (-20.0, "time", "0 min"),
        (0.75, "volume", "750 l"),
        (math.pi / 2, "angle", "90 deg"),
        (300.15, "temperature", "27 degC"),
        (0.05, "number", "0.05"),
        (math.nan, "speed", "not known"),
    ],
)
def test_plain_units(value, dimension, text):
    assert plain(value, dimension) == text


def test_plain_refuses_a_dimension_it_does_not_know():
    with pytest.raises(ValueError, match="'torque'"):
        plain(1.0, "torque")
