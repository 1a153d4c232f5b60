"""The track tows the logged lines: straight as the steady line, in a turn as the marched one; hours add up."""

from __future__ import annotations

from datetime import UTC, datetime

import numpy as np
import pytest
from tests.logbook.logs import entry, folded
from tests.logbook.tracks import KNOT, START, weaving, weaving_fixes
from tests.plan.trips import small_trip

from spreadwright.logbook.entry import FishedRig as LoggedRig
from spreadwright.logbook.fixes import clean
from spreadwright.logbook.movement import stretches
from spreadwright.plan.at_the_bite import DOUBT, at_the_bite, runs
from spreadwright.plan.logged_rig import logged_rig
from spreadwright.rig.tow_model import towed_rig
from spreadwright.tow.line import Failure, Sea
from spreadwright.tow.march import march
from spreadwright.tow.steady import steady_straight
from spreadwright.tow.track import s_turn

RIG = {
    "station": "port corner", "mark": 60.96, "weight": "32 oz", "shock_leader": "30 ft of 300 lb",
    "bite_leader": "3 ft of wire", "lure": "jet",
}  # fmt: skip
OTHER = {**RIG, "station": "starboard corner"}


def minutes(seconds: float) -> float:
    """Entries count from eleven o'clock, as the tracks do."""
    return seconds / 60.0


@pytest.fixture(scope="module")
def trip():
    return small_trip()


def line_of(trip, rig=RIG):
    found = logged_rig(trip, "red", LoggedRig.model_validate(rig))
    assert not isinstance(found, str)
    return found, towed_rig(
        found.outfit, found.station, found.mark, found.weight, found.shock_leader, found.bite_leader, found.lure
    )


def log(*seconds: float, rig=RIG, rod="red"):
    return folded(
        entry("line_out", -5, rod, rig=rig), *(entry("strike", minutes(s), rod) for s in seconds),
        entry("line_in", 60, rod),
    )  # fmt: skip


def test_straight_ahead_the_lure_runs_where_the_steady_line_does(trip):
    told = at_the_bite(trip, log(150), weaving_fixes(300, turn=1e6), whole_day=False)
    (bite,) = told.bites
    _, towed = line_of(trip)
    (steady,) = steady_straight([towed.line], 15 * KNOT, Sea(density=trip.water.density))
    assert not isinstance(steady, Failure)
    assert bite.side == bite.turn == "straight"
    assert bite.lure_depth == pytest.approx(-steady.joint_places[-1, 2], rel=0.02)
    assert bite.weight_depth == pytest.approx(-steady.joint_places[towed.weight_joint, 2], rel=0.02)
    assert bite.lure_speed == pytest.approx(15 * KNOT, rel=0.01)
    assert bite.depth_change == pytest.approx(0.0, abs=0.01)
    assert bite.lure_depth is not None
    low, high = bite.lure_depth_range or (0.0, 0.0)
    assert 0.02 < high - bite.lure_depth < 1.5
    assert 0.02 < bite.lure_depth - low < 1.5
    assert bite.doubt == DOUBT


def test_in_a_turn_the_lure_runs_as_in_the_marched_turn(trip):
    """The same turn given by speed and radius, without receiver or smoothing."""
    strike = 96.0
    told = at_the_bite(trip, log(strike), weaving_fixes(140, turn=90.0), whole_day=False)
    (bite,) = told.bites
    _, towed = line_of(trip)
    turn = 8 * 15 * KNOT / 45.0
    track = s_turn(15 * KNOT, 45.0, (turn,), lead_in=90.0, lead_out=1.0, yaw_time=0.05)
    (motion,) = march([towed.line], track, Sea(density=trip.water.density))
    assert not isinstance(motion, Failure)
    depth = np.interp(strike, motion.times, -motion.places[:, -1, 2].astype(float))
    speed = np.interp(strike, motion.times, np.linalg.norm(motion.speeds[:, -1].astype(float), axis=1))
    assert bite.turn == "port"
    assert bite.side == "inside"
    assert bite.lure_depth == pytest.approx(depth, abs=0.08)
    assert bite.lure_speed == pytest.approx(speed, rel=0.03)


def test_the_inside_line_goes_slower_than_the_outside_one(trip):
    fixes = weaving_fixes(140, turn=90.0)
    sides = {}
    for rig in (RIG, OTHER):
        (bite,) = at_the_bite(trip, log(100, rig=rig), fixes, whole_day=False).bites
        assert bite.lure_speed is not None
        sides[bite.side] = bite.lure_speed
    assert set(sides) == {"inside", "outside"}
    assert sides["inside"] < sides["outside"] - 0.2


def test_hours_by_side_depth_and_speed_add_up_to_the_hours_towed(trip):
    seconds = 1500
    out = entry("line_out", 0, rig=RIG)
    late = entry("line_out", 10, "blue", rig=OTHER)
    book = folded(out, late, entry("strike", 12), entry("line_in", 25), entry("line_in", 25, "blue"))
    told = at_the_bite(trip, book, weaving_fixes(seconds, turn=30.0))
    ran = {each.exposure: each for each in told.ran}
    for name, hours in ((out.id, 25 / 60), (late.id, 15 / 60)):
        for tally in (ran[name].side, ran[name].depth, ran[name].speed):
            assert sum(tally.values()) == pytest.approx(hours, abs=3 / 3600)
    classes = sorted(ran[out.id].speed.values())
    assert len(classes) >= 2
    assert classes[-2] > 0.1 * sum(classes)
    assert set(ran[out.id].side) == {"straight", "inside", "outside"}
    assert ran[out.id].side["straight"] == pytest.approx(12.5 / 60, rel=0.1)
    assert ran[out.id].side["inside"] == pytest.approx(6.25 / 60, rel=0.1)


def test_what_was_left_out_is_told(trip):
    t, lat, lon = weaving(600, turn=60.0)
    keep = (t < START + 250) | (t > START + 300)
    fixes = clean(t[keep], lat[keep], lon[keep], "made", "test")
    book = folded(
        entry("line_out", 0, rig={**RIG, "lure": "unheard of"}), entry("strike", minutes(150)),
        entry("line_out", 0, "blue", rig={"lure": "jet"}), entry("strike", minutes(270), "blue"),
        entry("strike", minutes(4000), "blue"), entry("line_in", 80, "blue"), entry("line_in", 80),
    )  # fmt: skip
    told = at_the_bite(trip, book, fixes)
    (bite,) = told.bites
    assert bite.lure_depth is None
    assert bite.turn == "straight"
    assert "no lure 'unheard of'" in bite.doubt
    said = " ".join(told.sentences)
    assert "red was not towed: the trip file has no lure 'unheard of'" in said
    assert "blue was not towed: the log does not say its mark" in said
    assert "2 strikes lie outside the track or in a gap" in said
    assert told.ran == ()


def test_a_boat_that_fights_a_fish_is_not_trolling(trip):
    t, lat, lon = weaving(200, turn=1e6)
    slow = np.concatenate([lon[:100], lon[99] + (lon[1] - lon[0]) * 0.05 * np.arange(1, 102)])
    fixes = clean(t, lat, slow, "made", "test")
    trolled = runs(stretches(fixes))
    assert len(trolled) == 1
    assert datetime.fromtimestamp(trolled[0].end, UTC).minute == 1
    (bite,) = at_the_bite(trip, log(150), fixes, whole_day=False).bites
    assert bite.lure_depth is None
    assert "not trolling" in bite.doubt


def test_a_single_piece_of_its_kind_need_not_be_named(trip):
    found = logged_rig(trip, "red", LoggedRig(station="port corner", mark=30.0, weight="32 oz"))
    assert not isinstance(found, str)
    assert found.lure.name == "jet"
    assert "no rod" in str(logged_rig(trip, "pink", LoggedRig(mark=30.0)))
    assert "weight" in str(logged_rig(trip, "red", LoggedRig(station="port corner", mark=30.0)))
