"""Sea water: which way its density goes, and what is refused."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as some

from spreadwright.day.water import density


@pytest.mark.parametrize("kelvin", [math.nan, 200.0, 320.0, math.inf])
def test_a_temperature_the_sea_never_has(kelvin):
    with pytest.raises(ValueError, match="between -2 and 40 degC"):
        density(kelvin, 35.0)


@pytest.mark.parametrize("salinity", [-0.1, 42.5, math.nan])
def test_a_salinity_out_of_range(salinity):
    with pytest.raises(ValueError, match="salinity is between 0 and 42"):
        density(300.0, salinity)


@pytest.mark.parametrize("pressure", [-1.0, 2e8, math.nan])
def test_a_pressure_out_of_range(pressure):
    with pytest.raises(ValueError, match="0 to 1000 bar"):
        density(300.0, 35.0, pressure)


@given(some.floats(278.0, 312.0), some.floats(5.0, 41.0), some.floats(0.0, 1e6))
def test_warmer_is_lighter_saltier_and_deeper_heavier(kelvin, salinity, pressure):
    here = density(kelvin, salinity, pressure)
    assert density(kelvin + 1.0, salinity, pressure) < here
    assert density(kelvin, salinity + 1.0, pressure) > here
    assert density(kelvin, salinity, pressure + 1e5) > here
