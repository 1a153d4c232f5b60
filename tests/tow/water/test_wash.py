"""The propellers' wash against Albertson, Dai, Jensen and Rouse 1950, and where it lies along a track."""

import math

import numpy as np
import pytest
from scipy.integrate import quad
from tests.tow.samples import KNOT

from spreadwright.tow.track import circle, s_turn, straight
from spreadwright.tow.water import flow_velocity, make_flow

SPEED = 12 * KNOT
EFFLUX, DIAMETER, DEEP = 8.0, 0.4, 0.5
JET = np.array([[0.0, DEEP, DIAMETER, EFFLUX]])
NOW = 10.0


def straight_wash(jets=JET):
    return make_flow(jets=jets, track=straight(SPEED, 30.0))


def astern(flow, distance, beam=0.0, z=-DEEP, time=NOW):
    """Speed of the water astern of the boat, which is at SPEED times `time` [m/s, aft positive]."""
    u, v, w = flow_velocity(flow, SPEED * time - distance, beam, z, time)
    assert (v, w) == pytest.approx((0.0, 0.0), abs=1e-9)
    return -u


def test_nothing_ahead_of_the_boat():
    flow = straight_wash()
    for distance in (-0.01, -1.0, -50.0):
        assert flow_velocity(flow, SPEED * NOW - distance, 0.0, -DEEP, NOW) == (0.0, 0.0, 0.0)


@pytest.mark.parametrize("distance", [0.1, 1.0, 2.4])
def test_core_keeps_its_speed(distance):
    """Up to 6.2 diameters the middle of the jet runs as fast as it left the propeller."""
    assert astern(straight_wash(), distance) == pytest.approx(EFFLUX)


@pytest.mark.parametrize("distance", [3.0, 10.0, 30.0, 100.0])
def test_decay_on_the_axis(distance):
    """u_m / u_0 = 6.2 D / s; the worked example: 0.66 m/s at 30 m."""
    assert astern(straight_wash(), distance) == pytest.approx(EFFLUX * 6.2 * DIAMETER / distance, rel=1e-6)
    if distance == 30.0:
        assert astern(straight_wash(), distance) == pytest.approx(0.66, abs=0.005)


@pytest.mark.parametrize("distance", [5.0, 30.0])
def test_width_grows_with_distance(distance):
    """Albertson's profile, log10(u / u_m) = -33 r^2 / s^2 in their figures: half the middle's speed at r = 0.095 s."""
    flow = straight_wash()
    middle = astern(flow, distance)
    assert astern(flow, distance, beam=0.0955 * distance) == pytest.approx(0.5 * middle, rel=0.02)
    for share in (0.03, 0.08, 0.15):
        expected = 10.0 ** (-33.0 * share**2)
        assert astern(flow, distance, beam=share * distance) / middle == pytest.approx(expected, rel=0.02)
        assert astern(flow, distance, z=-DEEP - share * distance) / middle == pytest.approx(expected, rel=0.02)


@pytest.mark.parametrize("distance", [10.0, 60.0])
def test_momentum_is_carried_on(distance):
    """A free jet keeps its momentum, pi D^2 / 4 u0^2, at every distance; their constants give it to a few percent."""
    flow = straight_wash()
    flux = quad(lambda r: 2.0 * math.pi * r * astern(flow, distance, beam=r) ** 2, 0.0, distance)[0]
    assert flux == pytest.approx(math.pi / 4 * DIAMETER**2 * EFFLUX**2, rel=0.05)


def test_two_propellers_are_two_jets():
    pair = np.array([[1.2, DEEP, DIAMETER, EFFLUX], [-1.2, DEEP, DIAMETER, EFFLUX]])
    flow = straight_wash(pair)
    near = [astern(flow, 3.0, beam=beam) for beam in (-1.2, 0.0, 1.2)]
    assert near[0] == pytest.approx(near[2])
    assert near[1] < 0.1 * near[0]
    alone = astern(straight_wash(pair[:1]), 40.0, beam=0.3)
    other = astern(straight_wash(pair[1:]), 40.0, beam=0.3)
    assert astern(flow, 40.0, beam=0.3) == pytest.approx(alone + other)


@pytest.mark.parametrize("radius", [60.0, -60.0])
def test_in_a_turn_the_wash_lies_on_the_boats_path_and_runs_aft_along_it(radius):
    track = circle(SPEED, radius, 30.0)
    flow = make_flow(jets=JET, track=track)
    now, back = 20.0, 20.0 / SPEED  # twenty metres astern along the path
    there = track.pose(np.array([now - back]))
    u, v, _ = flow_velocity(flow, there.x[0], there.y[0], -DEEP, now)
    heading = there.heading[0]
    assert math.hypot(u, v) == pytest.approx(EFFLUX * 6.2 * DIAMETER / 20.0, rel=0.02)
    assert math.cos(heading) * -u + math.sin(heading) * -v == pytest.approx(math.hypot(u, v), rel=1e-3)
    straight_behind = track.pose(np.array([now]))
    off = flow_velocity(
        flow,
        straight_behind.x[0] - 40.0 * math.cos(straight_behind.heading[0]),
        straight_behind.y[0] - 40.0 * math.sin(straight_behind.heading[0]),
        -DEEP,
        now,
    )
    on = EFFLUX * 6.2 * DIAMETER / 40.0
    assert math.hypot(*off) < 0.1 * on, "straight behind the boat there is no wash: it is on the circle"


def test_wash_before_the_track_began_lies_straight_astern():
    flow = make_flow(jets=JET, track=s_turn(SPEED, 60.0, (0.5,)))
    assert astern(flow, 50.0, time=0.0) == pytest.approx(EFFLUX * 6.2 * DIAMETER / 50.0, rel=1e-6)


@pytest.mark.parametrize("path", ["straight", "circle"])
def test_wash_has_no_jumps_along_and_across(path):
    """The path is sampled every quarter second; walking along or across the wash must not show its steps."""
    track = straight(SPEED, 30.0) if path == "straight" else circle(SPEED, 60.0, 30.0)
    flow = make_flow(jets=JET, track=track)
    run = np.linspace(4.0, 60.0, 1500)
    back = track.pose(np.maximum(20.0 - run / SPEED, 0.0))
    speeds = np.array(
        [math.hypot(*flow_velocity(flow, x, y, -DEEP, 20.0)) for x, y in zip(back.x, back.y, strict=True)]
    )
    expected = EFFLUX * 6.2 * DIAMETER / run
    assert speeds == pytest.approx(expected, rel=0.05)


def test_wash_without_a_track_is_refused():
    with pytest.raises(ValueError, match="give the track"):
        make_flow(jets=JET)
