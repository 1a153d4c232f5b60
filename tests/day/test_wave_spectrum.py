"""The spectrum: its shape, its edges, and what is refused."""

import math

import numpy as np
import pytest

from spreadwright.day.wave_spectrum import components, jonswap, mean_period


def test_nothing_at_and_below_zero_frequency():
    assert list(jonswap([-1.0, 0.0], 2.0, 6.0)) == [0.0, 0.0]


def test_the_peak_stands_at_the_peak_period_and_grows_with_peakedness():
    f = np.linspace(0.02, 1.0, 9801)
    for peakedness in (1.0, 3.3, 7.0):
        density = jonswap(f, 2.0, 8.0, peakedness)
        assert f[np.argmax(density)] == pytest.approx(1 / 8.0, rel=0.01)
    assert float(jonswap(0.125, 2.0, 8.0, 7.0)) > 2 * float(jonswap(0.125, 2.0, 8.0, 1.0))


def test_a_flat_sea_has_no_waves():
    assert not np.any(jonswap(np.linspace(0.0, 1.0, 50), 0.0, 5.0))
    assert not np.any(components(0.0, 5.0).amplitude)


def test_the_shape_keeps_the_shape_of_the_frequencies():
    assert jonswap(np.full((3, 4), 0.2), 1.0, 5.0).shape == (3, 4)
    assert jonswap(0.2, 1.0, 5.0).shape == ()


def test_the_mean_period_is_shorter_than_that_of_the_peak():
    assert 0.7 < mean_period(1.0, 1.0) < mean_period(1.0, 3.3) < mean_period(1.0, 7.0) < 1.0


@pytest.mark.parametrize(
    ("height", "period", "peakedness"),
    [(-1.0, 5.0, 3.3), (math.nan, 5.0, 3.3), (1.0, 0.0, 3.3), (1.0, 5.0, 0.5), (1.0, 5.0, math.nan)],
)
def test_what_is_out_of_range_is_named(height, period, peakedness):
    with pytest.raises(ValueError, match="given"):
        jonswap(0.2, height, period, peakedness)
    with pytest.raises(ValueError, match="given"):
        components(height, period, 10, peakedness)


def test_a_sea_of_no_waves_is_refused():
    with pytest.raises(ValueError, match="one wave or more"):
        components(1.0, 5.0, 0)
