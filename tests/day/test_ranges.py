"""Ranges with doubt: worst goes with worst, and what is no range is refused."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as some

from spreadwright.day.ranges import Range

finite = some.floats(-1e6, 1e6)


def test_worst_goes_with_worst():
    assert Range(1.0, 2.0, 4.0).plus(Range(10.0, 20.0, 40.0)) == Range(11.0, 22.0, 44.0)
    assert Range(1.0, 2.0, 4.0).taken_from(10.0) == Range(6.0, 8.0, 9.0)
    assert Range(1.0, 2.0, 4.0).scaled(0.5) == Range(0.5, 1.0, 2.0)
    assert Range.by_factors(2.0, 0.5, 1.5) == Range(1.0, 2.0, 3.0)
    assert Range.exactly(3.0) == Range(3.0, 3.0, 3.0)


@given(finite, some.floats(0.0, 1.0))
def test_about_holds_its_value_also_below_zero(value, share):
    around = Range.about(value, share)
    assert around.low <= value <= around.high
    assert around.high - value == pytest.approx(abs(value) * share, abs=1e-6)


@pytest.mark.parametrize("three", [(2.0, 1.0, 3.0), (1.0, 3.0, 2.0), (math.nan, 1.0, 2.0), (0.0, 1.0, math.inf)])
def test_what_is_no_range_is_refused(three):
    with pytest.raises(ValueError, match="a range needs"):
        Range(*three)
