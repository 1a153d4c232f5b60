"""The boat's motion against the published closed forms, written out a second time, and against exact limits.

Jensen, Mansour and Olsen 2004, Ocean Engineering 31, 61-85. The original was not at hand: the second writing below
follows the oscillator form in which the open MSS toolbox (Fossen, waveresponse345) states the same model, with
natural frequency sqrt(g / 2T) and its relative damping, which the code under test never forms.
"""

import math

import numpy as np
import pytest

from spreadwright.day.boat_motion import Hull, at_point, boat_motion, response
from spreadwright.day.waves import SeaState

G = 9.80665
BOAT = Hull(length=9.5, beam=3.0, draught=0.6, roll_period=2.6)
SHIP = Hull(length=82.8, beam=19.2, draught=6.0, roll_period=6.0, roll_damping=0.2)


def oscillator(omega, hull, speed, heading):
    """Heave and pitch amplitude per wave amplitude after the toolbox; heading pi is into the waves."""
    k = omega**2 / G
    meeting = omega - k * speed * math.cos(heading)
    effective = abs(k * math.cos(heading))
    sigma = effective * hull.length / 2
    alpha = meeting / omega
    radiated = 2 * math.sin(k * hull.beam * alpha**2 / 2) * math.exp(-k * hull.draught * alpha**2)
    f = math.hypot(1 - k * hull.draught, radiated**2 / (k * hull.beam * alpha**3))
    kappa = math.exp(-effective * hull.draught)
    heave_force = kappa * f * math.sin(sigma) / sigma
    pitch_force = kappa * f * 6 / hull.length / sigma * (math.sin(sigma) / sigma - math.cos(sigma))
    natural = math.sqrt(G / (2 * hull.draught))
    damping = radiated**2 / (hull.beam * alpha**3) * math.sqrt(1 / (8 * k**3 * hull.draught))
    size = math.sqrt((2 * natural * damping) ** 2 + (natural**2 - meeting**2) ** 2 / meeting**2)
    gain = natural**2 / (size * abs(meeting))
    return abs(gain * heave_force), abs(gain * pitch_force)


@pytest.mark.parametrize("hull", [BOAT, SHIP], ids=["boat", "ship"])
@pytest.mark.parametrize("period", [3.0, 5.0, 7.0, 10.0])
@pytest.mark.parametrize(("speed", "degrees"), [(0.0, 180), (5.0, 180), (7.7, 180), (7.7, 0), (3.0, 0)])
def test_heave_and_pitch_twice_written(hull, period, speed, degrees):
    """Along the waves, where our filter across the beam is 1."""
    omega = 2 * math.pi / period
    ours = response(np.array([omega]), hull, speed, math.radians(degrees))
    theirs = oscillator(omega, hull, speed, math.radians(degrees))
    assert float(ours.heave[0]) == pytest.approx(theirs[0], rel=1e-9)
    assert float(ours.pitch[0]) == pytest.approx(theirs[1], rel=1e-9)


@pytest.mark.parametrize("degrees", [0, 45, 90, 150, 180])
def test_in_long_waves_the_boat_follows_the_surface(degrees):
    """Exact limit: heave is the wave's own, pitch and roll are the slope along and across."""
    omega = 2 * math.pi / 60.0
    k = omega**2 / G
    ours = response(np.array([omega]), BOAT, 0.0, math.radians(degrees))
    assert float(ours.heave[0]) == pytest.approx(1.0, rel=0.01)
    assert float(ours.pitch[0]) == pytest.approx(k * abs(math.cos(math.radians(degrees))), rel=0.01, abs=1e-9)
    assert float(ours.roll[0]) == pytest.approx(k * abs(math.sin(math.radians(degrees))), rel=0.01, abs=1e-9)


def test_a_wave_as_long_as_the_boat_does_not_heave_her():
    """Exact limit of the sine filter: as much crest as trough under the keel."""
    omega = math.sqrt(2 * math.pi * G / BOAT.length)
    ours = response(np.array([omega]), BOAT, 0.0, math.pi)
    assert float(ours.heave[0]) == pytest.approx(0.0, abs=1e-12)


def test_roll_at_its_own_period_is_the_slope_over_twice_the_damping():
    """Exact: a linear oscillator at resonance. Waves so long for the beam that the filters do nothing."""
    narrow = Hull(9.5, 0.01, 0.001, roll_period=5.0, roll_damping=0.2)
    k = (2 * math.pi / 5.0) ** 2 / G
    ours = response(np.array([2 * math.pi / 5.0]), narrow, 0.0, math.pi / 2)
    assert float(ours.roll[0]) == pytest.approx(k / 0.4, rel=1e-3)


def test_a_long_swell_heaves_the_boat_by_half_its_height():
    """Significant single amplitude of a boat that follows the surface: half the significant height."""
    motion = boat_motion(SeaState(2.0, 20.0), BOAT, 0.0, math.pi)
    assert motion.heave.usual == pytest.approx(1.0, rel=0.02)


def test_the_transom_of_a_pitching_boat_moves_by_half_her_length_times_the_pitch():
    motion = boat_motion(SeaState(1.5, 6.0), BOAT, 7.7, math.pi)
    transom = at_point(motion, BOAT, 0.0, 0.0, 0.0)
    assert transom.vertical.usual == pytest.approx(math.hypot(motion.heave.usual, motion.pitch.usual * 4.75), rel=1e-12)
    middle = at_point(motion, BOAT, 4.75, 0.0, 2.0)
    assert middle.vertical.usual == pytest.approx(motion.heave.usual, rel=1e-12)
    assert middle.fore_and_aft.usual == pytest.approx(2.0 * motion.pitch.usual, rel=1e-12)


def test_a_rod_tip_of_a_rolling_boat_swings_by_its_height_times_the_roll():
    motion = boat_motion(SeaState(1.5, 6.0), BOAT, 7.7, math.pi / 2)
    tip = at_point(motion, BOAT, 4.75, 2.0, 3.0)
    assert tip.sideways.usual == pytest.approx(3.0 * motion.roll.usual, rel=1e-12)
    assert tip.vertical.usual == pytest.approx(math.hypot(motion.heave.usual, 2.0 * motion.roll.usual), rel=1e-12)
    assert tip.fore_and_aft.usual == pytest.approx(0.0, abs=1e-12)
