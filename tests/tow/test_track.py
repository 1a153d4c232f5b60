"""The boat's track and its rod tips: closed forms, the sum of the turns, and velocities that belong to the places."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from spreadwright.tow.track import Sway, circle, recorded, s_turn, straight, tip_motion

SPEED = 7.7
TIPS = np.array([[0.5, 3.0, 2.0], [-1.0, -4.0, 5.0], [0.0, 0.0, 0.0]])


def end(track):
    return track.pose(np.array([track.duration]))


def test_straight_run_goes_straight():
    t = np.linspace(0.0, 30.0, 7)
    pose = straight(SPEED, 30.0).pose(t)
    assert pose.x == pytest.approx(SPEED * t, abs=1e-9)
    for still in (pose.y, pose.heading, pose.vy, pose.rate):
        assert still == pytest.approx(np.zeros(7), abs=1e-9)
    assert pose.vx == pytest.approx(np.full(7, SPEED), abs=1e-9)


@pytest.mark.parametrize("radius", [45.0, -45.0])
def test_circle_comes_back_to_its_start(radius):
    around = 2.0 * math.pi * 45.0 / SPEED
    track = circle(SPEED, radius, around)
    pose = end(track)
    assert [pose.x[0], pose.y[0]] == pytest.approx([0.0, 0.0], abs=1e-6)
    assert pose.heading[0] == pytest.approx(math.copysign(2.0 * math.pi, radius), rel=1e-12)
    half = track.pose(np.array([0.5 * around]))
    assert [half.x[0], half.y[0]] == pytest.approx([0.0, 2.0 * radius], abs=1e-6), "to port is to the left, +y"


@given(
    changes=st.lists(st.floats(0.2, 2.5).flatmap(lambda a: st.sampled_from([a, -a])), min_size=1, max_size=4),
    yaw_time=st.floats(0.2, 3.0),
    speed_loss=st.floats(0.0, 0.4),
    between=st.floats(0.0, 8.0),
    radius=st.floats(20.0, 120.0),
)
@settings(max_examples=30, deadline=None)
def test_every_heading_change_is_reached(changes, yaw_time, speed_loss, between, radius):
    track = s_turn(
        SPEED, radius, tuple(changes), 2.0, between, lead_out=15.0 * yaw_time, yaw_time=yaw_time, speed_loss=speed_loss
    )
    pose = end(track)
    assert pose.heading[0] == pytest.approx(sum(changes), abs=1e-5)
    assert pose.rate[0] == pytest.approx(0.0, abs=1e-5)
    assert math.hypot(pose.vx[0], pose.vy[0]) == pytest.approx(SPEED, abs=1e-5)


@pytest.mark.parametrize("speed_loss", [0.0, 0.25])
@pytest.mark.parametrize("side", [1.0, -1.0])
def test_radius_in_the_steady_part_of_a_turn(side, speed_loss):
    track = s_turn(SPEED, 45.0, (side * 2.0 * math.pi,), lead_in=3.0, yaw_time=1.0, speed_loss=speed_loss)
    pose = track.pose(np.array([20.0, 25.0, 30.0]))
    speed = np.hypot(pose.vx, pose.vy)
    assert speed == pytest.approx(np.full(3, SPEED * (1.0 - speed_loss)), rel=1e-6)
    assert speed / pose.rate == pytest.approx(np.full(3, side * 45.0), rel=1e-6)
    # the circle through the three places: product of the sides over four times the triangle's area
    x, y = pose.x, pose.y
    sides = [math.hypot(x[i] - x[i - 1], y[i] - y[i - 1]) for i in range(3)]
    area = 0.5 * abs((x[1] - x[0]) * (y[2] - y[0]) - (x[2] - x[0]) * (y[1] - y[0]))
    assert math.prod(sides) / (4.0 * area) == pytest.approx(45.0, rel=1e-6)


def test_first_order_answer_to_the_helm_in_closed_form():
    """Nomoto: T r' + r = K d; with a turn ordered at 3 s, r = order (1 - exp(-(t - 3) / T))."""
    lag, radius = 1.5, 45.0
    track = s_turn(SPEED, radius, (1.5,), lead_in=3.0, yaw_time=lag)
    t = np.array([1.0, 2.9, 3.1, 5.0, 8.0])
    since = np.maximum(t - 3.0, 0.0)
    pose = track.pose(t)
    order = SPEED / radius
    assert pose.rate == pytest.approx(order * (1.0 - np.exp(-since / lag)), abs=2e-6)
    assert pose.heading == pytest.approx(order * (since - lag * (1.0 - np.exp(-since / lag))), abs=1e-7)


@pytest.mark.parametrize("speed_loss", [0.0, 0.3])
def test_path_is_that_of_an_independent_integration(speed_loss):
    """Two turns with a straight run between, against scipy's DOP853 on T r' + r = order, T u' + u = order."""
    lag, turning = 1.5, SPEED * (1.0 - speed_loss)
    rate = turning / 30.0
    orders = [(2.0, 0.0, SPEED), (1.2 / rate, rate, turning), (3.0, 0.0, SPEED), (0.8 / rate, -rate, turning)]
    state = np.array([0.0, 0.0, 0.0, 0.0, SPEED])  # x, y, heading, rate, speed
    for length, wished_rate, wished_speed in [*orders, (4.0, 0.0, SPEED)]:

        def slope(_, s, r=wished_rate, u=wished_speed):
            return [s[4] * math.cos(s[2]), s[4] * math.sin(s[2]), s[3], (r - s[3]) / lag, (u - s[4]) / lag]

        state = solve_ivp(slope, (0.0, length), state, method="DOP853", rtol=1e-11, atol=1e-11).y[:, -1]
    pose = end(s_turn(SPEED, 30.0, (1.2, -0.8), 2.0, 3.0, 4.0, lag, speed_loss))
    assert [pose.x[0], pose.y[0], pose.heading[0]] == pytest.approx(state[:3], abs=2e-5)


def test_velocity_is_the_slope_of_the_place_and_points_along_the_heading():
    track = s_turn(SPEED, 40.0, (1.0, -1.0), speed_loss=0.2)
    t = np.linspace(0.5, track.duration - 0.5, 60)
    pose, ahead, behind = track.pose(t), track.pose(t + 1e-4), track.pose(t - 1e-4)
    assert (ahead.x - behind.x) / 2e-4 == pytest.approx(pose.vx, abs=1e-5)
    assert (ahead.y - behind.y) / 2e-4 == pytest.approx(pose.vy, abs=1e-5)
    assert (ahead.heading - behind.heading) / 2e-4 == pytest.approx(pose.rate, abs=1e-5)
    assert np.arctan2(pose.vy, pose.vx) == pytest.approx(pose.heading, abs=1e-5)


def test_recorded_track_goes_through_its_points_from_the_first_one():
    t = np.array([100.0, 103.0, 107.0, 112.0, 115.0, 121.0])
    x = np.array([50.0, 70.0, 98.0, 130.0, 140.0, 150.0])
    y = np.array([-20.0, -19.0, -10.0, 12.0, 30.0, 75.0])
    track = recorded(t, x, y)
    assert track.duration == pytest.approx(21.0)
    pose = track.pose(t - 100.0)
    assert pose.x == pytest.approx(x - 50.0, abs=1e-9)
    assert pose.y == pytest.approx(y + 20.0, abs=1e-9)
    assert np.arctan2(pose.vy, pose.vx) == pytest.approx(pose.heading, abs=1e-12)


def test_recorded_circle_turns_without_a_jump_of_the_heading():
    """Once the straight start is forgotten, after a few points: each takes a quarter of the one before."""
    t = np.arange(0.0, 60.0, 0.5)
    angle = SPEED / 45.0 * t
    pose = recorded(t, 45.0 * np.sin(angle), 45.0 * (1.0 - np.cos(angle))).pose(np.linspace(5.0, 58.0, 300))
    assert np.diff(pose.heading).max() < 0.05
    assert pose.rate == pytest.approx(np.full(300, SPEED / 45.0), rel=2e-3)


@pytest.mark.parametrize("points", [2, 3, 4, 40])
def test_a_recorded_track_starts_straight_and_at_an_even_speed(points):
    """A weaving boat: whatever it does later, at the first moment it neither turns nor gains way."""
    t = 1.5 * np.arange(points)
    track = recorded(t, SPEED * t, 0.8 * np.sin(0.9 * t) + 0.3 * np.cos(2.0 * t))
    start = track.pose(np.array([0.0, 1e-4]))
    assert start.rate[0] == pytest.approx(0.0, abs=1e-12)
    speeds = np.hypot(start.vx, start.vy)
    assert speeds[1] == pytest.approx(speeds[0], abs=1e-6)
    if points > 3:
        assert abs(track.pose(t[1:2]).rate[0]) > 0.01  # and then it does turn


def test_a_recorded_stop_is_refused_with_the_next_step():
    t = np.arange(5.0)
    with pytest.raises(ValueError, match=r"stands still \(0\.00 m/s\); leave out the parts without way on"):
        recorded(t, np.zeros(5), np.zeros(5))


def waves(times):
    return Sway(times, 0.4 * np.sin(1.3 * times), 0.1 * np.sin(0.9 * times + 1.0), 0.05 * np.cos(1.7 * times))


@pytest.mark.parametrize("moving", [False, True], ids=["level boat", "in waves"])
def test_tip_velocities_are_the_slopes_of_their_places(moving):
    track = s_turn(SPEED, 40.0, (1.0, -1.5), speed_loss=0.2)
    sway = waves(np.linspace(0.0, track.duration, 4000)) if moving else None
    t = np.linspace(0.5, track.duration - 0.5, 60)
    _, velocities = tip_motion(track, t, TIPS, sway)
    ahead, behind = (tip_motion(track, t + d, TIPS, sway)[0] for d in (1e-4, -1e-4))
    assert (ahead - behind) / 2e-4 == pytest.approx(velocities, abs=2e-5)


def test_outside_rod_runs_faster_than_the_inside_one():
    radius = 45.0
    _, velocities = tip_motion(circle(SPEED, radius, 10.0), np.array([5.0]), TIPS)
    speeds = np.linalg.norm(velocities[0, :, :2], axis=1)
    expected = [SPEED * math.hypot(radius - y, x) / radius for x, y, _ in TIPS]
    assert speeds == pytest.approx(expected, rel=1e-6), "a turn to port: the port rod is inside"
    assert speeds[0] < speeds[2] < speeds[1]


@pytest.mark.parametrize(
    ("heave", "roll", "pitch", "moved"),
    [(0.3, 0.0, 0.0, (0.0, 0.0, 0.3)), (0.0, 0.01, 0.0, (0.0, -0.02, 0.03)), (0.0, 0.0, 0.01, (0.02, 0.0, -0.005))],
    ids=["heave is up", "roll lifts the port side", "pitch puts the bow down"],
)
def test_signs_of_the_boats_motion(heave, roll, pitch, moved):
    times = np.linspace(0.0, 10.0, 11)
    sway = Sway(times, np.full(11, heave), np.full(11, roll), np.full(11, pitch))
    track, at = straight(SPEED, 10.0), np.array([4.0])
    change = tip_motion(track, at, TIPS, sway)[0][0, 0] - tip_motion(track, at, TIPS)[0][0, 0]
    assert change == pytest.approx(moved, abs=1e-9)
