"""The current: profile, and that towing against it is towing faster."""

import numpy as np
import pytest
from tests.tow import samples
from tests.tow.samples import KNOT, motion, shape

from spreadwright.tow.line import Sea
from spreadwright.tow.march import Settings, march
from spreadwright.tow.steady import steady_straight
from spreadwright.tow.track import straight
from spreadwright.tow.water import flow_velocity, make_flow, still, water_level

SPEED = 14 * KNOT


@pytest.mark.parametrize(
    ("z", "expected"),
    [(1.0, (0.5, -0.3, 0.0)), (0.0, (0.5, -0.3, 0.0)), (-5.0, (0.4, -0.25, 0.0)), (-40.0, (0.1, -0.1, 0.0))],
    ids=["above", "at the surface", "the worked example, 5 m down", "below the deepest"],
)
def test_profile(z, expected):
    flow = make_flow((0.5, -0.3), shear=(-0.02, 0.01), deepest=20.0)
    assert flow_velocity(flow, 3.0, -7.0, z, 11.0) == pytest.approx(expected)
    assert water_level(flow, 3.0, -7.0, 11.0) == 0.0


def test_still_water_is_still_and_says_so():
    assert still().moves is False
    assert make_flow((0.5, 0.0)).moves is True
    assert flow_velocity(still(), 1.0, 2.0, -3.0, 4.0) == (0.0, 0.0, 0.0)


@pytest.mark.parametrize("main", [samples.NYLON, samples.WIRE], ids=["nylon", "wire"])
def test_towing_against_a_current_is_towing_faster(main):
    """Once settled, a line towed at V against U has the shape of one towed at V + U: only the difference counts."""
    line, sea = samples.rig(main, length=30.0), Sea(surface=False)
    against = motion(
        march([line], straight(SPEED, 40.0), sea, make_flow((-1.5, 0.0)), Settings(step=0.1, store_every=4))[0]
    )
    faster = shape(steady_straight([line], SPEED + 1.5, sea)[0])
    slower = shape(steady_straight([line], SPEED, sea)[0])
    assert np.abs(against.places[-1] - faster.places).max() < 2e-3
    assert np.abs(against.places[0] - faster.places).max() > 0.02, "it started from the shape in still water"
    assert np.abs(against.places[0] - slower.places).max() < 1e-4
    assert against.pulls[-1, 0] == pytest.approx(faster.tension[0], rel=1e-3)


def test_a_cross_current_is_a_tow_in_the_direction_of_the_sum():
    """Boat along x, water to port: through the water the boat runs off to starboard, and the line follows that."""
    line, sea, across = samples.rig(length=30.0), Sea(surface=False), 2.0
    result = motion(
        march([line], straight(SPEED, 40.0), sea, make_flow((0.0, across)), Settings(step=0.1, store_every=4))[0]
    )
    at_rest = shape(steady_straight([line], float(np.hypot(SPEED, across)), sea)[0])
    angle = -np.arctan2(across, SPEED)
    x, y, z = at_rest.places.T
    turned = np.stack([np.cos(angle) * x - np.sin(angle) * y, np.sin(angle) * x + np.cos(angle) * y, z], axis=1)
    assert np.abs(result.places[-1] - turned).max() < 5e-3


def test_a_current_down_there_pulls_the_gear_only():
    """Shear: the surface stands still, the water below runs to port; the lure goes to port, the tip does not."""
    line = samples.rig(length=30.0, sinker=samples.weight(2.0))
    flow = make_flow(shear=(0.0, 0.3), deepest=10.0)
    result = motion(march([line], straight(SPEED, 20.0), Sea(), flow, Settings(step=0.1))[0])
    y = result.places[-1, :, 1]
    assert y[-1] > 0.2
    assert abs(y[1]) < 0.1 * y[-1]
