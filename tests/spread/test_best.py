"""The spread that the plan chooses against every other: by brute force on small trips, by chance on the demo."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations

import pytest
from tests.plan.trips import BLUE, BULLET, CENTRE, GOLD, HIGH, JET, PORT, RED, STARBOARD, plan_of, trip_text
from tests.spread.every_spread import Spread, Water, chosen_spread, every_spread, rigs_of

from spreadwright.plan.value import Plan
from spreadwright.tackle import Trip, trip_from_text

MILLIMETRE = 0.001

TRIPS = {
    "enough is within reach": trip_text(),
    "enough is beyond reach": trip_text(wishes={"enough_gap": "20 m"}),
    "little is enough": trip_text(wishes={"enough_gap": "0.5 m"}),
    "one weight of each": trip_text(weights={16: 1, 48: 1, 80: 1}, wishes={"enough_gap": "20 m"}),
    "one line a mark": trip_text(wishes={"one_line_a_mark": True, "enough_gap": "20 m"}),
    "two weights for two rods": trip_text(rods=(RED, BLUE), weights={32: 2}, wishes={"enough_gap": "20 m"}),
    "a station to spare": trip_text(
        stations=(PORT, STARBOARD, CENTRE, HIGH), rods=({**RED, "station": "port corner"}, BLUE, GOLD),
        weights={16: 1, 64: 1, 96: 1}, wishes={"enough_gap": "20 m"},
    ),
    "two lures and colours": trip_text(
        weights={32: 3}, lures=({**JET, "count": 2}, {**BULLET, "count": 2}),
        wishes={"enough_gap": "0.5 m", "preferred_colours": ["white"]},
    ),
    "a head size": trip_text(
        weights={32: 3}, lures=({**JET, "count": 2}, {**BULLET, "count": 2}),
        wishes={"enough_gap": "0.5 m", "preferred_heads": ["0.95 in"]},
    ),
    "confidence in a lure": trip_text(
        weights={32: 3}, lures=({**JET, "count": 2}, {**BULLET, "count": 2, "confidence": "high"}),
        wishes={"enough_gap": "0.5 m"},
    ),
}  # fmt: skip


@dataclass(frozen=True)
class Tried:
    """A trip with its plan, and the smallest gap [m] of every legal spread, counted up to enough."""

    trip: Trip
    plan: Plan
    water: Water
    gaps: dict[Spread, float]

    @property
    def best(self) -> float:
        """The widest smallest gap there is [m]."""
        return max(self.gaps.values())


@lru_cache(maxsize=len(TRIPS))
def try_all(text: str) -> Tried:
    """Plan the trip, and try all its spreads."""
    trip = trip_from_text(text)
    water = Water(trip)
    every = every_spread(water, [rigs_of(trip, outfit.name) for outfit in trip.outfits])
    gaps = {spread: min(water.smallest(spread), trip.wishes.enough_gap) for spread in every}
    return Tried(trip, plan_of(text), water, gaps)


every_trip = pytest.mark.parametrize("text", TRIPS.values(), ids=TRIPS.keys())


@every_trip
def test_no_spread_at_all_has_a_wider_smallest_gap(text: str) -> None:
    """The search tells gaps apart to a millimetre, and gives one more away for coverage."""
    tried = try_all(text)
    assert tried.gaps[chosen_spread(tried.plan)] >= tried.best - 2.0 * MILLIMETRE - 1e-4


@every_trip
def test_of_the_spreads_with_that_gap_none_covers_more_and_none_as_much_in_better_colours(text: str) -> None:
    tried = try_all(text)
    chosen = chosen_spread(tried.plan)
    cover = {s: tried.water.coverage(s) for s, gap in tried.gaps.items() if gap >= tried.best - MILLIMETRE + 1e-4}
    most = max(cover.values())
    assert tried.water.coverage(chosen) >= most - 1e-3
    as_good = [spread for spread, covered in cover.items() if covered >= most - 1e-3]
    best_liked = max(_liked(tried.trip, spread) for spread in as_good)
    assert _liked(tried.trip, chosen) >= best_liked - 0.01


def _liked(trip: Trip, chosen: Spread) -> float:
    """Of what is wished of lures in the trips above: a colour, a head within a quarter, the word high."""
    wishes, total = trip.wishes, 0.0
    for rig in chosen:
        lure = next(piece for piece in trip.shelf.lures if piece.name == rig.lure)
        said = []
        if wishes.preferred_colours:
            said.append(float(bool(set(lure.colours) & set(wishes.preferred_colours))))
        if wishes.preferred_heads:
            (size,) = wishes.preferred_heads
            said.append(max(0.0, 1.0 - abs(lure.head_diameter - size) / (0.25 * size)))
        if any(piece.confidence is not None for piece in trip.shelf.lures):
            said.append(1.0 if lure.confidence == 1.0 else 0.5)
        total += sum(said) / len(said) if said else 0.0
    return total


@every_trip
def test_what_the_plan_rules_out_is_truly_impossible(text: str) -> None:
    """The bound in its words is never under the best there is."""
    tried = try_all(text)
    bound = re.search(r"gap beyond ([\d.]+) ft", tried.plan.why.proof)
    assert bound, tried.plan.why.proof
    assert float(bound[1]) * 0.3048 >= tried.best * 0.995  # shown with three figures


def test_the_cases_tell_good_choices_from_bad_ones() -> None:
    """The checks above would pass for any choice if all spreads were alike: they are not."""
    for text in TRIPS.values():
        tried = try_all(text)
        some = list(tried.gaps)[:: max(1, len(tried.gaps) // 50)]
        assert min(tried.gaps[spread] for spread in some) < 0.85 * tried.best
        coverage = [tried.water.coverage(spread) for spread in some]
        assert max(coverage) > min(coverage) + 0.1


def test_the_shown_gap_is_that_of_the_search_on_a_finer_mesh() -> None:
    """The plan computes the chosen spread anew, alone and finer: what it shows must be what the search chose by."""
    for text in TRIPS.values():
        tried = try_all(text)
        smallest = min(tried.water.gap(a, b) for a, b in combinations(chosen_spread(tried.plan), 2))
        assert tried.plan.why.gap == pytest.approx(smallest, rel=0.01, abs=0.005)
