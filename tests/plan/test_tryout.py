"""A spread tried by hand against the plan of the same trip, and against the numerics computed from the beginning."""

from __future__ import annotations

import math
import threading

import numpy as np
import pytest
from tests.plan.trips import BLUE, GOLD, JET, RED, small_trip, trip_text

from spreadwright.faults import Faults
from spreadwright.plan.build import Stopped, make_plan
from spreadwright.plan.tryout import Precedence, Remembered, Tryout
from spreadwright.plan.tryout_hand import first_hand, fished, hand_of_plan
from spreadwright.plan.tryout_planned import planned_ranges
from spreadwright.plan.tryout_sampled import MANY
from spreadwright.plan.tryout_steady import towed_in
from spreadwright.plan.tryout_turn import aboard, nearest_places
from spreadwright.plan.tryout_value import HandSpread
from spreadwright.rig.tow_model import USUAL, Doubts
from spreadwright.spread.motions import SEARCH, passages
from spreadwright.tackle import trip_from_text
from spreadwright.tow.line import Failure, Sea
from spreadwright.tow.steady import steady_straight

CENTIMETRE = 0.01


@pytest.fixture(scope="module")
def trip():
    return trip_from_text(trip_text(rods=(RED, BLUE, GOLD)))


@pytest.fixture(scope="module")
def plan(trip):
    return make_plan(trip)


@pytest.fixture(scope="module")
def tryout(trip):
    return Tryout(trip)


def changed(spread: HandSpread, of: int, **pieces: int) -> HandSpread:
    return HandSpread(rods=tuple(each.model_copy(update=pieces) if each.rod == of else each for each in spread.rods))


def test_the_plans_own_spread_tried_by_hand_runs_as_the_plan_says(trip, plan, tryout):
    tried = tryout.steady(hand_of_plan(trip, plan))
    assert [each.rod for each in tried.rods] == [each.rod for each in plan.rods]
    for each, rod in zip(tried.rods, plan.rods, strict=True):
        assert each.failed == ""
        assert (each.station, each.weight, each.lure) == (rod.station, rod.weight, rod.lure)
        for mine, planned in ((each.weight_depth, rod.weight_depth), (each.lure_depth, rod.lure_depth)):
            assert mine.usual == pytest.approx(planned.usual, abs=CENTIMETRE)
            assert mine.low < mine.usual < mine.high
        assert each.pull.usual == pytest.approx(rod.pull.usual, rel=1e-3)
        assert math.degrees(each.angle.usual) == pytest.approx(math.degrees(rod.angle.usual), abs=0.05)


def test_the_plans_own_gaps_come_out_of_the_run(trip, plan, tryout):
    spread = hand_of_plan(trip, plan)
    planned = {frozenset((pair.first, pair.second)): pair for pair in plan.pairs}
    pairs = tryout.with_ranges(spread).pairs
    assert len(pairs) == len(plan.pairs) == 3
    assert [pair.gap for pair in pairs] == sorted(pair.gap for pair in pairs)
    for pair in pairs:
        of = planned[frozenset((pair.first, pair.second))]
        assert pair.gap == pytest.approx(of.gear_gap.usual, abs=2 * CENTIMETRE)
        assert pair.range.usual == pair.gap
        assert 0.0 <= pair.range.low < pair.gap < pair.range.high
        assert pair.tangle == of.tangle


@pytest.fixture(scope="module")
def sampled(trip):
    """The plan from as many samples as are taken by hand."""
    return make_plan(trip, samples=MANY)


def test_ranges_by_hand_are_those_of_a_plan_from_as_many_samples(trip, sampled, tryout):
    made = tryout.with_ranges(hand_of_plan(trip, sampled))
    assert made.samples == sampled.in_doubt.samples == MANY
    planned = {frozenset((pair.first, pair.second)): pair.gear_gap for pair in sampled.pairs}
    for pair in made.pairs:
        gap = planned[frozenset((pair.first, pair.second))]
        assert (pair.range.low, pair.range.high) == pytest.approx((gap.low, gap.high), abs=CENTIMETRE)
    for rod, own in zip(sampled.rods, made.rods, strict=True):
        assert rod.rod == own.rod
        for mine, theirs in ((own.weight_depth, rod.weight_depth), (own.lure_depth, rod.lure_depth)):
            assert (mine.low, mine.high) == pytest.approx((theirs.low, theirs.high), abs=CENTIMETRE)
        assert (own.pull.low, own.pull.high) == pytest.approx((rod.pull.low, rod.pull.high), rel=1e-3)
        assert (own.angle.low, own.angle.high) == pytest.approx((rod.angle.low, rod.angle.high), abs=1e-3)
    assert made.depths.times == sampled.turn_depths.times
    for mine, theirs in zip(made.depths.rods, sampled.turn_depths.rods, strict=True):
        assert np.array(mine.lure) == pytest.approx(np.array(theirs.lure), abs=CENTIMETRE)
        assert np.array(mine.weight) == pytest.approx(np.array(theirs.weight), abs=CENTIMETRE)


def test_the_plans_own_spread_has_the_plans_own_ranges(trip, plan, tryout):
    spread = hand_of_plan(trip, plan)
    pairs = tryout.run(spread).pairs
    made = planned_ranges(trip, plan, spread, pairs)
    assert made is not None
    assert made.of_plan
    assert made.samples == plan.in_doubt.samples
    assert [each.range for each in made.pairs] == [
        next(pair.gear_gap for pair in plan.pairs if {pair.first, pair.second} == {each.first, each.second})
        for each in pairs
    ]
    assert [each.lure_depth for each in made.rods] == [rod.lure_depth for rod in plan.rods]
    assert made.depths == plan.turn_depths
    assert planned_ranges(trip, plan, changed(spread, 1, weight=(spread.rods[1].weight + 1) % 4), pairs) is None
    assert planned_ranges(trip, plan.model_copy(update={"turn_depths": None}), spread, pairs) is None


def test_only_what_changed_is_sampled_anew_and_what_was_broken_off_is_not_lost(trip, plan, monkeypatch):
    fresh, spread = Tryout(trip, samples=16), hand_of_plan(trip, plan)
    fresh.with_ranges(spread)
    asked: list[int] = []

    def counted(rigs, *rest, **more):
        asked.append(len(rigs))
        return passages(rigs, *rest, **more)

    monkeypatch.setattr("spreadwright.plan.tryout_sampled.passages", counted)
    other = changed(spread, 2, weight=(spread.rods[2].weight + 1) % 4)
    with pytest.raises(Stopped):
        fresh.with_ranges(other, lambda: len(asked) > 3)
    assert len(asked) < 8
    asked.clear()
    fresh.with_ranges(other)
    assert sum(asked) == 1 + 16  # one rig as usual and in sixteen samples
    asked.clear()
    fresh.with_ranges(other)
    fresh.with_ranges(spread)
    assert asked == []


def test_whoever_waits_for_an_answer_goes_first():
    way, went = Precedence(), threading.Event()

    def later():
        way.wait()
        went.set()

    with way.first():
        waiting = threading.Thread(target=later, daemon=True)
        waiting.start()
        assert not went.wait(0.05)
    assert went.wait(10)


def test_a_depths_range_is_that_of_its_inputs_in_quadrature(trip, plan, tryout):
    rod = tryout.steady(hand_of_plan(trip, plan)).rods[0]
    rig = fished(trip, hand_of_plan(trip, plan))[0]
    speed, sea = trip.pattern.speed, Sea(density=trip.water.density)

    def depth(doubts: Doubts, faster: float = 0.0) -> float:
        (shape,) = steady_straight([towed_in(rig, doubts).line], speed + faster, sea, SEARCH.grading)
        assert not isinstance(shape, Failure)
        return float(-shape.joint_places[-1, 2])

    usual, knot = depth(USUAL), 1852.0 / 3600.0
    inputs = ("line_across", "line_along", "weight", "lure", "stiffness", "mark")
    moved = [[depth(Doubts(**{name: end})) - usual for end in (-1.0, 1.0)] for name in inputs]
    moved.append([depth(USUAL, end * 0.5 * knot) - usual for end in (-1.0, 1.0)])
    deeper = math.sqrt(sum(max(0.0, *each) ** 2 for each in moved))
    shallower = math.sqrt(sum(max(0.0, *(-end for end in each)) ** 2 for each in moved))
    assert rod.lure_depth.high - rod.lure_depth.usual == pytest.approx(deeper, abs=CENTIMETRE / 2)
    assert rod.lure_depth.usual - rod.lure_depth.low == pytest.approx(shallower, abs=CENTIMETRE / 2)


def test_the_nearest_places_are_as_far_apart_as_the_gap(trip, plan, tryout):
    for pair in tryout.run(hand_of_plan(trip, plan)).pairs:
        assert math.dist(pair.on_first, pair.on_second) == pytest.approx(pair.gap, abs=2 * CENTIMETRE)


def test_a_heavier_weight_runs_deeper_and_only_that_line_changes(trip, plan, tryout):
    spread = hand_of_plan(trip, plan)
    by_mass = sorted(range(4), key=lambda i: trip.shelf.weights[i].mass)
    light, heavy = changed(spread, 1, weight=by_mass[0]), changed(spread, 1, weight=by_mass[-1])
    deep = [tryout.steady(each).rods for each in (light, heavy)]
    assert deep[1][1].weight_depth.usual > deep[0][1].weight_depth.usual + 0.2
    assert deep[1][0] == deep[0][0]
    assert deep[1][2] == deep[0][2]


def test_what_was_towed_is_not_towed_again(trip, plan, tryout, monkeypatch):
    spread = hand_of_plan(trip, plan)
    tryout.run(spread)
    asked: list[int] = []

    def counted(rigs, *rest):
        asked.append(len(rigs))
        return passages(rigs, *rest)

    monkeypatch.setattr("spreadwright.plan.tryout.passages", counted)
    tryout.run(spread)
    tryout.run(changed(spread, 2, weight=(spread.rods[2].weight + 1) % 4))
    assert asked == [0, 1]


def test_the_drawn_motion_starts_straight_and_follows_the_boat(trip, plan, tryout):
    run = tryout.run(hand_of_plan(trip, plan))
    straight = tryout.steady(hand_of_plan(trip, plan)).rods
    turned = sum(trip.pattern.turns)
    assert run.boat[0][2] == 0.0
    assert run.boat[-1][2] == pytest.approx(turned, abs=0.02)
    for line, rod in zip(run.lines, straight, strict=True):
        assert len(line.places) == len(run.boat)
        first = np.array(line.places[0]).reshape(-1, 3) / 100.0
        assert first[0] == pytest.approx(rod.tip, abs=CENTIMETRE)
        # The drawn end is the last hook, a lure's length behind the line's own end.
        assert -first[-1][0] - rod.astern == pytest.approx(trip.shelf.lures[0].length, abs=3 * CENTIMETRE)
        assert -first[line.joints[0]][2] == pytest.approx(rod.weight_depth.usual, abs=3 * CENTIMETRE)
        assert line.weight_depths[0] <= rod.weight_depth.usual + CENTIMETRE


def test_places_seen_from_the_boat():
    # Heading to port by a right angle: what lies north of the boat (earth's y) lies ahead of it.
    assert aboard(np.array([0.0, 5.0, -1.0]), math.pi / 2) == pytest.approx([5.0, 0.0, -1.0])
    # And what lies east of it (earth's x) lies to starboard, which is negative.
    assert aboard(np.array([3.0, 5.0, -1.0]), math.pi / 2) == pytest.approx([5.0, -3.0, -1.0])


def test_nearest_places_of_two_crossing_lines():
    a = np.array([[0.0, 0, 0], [10.0, 0, 0], [20.0, 0, 0]])
    b = np.array([[5.0, -5, 1.0], [5.0, 5, 1.0], [5.0, 5, 9.0]])
    on_a, on_b = nearest_places(a, 0, b, 0)
    assert on_a == pytest.approx([5.0, 0, 0])
    assert on_b == pytest.approx([5.0, 0, 1.0])
    # With a's gear beginning at its second half and b's at its upright one, the crossing is bare line on bare line.
    on_a, on_b = nearest_places(a, 1, b, 1)
    assert math.dist(on_a, on_b) == pytest.approx(math.hypot(5.0, 1.0))


def test_pieces_that_the_trip_has_not_are_told_all_at_once(trip, plan):
    spread = hand_of_plan(trip, plan)
    with pytest.raises(Faults) as caught:
        fished(trip, changed(changed(spread, 0, mark=7, weight=44), 1, rod=99))
    assert {fault.place for fault in caught.value} == {"rods: mark", "rods: weight", "rods: rod"}
    assert "44" in str(caught.value)
    with pytest.raises(Faults, match="red 2 times"):
        fished(trip, HandSpread(rods=(spread.rods[0], spread.rods[0])))


def test_what_speaks_against_a_spread_is_said(trip, plan, tryout):
    spread = hand_of_plan(trip, plan)
    one = spread.rods[0]
    tried = tryout.steady(changed(spread, spread.rods[1].rod, station=one.station, weight=one.weight))
    assert any("2 rods stand at" in said for said in tried.reasons)
    kept = trip.shelf.weights[one.weight]
    if kept.count == 1:
        assert f"weight {kept.name}: 2 fished, 1 on the shelf, 1 to buy" in tried.reasons


def test_a_rig_that_slips_or_parts_says_so():
    weak = {**RED, "strike_drag": "10 lb"}
    trip = small_trip(rods=(weak, BLUE), weights={96: 3}, lures=(JET,))
    lines = Tryout(trip).run(first_hand(trip)).lines
    assert "it pulls harder while trolling than its strike drag is set to" in lines[0].reasons
    thin = {"name": "thin", "strength": "30 lb", "diameter": "0.5 mm", "length": "30 ft", "count": 3}
    trip = small_trip(rods=(RED, BLUE), shocks=(thin,))
    lines = Tryout(trip).run(first_hand(trip)).lines
    assert any("parts when a usual fish strikes" in said for said in lines[0].reasons)


def test_before_there_is_a_plan_every_rod_gets_a_station_of_its_own(trip):
    spread = first_hand(trip)
    assert len({hand.station for hand in spread.rods}) == len(spread.rods) == 3


def test_what_the_captain_forbids_is_said():
    banned = ({"rod": "red", "weight": "96 oz", "reason": "it swings"},)
    trip = small_trip(weights={96: 3, 16: 3}, banned=banned)
    spread = changed(first_hand(trip), 0, weight=next(i for i, w in enumerate(trip.shelf.weights) if w.name == "96 oz"))
    assert any("it swings" in said for said in Tryout(trip).steady(spread).rods[0].reasons)


def test_the_longest_unused_result_is_forgotten_first():
    held: Remembered[str, int] = Remembered(2)
    made: list[str] = []

    def make(key: str) -> int:
        made.append(key)
        return 0

    for key in ("a", "b", "a", "c", "b", "a"):
        held.get(key, lambda key=key: make(key))  # type: ignore[misc]
    assert made == ["a", "b", "c", "b", "a"]
