"""The demo trip: six rods, a mixed shelf that lacks something, and enough candidates to choose from."""

from __future__ import annotations

from itertools import product

from tests.tackle.trips import DEMO

from spreadwright.tackle import Outfit, Trip, read_trip

TRIP = read_trip(DEMO / "trip.toml")


def stations_for(outfit: Outfit, trip: Trip) -> list[str]:
    """Where a rod may stand: its own station, or any that no other rod has for its own."""
    if outfit.station:
        return [outfit.station]
    taken = {other.station for other in trip.outfits}
    return [station.name for station in trip.boat.stations if station.name not in taken]


def candidates(trip: Trip) -> set[tuple[object, ...]]:
    """Rigs that differ in the water: colours and names make no difference there."""
    shelf = trip.shelf
    return {
        (station, outfit.line, outfit.double_line, outfit.wind_on, mark, weight.mass, shock.length, shock.diameter,
         bite.length, bite.diameter, lure.head, lure.mass, lure.length, lure.head_diameter)
        for outfit in trip.outfits
        for station, mark, weight, shock, bite, lure in product(
            stations_for(outfit, trip), outfit.marks, shelf.weights, shelf.shock_leaders, shelf.bite_leaders,
            shelf.lures,
        )
    }  # fmt: skip


def test_six_rods_on_the_stations_of_a_real_boat() -> None:
    assert len(TRIP.outfits) == 6
    assert {outfit.line.material for outfit in TRIP.outfits} == {"nylon", "braid"}
    assert {round(outfit.line.strength / 4.4482216) for outfit in TRIP.outfits} == {80, 130}
    assert len(TRIP.boat.stations) == 7
    ports = sorted(station.port for station in TRIP.boat.stations)
    assert ports == [-port for port in reversed(ports)]  # the boat is the same on both sides


def test_over_a_thousand_rigs_differ_in_the_water() -> None:
    assert 1000 <= len(candidates(TRIP)) <= 2000


def test_the_shelf_is_short_of_some_things() -> None:
    """Six rods need six shock leaders and at least two crimps each; the shelf has five, and ten crimps."""
    assert sum(leader.count for leader in TRIP.shelf.shock_leaders) == 5
    assert sum(crimp.count for crimp in TRIP.shelf.crimps) < 12
    for kind in (TRIP.shelf.weights, TRIP.shelf.bite_leaders, TRIP.shelf.lures):
        assert sum(piece.count for piece in kind) >= 6


def test_strike_drags_are_a_quarter_to_a_third_of_the_line() -> None:
    """Common practice, no source: 25 to 33 % of the rated strength, less for fast trolling."""
    for outfit in TRIP.outfits:
        assert 0.2 <= outfit.strike_drag / outfit.line.strength <= 0.33


def test_sizes_and_counts_are_those_of_the_trade() -> None:
    """Common practice, no source: weights 16 to 96 oz, marks 100 to 400 ft, shock leaders 20 to 35 ft."""
    ounce, foot, pound = 0.028349523125, 0.3048, 4.4482216152605
    assert all(15.99 * ounce <= weight.mass <= 96.01 * ounce for weight in TRIP.shelf.weights)
    assert all(99.9 * foot <= mark <= 400.1 * foot for outfit in TRIP.outfits for mark in outfit.marks)
    for leader in TRIP.shelf.shock_leaders:
        assert 19.9 * foot <= leader.length <= 35.1 * foot
        assert 249 * pound <= leader.strength <= 401 * pound
    assert {bite.material for bite in TRIP.shelf.bite_leaders} == {"single strand", "cable"}
