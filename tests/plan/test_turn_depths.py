"""Depths through the turns with their ranges: at one stage of the turns, about the depth shown, none in old plans."""

from __future__ import annotations

import json
import math
from types import SimpleNamespace

import numpy as np
import pytest
from tests.plan.trips import small_plan, small_trip

from spreadwright.plan.doubt import Spreads
from spreadwright.plan.turn_depths import MOMENTS, stages, turn_depths
from spreadwright.plan.value import Plan
from spreadwright.spread.motions import LEAD_IN, track_of

PATTERN = small_trip().pattern
OFF = [(-0.2, 1.1), (0.25, 0.9), (0.0, 1.15)]  # speed off by [m/s], share of the radius


def passage(duration, depth, clock=lambda t: t):
    """A passage whose weight runs `depth(stage)` deep and whose lure half a metre deeper."""
    times = np.linspace(0.0, duration, 400)
    weight = np.array([depth(clock(t)) for t in times])
    return SimpleNamespace(outline=SimpleNamespace(times=times), depths=np.stack([weight, weight + 0.5], axis=-1))


def run(track, rod):
    sample = None if track is None else SimpleNamespace(track=track)
    return SimpleNamespace(sample=sample, rods=(rod,))


@pytest.mark.parametrize(("faster", "wider"), OFF)
def test_stages_are_those_of_the_boats_track(faster, wider):
    speed, radius = PATTERN.speed + faster, PATTERN.turn_radius * wider
    usual, own = stages(PATTERN, PATTERN.speed, PATTERN.turn_radius), stages(PATTERN, speed, radius)
    track = track_of(PATTERN, speed, radius)
    assert own[-1] == pytest.approx(track.duration)
    times = np.linspace(0.0, usual[-1], 60)
    headings = track_of(PATTERN).pose(times).heading
    at_the_stage = track.pose(np.interp(times, usual, own)).heading
    at_the_clock = track.pose(np.minimum(times, own[-1])).heading
    # Headings agree at the same stage but for the boat's lag, which lasts as long at any speed.
    assert np.abs(headings - at_the_stage).max() < math.radians(5.0)
    assert np.abs(headings - at_the_stage).max() < 0.5 * np.abs(headings - at_the_clock).max()


def test_a_range_is_where_nine_in_ten_samples_are_about_the_depth_shown():
    long = stages(PATTERN, PATTERN.speed, PATTERN.turn_radius)[-1]
    usual = run(None, passage(long, lambda t: 2.0))
    off = np.linspace(-1.0, 1.0, 41)
    varied = tuple(run((0.0, 1.0), passage(long, lambda t, by=by: 2.0 + by * (t > 10.0))) for by in off)
    shown = passage(long, lambda t: 3.0)  # a finer mesh than the samples' own
    found = turn_depths(PATTERN, [("red", shown)], Spreads(usual, varied))
    assert found is not None
    assert len(found.times) == MOMENTS
    (rod,) = found.rods
    assert rod.rod == "red"
    assert rod.weight[0] == (3.0, 3.0, 3.0)
    assert rod.weight[-1] == pytest.approx((2.1, 3.0, 3.9), abs=1e-3)
    assert rod.lure[-1] == pytest.approx((2.6, 3.5, 4.4), abs=1e-3)


def test_a_boat_that_comes_sooner_to_the_turn_is_not_counted_as_doubt_of_depth():
    usual_stages = stages(PATTERN, PATTERN.speed, PATTERN.turn_radius)

    def deep(stage):
        return 2.0 + 0.1 * stage

    varied = []
    for faster, wider in OFF:
        own = stages(PATTERN, PATTERN.speed + faster, PATTERN.turn_radius * wider)
        varied.append(
            run((faster, wider), passage(own[-1], deep, lambda t, own=own: float(np.interp(t, own, usual_stages))))
        )
    usual = passage(usual_stages[-1], deep)
    found = turn_depths(PATTERN, [("red", usual)], Spreads(run(None, usual), tuple(varied)))
    assert found is not None
    assert max(high - low for low, _, high in found.rods[0].weight) < 0.02
    assert found.rods[0].weight[-1][1] - found.rods[0].weight[0][1] > 2.0


def test_a_plan_carries_them_and_they_begin_as_on_the_straight():
    plan = small_plan()
    assert plan.turn_depths is not None
    assert plan.turn_depths.times[0] == 0.0
    assert [each.rod for each in plan.turn_depths.rods] == [rod.rod for rod in plan.rods]
    for each, rod in zip(plan.turn_depths.rods, plan.rods, strict=True):
        for band, straight, swing in ((each.weight, rod.weight_depth, rod.weight_depth_swing),
                                      (each.lure, rod.lure_depth, rod.lure_depth_swing)):  # fmt: skip
            low, usual, high = band[0]
            assert usual == pytest.approx(straight.usual, abs=0.02)
            assert usual - low == pytest.approx(straight.usual - straight.low, abs=0.002)
            assert high - usual == pytest.approx(straight.high - straight.usual, abs=0.002)
            assert all(a <= b <= c for a, b, c in band)
            assert min(b for _, b, _ in band) >= swing.least - 1e-3
            assert max(b for _, b, _ in band) <= swing.greatest + 1e-3
        after = [high - low for low, _, high in each.lure][1:]
        assert min(after) > 0.05
    assert plan.turn_depths.times[1] < LEAD_IN + 3.0


def test_a_plan_of_an_older_version_is_read_without_them():
    plan = small_plan()
    stored = json.loads(plan.to_json())
    del stored["turn_depths"]
    old = Plan.from_json(json.dumps(stored))
    assert old.turn_depths is None
    assert old.rods == plan.rods


def test_without_samples_there_are_none():
    usual = run(None, passage(10.0, lambda t: 2.0))
    assert turn_depths(PATTERN, [("red", usual.rods[0])], Spreads(usual, ())) is None
