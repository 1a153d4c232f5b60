"""Numbers on sheets: rounded to what is known, in the captain's units, with their doubt."""

import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spreadwright.plan.value import Estimate, Swing
from spreadwright.sheets.figures import (
    about,
    derived,
    estimate,
    estimates,
    percent_estimate,
    plain,
    swing,
    swings,
    tied,
)
from spreadwright.sheets.figures import given as as_given

# International foot and avoirdupois pound: 0.3048 m and 0.45359237 kg exactly (NIST SP 811, appendix B);
# standard gravity 9.80665 m/s2 exactly (3rd CGPM, 1901).
FT = 0.3048
LBF = 0.45359237 * 9.80665


def about_it(usual: float, doubt: float) -> Estimate:
    return Estimate(usual=usual, low=usual - doubt, high=usual + doubt)


@pytest.mark.parametrize(
    ("value", "dimension", "system", "text"),
    [
        (about_it(2.0, 0.45), "length", "us", "6.6 ft ± 1.5"),
        (about_it(2.0, 0.45), "length", "metric", "2.0 m ± 0.5"),
        (about_it(99.3, 2.5), "length", "us", "326 ft ± 8"),
        (about_it(100 * LBF, 20 * LBF), "force", "us", "100 lb ± 20"),
        (about_it(50 * 9.80665, 2.0 * 9.80665), "force", "metric", "50.0 kg ± 2.0"),
        (about_it(math.radians(4.5), math.radians(0.3)), "angle", "us", "4.5° ± 0.3"),
        (Estimate(usual=2.0, low=2.0, high=2.0), "length", "metric", "2.00 m"),
        (Estimate(usual=0.3, low=0.0, high=1.5), "length", "metric", "0.3 m (0.0 to 1.5)"),
        (Estimate(usual=2.0, low=1.9, high=2.7), "length", "metric", "2.0 m (1.9 to 2.7)"),
        (about_it(0.35, 0.04), "length", "metric", "0.35 m ± 0.04"),
        (about_it(50 * LBF, 0.3 * LBF), "force", "us", "50.0 lb ± 0.3"),
        (Estimate(usual=-0.1, low=-0.3, high=0.2), "length", "metric", "-0.1 m (-0.3 to 0.2)"),
    ],
)
def test_an_estimate_shows_the_larger_of_its_doubts(value, dimension, system, text):
    assert estimate(value, dimension, system) == text


def test_a_column_has_one_number_of_decimals():
    column = estimates([about_it(2.0, 0.45), about_it(30.0, 3.0)], "length", "us")
    assert column == ["6.6 ± 1.5", "98.4 ± 9.8"]


def test_a_range_through_the_turns_keeps_both_ends_and_their_doubt():
    value = Swing(least=1.92, greatest=2.21, low=1.5, high=2.5)
    assert swing(value, "length", "metric") == "1.9 to 2.2 m ± 0.4"
    assert swings([value, value], "length", "us") == ["6.3 to 7.3 ± 1.4"] * 2
    still = Swing(least=2.0, greatest=2.0, low=2.0, high=2.0)
    assert swing(still, "length", "metric") == "2.00 m"


@settings(max_examples=200)
@given(st.floats(0.01, 500.0), st.floats(0.001, 100.0), st.sampled_from(["us", "metric"]))
def test_what_is_shown_is_the_value_to_the_last_digit_shown(usual, doubt, system):
    metre = FT if system == "us" else 1.0
    text = estimate(about_it(usual, doubt), "length", system)
    number = re.match(r"-?[\d.]+", text)
    assert number is not None
    last = 10.0 ** -len(number[0].partition(".")[2])
    assert abs(float(number[0]) - usual / metre) <= 0.5 * last + 1e-9
    assert last <= max(1.0, 2.0 * doubt / metre)  # never coarser than the doubt, but for whole units


@pytest.mark.parametrize(
    ("value", "dimension", "system", "text"),
    [
        (400 * FT, "length", "us", "400 ft"),
        (400 * FT, "length", "metric", "122 m"),
        (1025 * FT, "length", "us", "1025 ft"),
        (12.5 * FT, "length", "us", "12.5 ft"),
        (60.0, "length", "metric", "60 m"),
        (1024.0, "density", "us", "1024 kg/m3"),
        (math.radians(60), "angle", "us", "60°"),
    ],
)
def test_what_was_given_is_shown_as_given(value, dimension, system, text):
    assert as_given(value, dimension, system) == text


def test_numbers_without_a_doubt_say_so():
    assert about(8.0, "length", "us") == "about 26 ft"
    assert about(2.4e-5, "length", "us") == "about 0 ft"
    assert about(0.1, "length", "us") == "about 0.33 ft"
    assert derived(8.0, "length", "us") == "≈ 26"
    assert derived(0.36, "length", "metric") == "≈ 0.4"
    assert derived(0.0, "length", "us") == "≈ 0.0"


def test_shares_are_in_per_cent():
    assert percent_estimate(Estimate(usual=0.62, low=0.48, high=0.8)) == "62 % (48 to 80)"
    assert percent_estimate(None) == "not known"


def test_nothing_a_captain_wrote_can_steer_the_terminal():
    assert plain("\x1b[31mred\x1b[0m\tline\n80\u202e") == "[31mred [0m line 80"


def test_quantities_are_tied_together():
    assert tied("come 66 s in, 3.4 ft ± 1.4, 3 × hook", "_") == "come 66_s in, 3.4_ft_±_1.4, 3_×_hook"
    assert tied("rod 2 more", "_") == "rod 2 more"
