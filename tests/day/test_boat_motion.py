"""The boat in a seaway: which way she moves, how the doubt is carried, and what is refused."""

import math

import numpy as np
import pytest

from spreadwright.day.boat_motion import HIGH, LOW, Hull, at_point, boat_motion, motion_in_turns, response
from spreadwright.day.ranges import Range
from spreadwright.day.waves import SeaState

BOAT = Hull(9.5, 3.0, 0.6)
SEA = SeaState(1.2, 5.0)
HEADINGS = [math.radians(d) for d in range(0, 360, 30)]


def test_into_the_sea_she_pitches_and_does_not_roll_abeam_the_other_way_round():
    into, abeam = boat_motion(SEA, BOAT, 7.7, math.pi), boat_motion(SEA, BOAT, 7.7, math.pi / 2)
    assert into.pitch.usual > math.radians(2)
    assert into.roll.usual == pytest.approx(0.0, abs=1e-12)
    assert abeam.roll.usual > math.radians(2)
    assert abeam.pitch.usual == pytest.approx(0.0, abs=1e-12)


def test_port_and_starboard_are_alike():
    port, starboard = (boat_motion(SEA, BOAT, 7.7, math.radians(d)) for d in (70, -70))
    assert port == starboard


def test_motion_grows_in_step_with_the_sea():
    small, large = (boat_motion(SeaState(h, 5.0), BOAT, 7.7, 2.0) for h in (0.5, 1.5))
    assert large.heave.usual == pytest.approx(3 * small.heave.usual)
    assert large.roll.usual == pytest.approx(3 * small.roll.usual)
    assert large.period == pytest.approx(small.period)


def test_she_meets_the_waves_faster_running_into_them():
    periods = [boat_motion(SEA, BOAT, 7.7, math.radians(d)).period for d in (180, 90, 45)]
    assert periods == sorted(periods)


def test_the_range_is_the_stated_one_and_widens_with_the_doubt_of_the_sea():
    sure = boat_motion(SEA, BOAT, 7.7, 2.5)
    assert sure.heave == Range.by_factors(sure.heave.usual, LOW, HIGH)
    unsure = boat_motion(SeaState(1.2, 5.0, Range(0.9, 1.2, 1.8)), BOAT, 7.7, 2.5)
    assert unsure.heave.low == pytest.approx(sure.heave.low * 0.75)
    assert unsure.heave.high == pytest.approx(sure.heave.high * 1.5)
    assert unsure.heave.usual == sure.heave.usual


def test_a_flat_sea_moves_nothing():
    flat = boat_motion(SeaState(0.0, 5.0, Range.exactly(0.0)), BOAT, 7.7, 2.5)
    assert flat.heave == flat.roll == flat.pitch == Range.exactly(0.0)
    assert flat.period == math.inf


def test_overtaking_the_waves_is_no_trouble():
    """Where the boat runs just as fast as a wave, she meets it never: alpha is 0, and nothing divides by it."""
    omega = 9.80665 / 7.7
    caught = response(np.array([omega, 2 * omega, 0.5 * omega]), BOAT, 7.7, 0.0)
    for part in (caught.heave, caught.roll, caught.pitch):
        assert np.all(np.isfinite(part))
    assert caught.encounter[0] == pytest.approx(0.0, abs=1e-12)
    assert caught.encounter[1] < 0.0


def test_a_pattern_of_turns_holds_all_its_headings():
    every = [boat_motion(SEA, BOAT, 7.7, heading) for heading in HEADINGS]
    all_round = motion_in_turns(SEA, BOAT, 7.7, HEADINGS)
    for one in every:
        assert all_round.roll.low <= one.roll.low
        assert all_round.roll.high >= one.roll.high
    assert min(m.heave.usual for m in every) < all_round.heave.usual < max(m.heave.usual for m in every)
    with pytest.raises(ValueError, match="one heading or more"):
        motion_in_turns(SEA, BOAT, 7.7, [])


def test_an_outrigger_tip_moves_more_than_a_corner_and_either_side_alike():
    motion = boat_motion(SEA, BOAT, 7.7, math.radians(100))
    corner, outrigger = at_point(motion, BOAT, 0.0, 1.2, 1.5), at_point(motion, BOAT, 3.0, 5.0, 6.0)
    assert outrigger.vertical.usual > corner.vertical.usual
    assert outrigger.sideways.usual == pytest.approx(4 * corner.sideways.usual)
    assert at_point(motion, BOAT, 3.0, -5.0, 6.0) == outrigger
    assert outrigger.vertical.low < outrigger.vertical.usual < outrigger.vertical.high


def test_the_roll_period_that_is_assumed():
    assert Hull(9.5, 3.0, 0.6).free_roll_period == pytest.approx(0.8 * 3.0 / math.sqrt(0.9))
    assert Hull(9.5, 3.0, 0.6, roll_period=3.1).free_roll_period == 3.1


@pytest.mark.parametrize("sizes", [(0.0, 3.0, 0.6), (9.0, -1.0, 0.6), (9.0, 3.0, math.nan), (9.0, 3.0, 0.6, 0.0)])
def test_no_such_hull(sizes):
    with pytest.raises(ValueError, match="must be above zero"):
        Hull(*sizes)


@pytest.mark.parametrize(("speed", "heading"), [(-1.0, 0.0), (math.nan, 0.0), (5.0, math.inf)])
def test_no_such_course(speed, heading):
    with pytest.raises(ValueError, match="zero or more"):
        boat_motion(SEA, BOAT, speed, heading)
