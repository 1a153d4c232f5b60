"""One wave and waves on a current: laws that hold everywhere, and what is refused."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as some

from spreadwright.day import waves
from spreadwright.day.waves import BREAKING_STEEPNESS, Blocked, OnCurrent, SeaState, sea_on_current

periods = some.floats(0.5, 25.0)
depths = some.floats(0.2, 5000.0)


@given(periods, depths)
def test_the_dispersion_relation_holds(period, depth):
    k = waves.wavenumber(period, depth)
    omega = 2.0 * math.pi / period
    assert waves.GRAVITY * k * math.tanh(k * depth) == pytest.approx(omega**2, rel=1e-11)


@given(periods, depths)
def test_shallow_water_shortens_waves_and_energy_never_overtakes_crests(period, depth):
    assert waves.wavelength(period, depth) <= waves.wavelength(period) * (1 + 1e-12)
    crest = waves.phase_speed(period, depth)
    assert 0.5 * crest * (1 - 1e-12) <= waves.group_speed(period, depth) <= crest * (1 + 1e-12)


def test_very_shallow_water_has_one_speed():
    assert waves.phase_speed(20.0, 0.2) == pytest.approx(math.sqrt(waves.GRAVITY * 0.2), rel=2e-3)


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf])
def test_no_such_period(bad):
    with pytest.raises(ValueError, match="period is above zero"):
        waves.wavelength(bad)


@pytest.mark.parametrize("bad", [0.0, -2.0, math.nan])
def test_no_such_depth(bad):
    with pytest.raises(ValueError, match="depth is above zero"):
        waves.wavelength(5.0, bad)


def test_water_turns_in_circles_over_the_deep():
    along, up = waves.orbital_velocity(2.0, 6.0, -3.0, 0.0)
    assert up == pytest.approx(0.0, abs=1e-15)
    assert waves.orbital_velocity(2.0, 6.0, -3.0, math.pi / 2)[1] == pytest.approx(along, rel=1e-12)
    assert waves.orbital_velocity(2.0, 6.0, 0.0, 0.0)[0] == pytest.approx(math.pi * 2.0 / 6.0, rel=1e-12)
    assert waves.orbital_velocity(2.0, 6.0, -3.0, 0.3, depth=60.0) == pytest.approx(
        waves.orbital_velocity(2.0, 6.0, -3.0, 0.3), rel=1e-3
    )


@given(periods, some.floats(-0.249, 2.0))
def test_an_opposing_current_shortens_and_steepens(period, share):
    answer = waves.on_current(period, share * waves.phase_speed(period))
    assert isinstance(answer, OnCurrent)
    assert (answer.steepness >= 1.0) == (share <= 0.0) or abs(share) < 1e-9
    assert (answer.length <= 1.0) == (share <= 0.0) or abs(share) < 1e-9


def test_without_a_current_nothing_changes():
    assert waves.on_current(6.0, 0.0) == OnCurrent(1.0, 1.0, 1.0, 1.0)
    sea = sea_on_current(SeaState(1.2, 6.0), 0.0)
    assert sea.height == pytest.approx(1.2)
    assert not sea.blocked
    assert not sea.breaking


def test_a_sea_on_a_strong_ebb_breaks_and_then_is_blocked():
    sea = SeaState(2.0, 5.0)
    steep = sea_on_current(sea, -1.6)
    assert steep.breaking
    assert not steep.blocked
    assert steep.steepness == pytest.approx(BREAKING_STEEPNESS)
    stopped = sea_on_current(sea, -2.0)
    assert stopped.blocked
    assert stopped.length == pytest.approx(waves.wavelength(5.0) / 4.0)
    assert stopped.steepness == pytest.approx(BREAKING_STEEPNESS)
    assert stopped.breaking
    answer = waves.on_current(5.0, -2.0)
    assert isinstance(answer, Blocked)
    assert answer.limit == pytest.approx(-1.951, abs=1e-3)


def test_swell_and_wind_sea_add_by_energy():
    both = waves.combined(SeaState(3.0, 6.0), SeaState(4.0, 12.0))
    assert (both.height, both.peak_period) == pytest.approx((5.0, 12.0))
    assert SeaState(1.0, 5.0).steepness == pytest.approx(1.0 / 39.03, rel=1e-3)


@pytest.mark.parametrize(("height", "period"), [(-0.1, 5.0), (math.nan, 5.0), (1.0, 0.0), (1.0, math.inf)])
def test_no_such_sea(height, period):
    with pytest.raises(ValueError, match="given"):
        SeaState(height, period)
