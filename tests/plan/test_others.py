"""The next best spreads, what one more piece gains, a rod lost on the way, and a choice made for a bad day."""

from __future__ import annotations

from collections import Counter

import pytest
from tests.plan.trips import BLUE, BULLET, GOLD, RED, Table, plan_of, small_plan, small_trip, trip_text
from tests.spread.every_spread import Rig, Water, every_spread, rigs_of

from spreadwright.faults import Faults
from spreadwright.plan.again import without_rods
from spreadwright.plan.build import make_plan
from spreadwright.plan.value import Other, Plan
from spreadwright.sheets.terminal import report
from spreadwright.tackle import Trip

NARROW: dict[str, object] = {"weights": {16: 1, 48: 1, 80: 1}, "wishes": {"enough_gap": "20 m"}}


def differ(a: Other | Plan, b: Other | Plan) -> int:
    """How many rods fish another mark or weight."""
    first, second = ({r.rod: (r.mark, r.weight) for r in (x.rigs if isinstance(x, Other) else x.rods)} for x in (a, b))
    return sum(first[rod] != second[rod] for rod in first)


@pytest.fixture(scope="module")
def trip() -> Trip:
    return small_trip(**NARROW)


@pytest.fixture(scope="module")
def plan(trip: Trip) -> Plan:
    return make_plan(trip, samples=16, others=True)


def test_the_next_best_differ_in_kind_and_none_that_does_is_better(trip: Trip, plan: Plan) -> None:
    """By brute force: of all spreads that differ from the chosen in two rods or more, the widest gap is the first's."""
    assert len(plan.others) == 2
    assert differ(plan.others[0], plan) >= 2
    assert differ(plan.others[1], plan) >= 2
    assert differ(*plan.others) >= 2
    water = Water(trip)
    chosen = {rod.rod: (rod.mark, rod.weight) for rod in plan.rods}
    best = max(
        water.smallest(spread)
        for spread in every_spread(water, [rigs_of(trip, outfit.name) for outfit in trip.outfits])
        if sum(chosen[rig.rod] != (rig.mark, rig.weight) for rig in spread) >= 2
    )
    first = [Rig(**rig.model_dump()) for rig in plan.others[0].rigs]
    assert water.smallest(first) == pytest.approx(best, abs=0.003)
    assert plan.others[0].gap >= plan.others[1].gap - 0.002


def test_one_more_of_a_piece_gains_what_a_plan_with_it_has(trip: Trip, plan: Plan) -> None:
    """Every weight is used up; the gap with one more of it is that of a trip whose shelf has two."""
    pieces = [gain.piece for gain in plan.gains]
    assert {"16 oz", "48 oz", "80 oz"} <= set(pieces)
    for gain in plan.gains[:2]:
        ounces = {16: 1, 48: 1, 80: 1}
        if gain.piece.endswith("oz"):
            ounces[int(gain.piece.split()[0])] += 1
            richer = plan_of(trip_text(weights=ounces, wishes={"enough_gap": "20 m"}))
            assert richer.why.gap - plan.why.gap == pytest.approx(gain.wider, abs=0.02)
    wider = [gain.wider for gain in plan.gains if not gain.piece.startswith("mark")]
    assert wider == sorted(wider, reverse=True)


def test_one_more_mark_gains_at_least_what_is_told() -> None:
    """Two rods share their only mark: a trip where one has the third rod's too keeps at least the gap that is told."""
    short: list[Table] = [{**RED, "marks": ["200 ft"]}, {**BLUE, "marks": ["200 ft"]}, {**GOLD, "marks": ["100 ft"]}]
    parts: dict[str, object] = {"weights": {48: 3}, "lures": (BULLET,), "wishes": {"enough_gap": "20 m"}}
    plan = make_plan(small_trip(**parts, rods=short), samples=16, others=True)
    told = [gain for gain in plan.gains if gain.piece.startswith("mark at")]
    assert told
    assert told[0].wider > 0.1
    for gain in told:
        mark, rod = gain.piece.removeprefix("mark at ").split(" on ")
        rods = [{**table, "marks": ["100 ft", "200 ft"]} if table["name"] == rod else table for table in short]
        assert mark == "100 ft"
        richer = make_plan(small_trip(**parts, rods=rods), samples=16)
        assert richer.why.gap >= plan.why.gap + gain.wider - 0.03


def test_they_are_told_in_the_report_and_only_where_asked_for(plan: Plan) -> None:
    said = " ".join(report(plan, width=200).split())
    assert plan.others[0].words[1:40] in said
    assert "what one more would gain" in said.lower()
    assert all(gain.piece in said for gain in plan.gains)
    assert small_plan(**NARROW).others == ()


def test_a_rod_lost_leaves_the_lines_that_are_out_as_they_are(trip: Trip, plan: Plan) -> None:
    changed = without_rods(trip, plan, ["red"], ["blue"])
    again = make_plan(changed, samples=16)
    assert {rod.rod for rod in again.rods} == {"blue", "gold"}
    kept, before = again.rod("blue"), plan.rod("blue")
    for part in ("station", "mark", "weight", "shock_leader", "bite_leader", "lure"):
        assert getattr(kept, part) == getattr(before, part)
    lost = plan.rod("red")
    counts = Counter({weight.name: weight.count for weight in changed.shelf.weights})
    assert counts[lost.weight] == 0
    assert again.rod("gold").weight != lost.weight


def test_names_that_are_none_are_all_told_at_once(trip: Trip, plan: Plan) -> None:
    with pytest.raises(Faults) as told:
        without_rods(trip, plan, ["green", "blue"], ["blue", "violet"])
    assert len(told.value) == 3
    with pytest.raises(Faults, match="at least one rod"):
        without_rods(trip, plan, ["red", "blue", "gold"], [])


def test_a_choice_for_a_bad_day_is_no_worse_on_bad_days() -> None:
    """Judged by the samples of both plans, which neither choice has seen: the tenth that is narrowest."""
    parts: dict[str, object] = {"rods": (RED, BLUE, GOLD), "wishes": {"enough_gap": "20 m"}}
    usual = make_plan(small_trip(**parts), samples=64, seed=77)
    careful = make_plan(small_trip(**parts), samples=64, seed=77, cautious=True)
    assert usual.in_doubt is not None
    assert careful.in_doubt is not None
    assert careful.in_doubt.smallest_gap.low >= usual.in_doubt.smallest_gap.low - 0.15
    assert careful.why.gap <= usual.why.gap * 1.01  # what the usual choice is best at
