"""The moment of the smallest gap, as the plan stores it: in the boat's own axes, node by node like the straight run."""

from __future__ import annotations

import math

import numpy as np
import pytest
from tests.plan.trips import BLUE, RED, small_plan, small_trip

from spreadwright.plan.build import aboard
from spreadwright.spread.motions import track_of

TURNING: dict[str, object] = {"rods": (RED, BLUE), "wishes": {"enough_gap": "20 m"}}


def test_every_line_starts_at_its_rod_tip_while_the_boat_turns() -> None:
    plan = small_plan(**TURNING)
    worst = next(pair for pair in plan.pairs if (pair.first, pair.second) == plan.worst_pair)
    heading = float(track_of(small_trip(**TURNING).pattern).pose(np.array([worst.gear_time])).heading[0])
    assert abs(heading) > 0.1  # or the test would pass in the earth's axes too
    for rod, outline in zip(plan.rods, plan.drawing, strict=True):
        assert outline.worst[0] == pytest.approx(rod.tip, abs=1e-2)
        assert len(outline.worst) == len(outline.straight)
        weight, _, lure = (outline.worst[joint] for joint in outline.joints)
        assert -lure[2] == pytest.approx(rod.lure_depth.usual, abs=1.5)
        assert rod.weight_depth_swing.least - 0.05 <= -weight[2] <= rod.weight_depth_swing.greatest + 0.05


def test_a_place_to_port_of_a_boat_that_has_turned_to_port_lies_behind_the_first_heading() -> None:
    """A quarter turn to port: what lay aft of the transom lies to starboard of the first heading, and so on."""
    earth = np.array([[0.0, -10.0, 1.0], [-3.0, 0.0, 2.0]])
    assert aboard(earth, math.pi / 2) == pytest.approx(np.array([[-10.0, 0.0, 1.0], [0.0, 3.0, 2.0]]), abs=1e-12)
