"""The demo's plan, rod by rod: every number computed again here, and whatever the captain asked for is kept."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from tests.plan.demo import Demo
from tests.plan.trips import KNOT

from spreadwright.plan.value import Plan, RodPlan
from spreadwright.rig.tow_model import TowedRig, towed_rig
from spreadwright.tackle import Trip
from spreadwright.tow.line import Failure, Sea
from spreadwright.tow.mesh import Grading
from spreadwright.tow.steady import Shape, entry_arclength, steady_straight


def towed(trip: Trip, rod: RodPlan) -> TowedRig:
    """The line of a rod of a plan."""
    shelf = trip.shelf
    pieces = ((shelf.weights, rod.weight), (shelf.shock_leaders, rod.shock_leader),
              (shelf.bite_leaders, rod.bite_leader), (shelf.lures, rod.lure))  # fmt: skip
    gear = [next(piece for piece in kind if piece.name == name) for kind, name in pieces]
    return towed_rig(trip.outfit(rod.rod), trip.boat.station(rod.station), rod.mark, *gear)  # type: ignore[arg-type]


def alone(trip: Trip, rig: TowedRig, scale: float = 0.25) -> Shape:
    """The line on a straight course, by itself on a mesh four times as fine as the plan's."""
    shape = steady_straight([rig.line], trip.pattern.speed, Sea(density=trip.water.density), Grading().scaled(scale))[0]
    assert not isinstance(shape, Failure)
    return shape


def test_every_rod_fishes_one_thing_from_the_trip_file(demo: Demo) -> None:
    trip, plan = demo.trip, demo.plan
    assert [rod.rod for rod in plan.rods] == [outfit.name for outfit in trip.outfits]
    for rod in plan.rods:
        outfit = trip.outfit(rod.rod)
        assert rod.mark in outfit.marks
        assert rod.tip == trip.boat.station(rod.station).tip
        assert rod.strike_drag == outfit.strike_drag
        masses = {weight.name: weight.mass for weight in trip.shelf.weights}
        assert rod.weight_mass == masses[rod.weight]
        assert rod.shock_leader in {leader.name for leader in trip.shelf.shock_leaders}
        assert rod.bite_leader in {leader.name for leader in trip.shelf.bite_leaders}
        assert rod.lure in {lure.name for lure in trip.shelf.lures}
        assert rod.swivel in {swivel.name for swivel in trip.shelf.snap_swivels}


def test_each_station_once_and_fixed_stations_kept(demo: Demo) -> None:
    stations = [rod.station for rod in demo.plan.rods]
    assert len(set(stations)) == len(stations)
    for outfit in demo.trip.outfits:
        if outfit.station:
            assert demo.plan.rod(outfit.name).station == outfit.station


def test_locks_and_bans_of_the_demo_are_kept(demo: Demo) -> None:
    assert demo.plan.rod("long braid").lure == "black-purple jet 9 in"
    assert demo.plan.rod("long braid").weight != "96 oz torpedo"


def test_nothing_pulls_line_off_its_reel_while_trolling(demo: Demo) -> None:
    for rod in demo.plan.rods:
        assert rod.pull.usual <= rod.pull_swing.greatest <= rod.strike_drag


def test_depth_pull_angle_and_line_in_air_are_those_of_the_towed_line(demo: Demo) -> None:
    """Each line computed alone on a mesh four times as fine."""
    for rod in demo.plan.rods:
        rig = towed(demo.trip, rod)
        shape = alone(demo.trip, rig)
        assert rod.pull.usual == pytest.approx(shape.tension[0], rel=0.03)
        assert rod.angle.usual == pytest.approx(shape.tip_angle, rel=0.05)
        assert rod.in_air == pytest.approx(entry_arclength(shape), rel=0.05)
        astern = rod.tip[0] - (shape.places[-1, 0] - shape.places[0, 0]) * -1.0
        assert rod.astern == pytest.approx(-astern + demo.trip.shelf.lures[0].length, abs=0.4)


def test_depths_shown_are_within_two_per_cent_of_a_mesh_four_times_as_fine(demo: Demo) -> None:
    for rod in demo.plan.rods:
        rig = towed(demo.trip, rod)
        shape = alone(demo.trip, rig)
        assert rod.weight_depth.usual == pytest.approx(-shape.joint_places[rig.weight_joint, 2], rel=0.02)
        assert rod.lure_depth.usual == pytest.approx(-shape.joint_places[-1, 2], rel=0.02)


def test_through_the_turns_there_is_more_than_on_the_straight(demo: Demo) -> None:
    """The swings hold the straight's value; the boat slows in turns, and lines fall slack inside them."""
    for rod in demo.plan.rods:
        for straight, swing in ((rod.weight_depth, rod.weight_depth_swing), (rod.lure_depth, rod.lure_depth_swing),
                                (rod.pull, rod.pull_swing)):  # fmt: skip
            assert swing.low <= swing.least <= straight.usual * 1.001
            assert straight.usual * 0.999 <= swing.greatest <= swing.high
            assert swing.greatest > 1.02 * swing.least
        assert rod.lure_speed_swing.least < demo.plan.speed <= rod.lure_speed_swing.greatest * 1.001
        assert rod.pull_swing.least < 0.75 * rod.pull.usual


def test_longer_lines_swing_more_in_speed(demo: Demo) -> None:
    """The shortest and the longest line of the spread: a long one cuts the corner more."""
    longest = max(demo.plan.rods, key=lambda rod: rod.mark)
    shortest = min(demo.plan.rods, key=lambda rod: rod.mark)
    assert longest.lure_speed_swing.least < shortest.lure_speed_swing.least - 1.0 * KNOT


def test_longest_goes_out_first_and_shortest_comes_in_first(demo: Demo) -> None:
    """Common practice, no source."""
    by_order = sorted(demo.plan.rods, key=lambda rod: rod.set_out)
    assert [rod.set_out for rod in by_order] == list(range(1, len(by_order) + 1))
    assert all(first.astern >= then.astern for first, then in pairwise(by_order))
    assert [rod.clear for rod in by_order] == list(range(len(by_order), 0, -1))


def test_the_length_to_measure_on_slack_line(demo: Demo) -> None:
    """The stretch from the pull along the line and each section's stiffness, worked out apart from the plan."""
    for rod in demo.plan.rods:
        rig = towed(demo.trip, rod)
        shape = alone(demo.trip, rig)
        grown, start = 0.0, 0
        for section, end in zip(rig.line.sections[: rig.top], shape.joints, strict=False):
            lengths = np.diff(shape.arclength[start : end + 1])
            pull = 0.5 * (shape.tension[start:end] + shape.tension[start + 1 : end + 1])
            grown += float(lengths @ _strains(pull, section.stiffness, section.stiffening))
            start = int(end)
        assert rod.runs_at.usual - rod.mark == pytest.approx(grown, rel=0.04)
        assert rod.slack_to_measure.usual / rod.mark == pytest.approx(rod.mark / rod.runs_at.usual, rel=1e-9)
        assert rod.slack_to_measure.usual < rod.mark < rod.runs_at.usual


def _strains(pull: np.ndarray, stiffness: float, stiffening: float) -> np.ndarray:
    """Strains e at which stiffness * e * (1 + stiffening * e^2) is the pull, by bisection."""
    low, high = np.zeros_like(pull), np.ones_like(pull)
    for _ in range(60):
        middle = 0.5 * (low + high)
        over = stiffness * middle * (1.0 + stiffening * middle**2) > pull
        low, high = np.where(over, low, middle), np.where(over, middle, high)
    return low


def test_the_trip_is_told_as_it_was_written(demo: Demo) -> None:
    plan: Plan = demo.plan
    assert plan.title == "Two days on Tallow Bank"
    assert plan.boat == "Second Kettle"
    assert plan.crew == ("Odile", "Bram", "Wick")
    assert plan.dates == ("2031-03-08", "2031-03-09")
    assert plan.units == "us"
    assert plan.speed == pytest.approx(15 * KNOT)
    assert plan.turn_radius == pytest.approx(45.72)
    assert np.rad2deg(plan.turns) == pytest.approx([60, -120, 120, -60])
    assert plan.density == 1024.0
    assert plan.tangle_reach == pytest.approx(0.3048)


def test_the_drawing_has_every_line_from_its_tip_to_its_lure(demo: Demo) -> None:
    for rod, outline in zip(demo.plan.rods, demo.plan.drawing, strict=True):
        assert outline.rod == rod.rod
        assert outline.straight[0] == pytest.approx(rod.tip, abs=1e-3)
        weight, _, lure = (outline.straight[joint] for joint in outline.joints)
        assert -weight[2] == pytest.approx(rod.weight_depth.usual, abs=2e-3)
        assert -lure[2] == pytest.approx(rod.lure_depth.usual, abs=2e-3)


def test_the_worst_moment_is_drawn_in_the_boats_frame(demo: Demo) -> None:
    """Every line starts at its rod tip, wherever the boat heads by then."""
    for rod, outline in zip(demo.plan.rods, demo.plan.drawing, strict=True):
        assert outline.worst[0] == pytest.approx(rod.tip, abs=1e-2)
