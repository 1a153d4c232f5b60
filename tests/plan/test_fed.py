"""What feeds a plan from outside the trip file: the logbook's word for lures, and readings that narrow the drag."""

from __future__ import annotations

from typing import Any

import pytest
from tests.plan.trips import BLUE, JET, PORT, RED, STARBOARD, small_trip

from spreadwright.logbook.preferences import Preferences
from spreadwright.plan.build import make_plan
from spreadwright.rig.tow_model import Doubts, towed_rig
from spreadwright.tow.line import Failure, Sea
from spreadwright.tow.steady import steady_straight

ALIKE: dict[str, object] = {
    "rods": (RED, BLUE), "stations": (PORT, STARBOARD), "lures": (JET, {**JET, "name": "other jet"}),
}  # fmt: skip


def says(lures: dict[str, float]) -> Preferences:
    """The logbook's word."""
    return Preferences(lures=lures, sentences=("The log was heard.",))


@pytest.mark.parametrize("liked", ["jet", "other jet"])
def test_of_lures_that_run_alike_the_logs_favourite_is_fished_and_the_plan_says_so(liked: str) -> None:
    plan = make_plan(small_trip(**ALIKE), samples=16, learnt=says({liked: 1.0}))
    assert {rod.lure for rod in plan.rods} == {liked}
    assert "The log was heard." in plan.why.sentences


class Measured:
    """Readings that leave no doubt about drag, and put line drag at its low end."""

    def narrowed(self, doubts: Doubts, _lure: str = "") -> Doubts:
        """Only stiffness and mark stay in doubt."""
        return Doubts(-1.0, -1.0, 0.0, 0.0, doubts.stiffness, doubts.mark)


def test_readings_move_the_depth_and_narrow_it() -> None:
    trip = small_trip(rods=({**RED, "marks": ["200 ft"], "strike_drag": "30 lb"},), stations=(PORT,), weights={48: 1})
    measured: Any = Measured()
    before, after = (make_plan(trip, samples=32, calibration=each).rods[0] for each in (None, measured))
    shelf = trip.shelf
    rig = towed_rig(
        trip.outfits[0], trip.boat.stations[0], trip.outfits[0].marks[0], shelf.weights[0], shelf.shock_leaders[0],
        shelf.bite_leaders[0], shelf.lures[0], Doubts(-1.0, -1.0),
    )  # fmt: skip
    shape = steady_straight([rig.line], trip.pattern.speed, Sea(density=trip.water.density))[0]
    assert not isinstance(shape, Failure)
    assert after.lure_depth.usual == pytest.approx(-shape.joint_places[-1, 2], rel=0.02)
    assert abs(after.lure_depth.usual - before.lure_depth.usual) > 0.01 * before.lure_depth.usual
    assert after.lure_depth.high - after.lure_depth.low < 0.7 * (before.lure_depth.high - before.lure_depth.low)
