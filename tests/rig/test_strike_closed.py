"""Closed formulas of the strike: against integration, limits, and what is refused."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spreadwright.rig import strike_closed

sizes = st.floats(0.1, 100.0)


def integrated_peak(stiffness, mass, speed, preload):
    """Peak force of a mass on a spring by stepping Newton's law (velocity Verlet)."""
    step = 1e-4 * math.sqrt(mass / stiffness)
    stretch, velocity = preload / stiffness, speed
    while velocity > 0.0:
        force = stiffness * stretch - preload  # the tow goes on pulling with the preload
        half = velocity - 0.5 * step * force / mass
        stretch += step * half
        velocity = half - 0.5 * step * (stiffness * stretch - preload) / mass
    return stiffness * stretch


def test_mass_on_a_spring_against_stepping():
    closed = strike_closed.peak_tension(19.6349540849, 20.0, 10.0)
    assert integrated_peak(19.6349540849, 20.0, 10.0, 0.0) == pytest.approx(closed, rel=1e-6)


@given(sizes, sizes, sizes, sizes)
def test_preload_adds_in_energy_not_in_force(stiffness, mass, speed, preload):
    with_it = strike_closed.peak_tension(stiffness, mass, speed, preload)
    without = strike_closed.peak_tension(stiffness, mass, speed)
    assert with_it == pytest.approx(math.hypot(preload, without))
    assert max(preload, without) <= with_it <= preload + without


@given(sizes, sizes, sizes)
def test_peak_force_is_stiffness_times_peak_stretch(stiffness, mass, speed):
    force = strike_closed.peak_tension(stiffness, mass, speed)
    assert force == pytest.approx(stiffness * strike_closed.peak_stretch(stiffness, mass, speed))


@given(sizes, sizes, sizes)
def test_constant_drag_takes_up_the_energy_and_the_momentum(mass, speed, drag):
    distance, time = strike_closed.run_out(mass, speed, drag)
    assert drag * distance == pytest.approx(0.5 * mass * speed**2)
    assert drag * time == pytest.approx(mass * speed)


def test_a_weight_let_go_without_height_pulls_twice():
    assert strike_closed.drop_tension(100.0, 0.0, 2000.0) == 200.0


def test_a_fixed_end_doubles_the_wave():
    args = (2.0e9, 1140.0, 1e-3, 5.0)
    assert strike_closed.impact_tension_at_fixed_end(*args) == 2 * strike_closed.impact_tension(*args)


def test_series_is_softer_than_the_softest():
    assert strike_closed.stiffness_in_series(20.0, 2000.0) < 20.0
    with pytest.raises(ValueError, match="at least one"):
        strike_closed.stiffness_in_series()


@pytest.mark.parametrize(
    ("function", "args", "named"),
    [
        (strike_closed.wave_speed, (0.0, 1000.0), "modulus"),
        (strike_closed.round_area, (-1.0,), "diameter"),
        (strike_closed.line_stiffness, (1e9, 1e-3, math.nan), "length"),
        (strike_closed.peak_tension, (10.0, 20.0, -1.0), "speed"),
        (strike_closed.run_out, (1.0, 1.0, 0.0), "drag"),
    ],
)
def test_what_makes_no_sense_is_refused_by_name(function, args, named):
    with pytest.raises(ValueError, match=named):
        function(*args)
