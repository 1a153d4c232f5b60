"""Marching in time against kinematics and against the steady solutions (A8, A9)."""

from math import hypot, inf, pi

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from tests.outside import core
from tests.outside.references import cases

from spreadwright.tow.line import Body, Failure, Line, Sea, Section
from spreadwright.tow.march import Settings, march
from spreadwright.tow.mesh import Grading
from spreadwright.tow.track import circle, s_turn

SEA = Sea(density=cases.DENSITY, gravity=cases.GRAVITY, surface=False)
SPEED = 15 * cases.KNOT
LEAD = Body(mass=cases.LEAD_MASS, volume=cases.LEAD_VOLUME, drag_area=cases.LEAD_DRAG_AREA, added_mass=0.0)
TROLLING = Section(
    length=cases.LINE_LENGTH,
    diameter=cases.LINE_DIAMETER,
    density=cases.LINE_DENSITY,
    stiffness=inf,
    normal_drag=cases.LINE_NORMAL_DRAG,
    tangential_drag=cases.LINE_TANGENTIAL_DRAG,
)
ORIGIN = (0.0, 0.0, 0.0)


def one_motion(line, track, step, grading):
    """The motion of one line, places in the earth's axes about the boat's origin."""
    got = march([line], track, SEA, None, Settings(step=step, store_every=2, grading=grading, workers=1))[0]
    assert not isinstance(got, Failure), got
    return got


def test_kinematics_a_body_that_cannot_slip_follows_as_a_trailer_a8():
    """Tractrix over time: d(alpha)/dt = rate - (speed / length) sin(alpha), alpha between course and line.

    From a straight run into a circle of 100 m with 60 m of weightless line; ends on sqrt(100^2 - 60^2) = 80 m.
    """
    thread = Section(60.0, 1e-6, cases.DENSITY, inf, normal_drag=0.0, tangential_drag=0.0, added_mass=0.0)
    wheel = Body(1e-3, 1e-3 / cases.DENSITY, "slender", axial_area=1e-2, normal_area=1e3, added_mass=0.0)
    track = s_turn(SPEED, 100.0, (2.5 * pi,), lead_in=2.0, lead_out=0.0)
    got = one_motion(Line("wheel", ORIGIN, (thread,), (wheel,)), track, 0.025, Grading(30.0, 30.0, 0.0))

    def swing(t, angle):
        pose = track.pose(np.array([t]))
        return pose.rate - np.hypot(pose.vx, pose.vy) / 60.0 * np.sin(angle)

    trailer = solve_ivp(swing, (0, got.times[-1]), [0.0], t_eval=got.times, rtol=1e-9, atol=1e-10, max_step=0.1)
    back = track.pose(got.times).heading - trailer.y[0] + pi
    expected = 60.0 * np.stack([np.cos(back), np.sin(back)], axis=1)
    assert np.abs(got.places[:, -1, :2] - expected).max() < 0.02
    alpha = trailer.y[0][-1]
    assert hypot(100.0 - 60 * np.sin(alpha), 60 * np.cos(alpha)) == pytest.approx(80.0, abs=0.02)


@pytest.mark.parametrize("radius", [100.0, 50.0, 25.0])
def test_a_steady_turn_stays_steady_in_the_march_a9(radius):
    """Started on the circle, the body keeps its place in the boat's frame to a millimetre for a minute."""
    line = Line("one", ORIGIN, (TROLLING,), (LEAD,))
    got = one_motion(line, circle(SPEED, radius, 60.0), 0.05, Grading())
    steady = core.turning(line, SPEED, radius, SEA)
    distance = np.linalg.norm(got.places[:, -1].astype(float), axis=1)
    x, y, z = steady.places[-1] - steady.places[0]
    assert distance == pytest.approx(hypot(x, y, z), abs=1e-3)
    assert got.places[:, -1, 2] == pytest.approx(-steady.drop(), abs=1e-3)
    assert got.pulls[:, 0] == pytest.approx(steady.tip_tension, rel=1e-3)


@pytest.mark.parametrize(
    ("radius", "body", "depth", "tension"), [(100, 94.72, 1.6779, 65.0643), (50, 42.0601, 1.6545, 57.1637)]
)
def test_independent_shooting_reached_in_time_from_a_straight_run_a9(radius, body, depth, tension):
    """Twice round the circle the march has come to the steady turn that shooting gives: 1 %."""
    track = s_turn(SPEED, radius, (4 * pi,), lead_in=1.0, lead_out=0.0)
    got = one_motion(Line("one", ORIGIN, (TROLLING,), (LEAD,)), track, 0.05, Grading(scale=0.5))
    pose = track.pose(got.times[-1:])
    centre = radius * np.array([-np.sin(pose.heading[0]), np.cos(pose.heading[0])])
    assert hypot(*(got.places[-1, -1, :2] - centre)) == pytest.approx(body, rel=1e-2)
    assert -got.places[-1, -1, 2] == pytest.approx(depth, rel=1e-2)
    assert got.pulls[-1, 0] == pytest.approx(tension, rel=1e-2)


def test_order_of_convergence_in_time_is_two():
    """Body's path through an S-turn on one mesh: errors against the finest step fall by about four a halving."""
    track = s_turn(SPEED, 50.0, (1.0, -1.0), lead_in=1.0, lead_out=4.0)
    line = Line("one", ORIGIN, (TROLLING,), (LEAD,))
    finest = 0.003125
    paths = {}
    for step in (0.1, 0.05, 0.025, finest):
        settings = Settings(step=step, store_every=round(0.2 / step), grading=Grading(), workers=1, tolerance=1e-7)
        got = march([line], track, SEA, None, settings)[0]
        assert not isinstance(got, Failure), got
        paths[step] = got.places[:, -1].astype(float)
    count = min(map(len, paths.values()))
    errors = [np.linalg.norm(paths[s][:count] - paths[finest][:count], axis=1).max() for s in (0.1, 0.05, 0.025)]
    orders = np.log2(np.array(errors[:-1]) / errors[1:])
    assert orders.min() > 1.7, (errors, orders)
