"""The wind: a scale without gaps, averaging there and back, and what is refused."""

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as some

from spreadwright.day import wind
from spreadwright.day.wind import KNOT, SCALE, averaged, beaufort


def test_the_scale_has_no_gap_and_no_overlap():
    for lower, upper in itertools.pairwise(SCALE):
        assert lower.knots[1] is not None
        assert upper.knots[0] == lower.knots[1] + 1
        assert lower.speed[1] is not None
        assert upper.speed[0] == pytest.approx(lower.speed[1] + 0.1)


@given(some.floats(0.0, 100.0), some.floats(0.0, 5.0))
def test_more_wind_is_never_a_lower_force(speed, more):
    assert beaufort(speed + more).force >= beaufort(speed).force


def test_the_force_of_what_a_forecast_says():
    assert [beaufort(knots * KNOT).name for knots in (0, 2, 12, 16, 17, 35, 90)] == [
        "calm", "light air", "moderate breeze", "moderate breeze", "fresh breeze", "gale", "hurricane",
    ]  # fmt: skip


def test_half_a_knot_rounds_up():
    assert [beaufort(knots * KNOT).force for knots in (16.4, 16.6, 0.4, 0.6)] == [4, 5, 0, 1]


@pytest.mark.parametrize("bad", [-1.0, math.nan, math.inf])
def test_no_such_wind(bad):
    for function in (beaufort, wind.stress_wind, wind.stress_wind_1984, wind.friction_velocity):
        with pytest.raises(ValueError, match="the wind must be zero or more"):
            function(bad)


@given(some.floats(1.0, 36000.0), some.floats(1.0, 36000.0))
def test_averaging_there_and_back_is_no_change(one, other):
    assert averaged(averaged(10.0, over=one, to=other), over=other, to=one) == pytest.approx(10.0, rel=1e-12)


@given(some.floats(1.0, 35000.0), some.floats(1.01, 1.5))
def test_a_longer_average_is_a_lower_peak(seconds, longer):
    """Up to the tenth of a per cent by which the manual's two formulas miss each other at an hour."""
    longer_time = min(36000.0, seconds * longer)
    assert averaged(10.0, over=seconds, to=longer_time) <= 10.0 * 1.001


@pytest.mark.parametrize("seconds", [0.5, 40000.0, math.nan])
def test_averaging_times_out_of_range(seconds):
    with pytest.raises(ValueError, match="1 s to 10 h"):
        averaged(10.0, over=seconds, to=600.0)


@pytest.mark.parametrize("height", [0.0, 25.0, math.nan])
def test_heights_out_of_range(height):
    with pytest.raises(ValueError, match="1 to 20 m"):
        wind.at_ten_metres(10.0, height)
