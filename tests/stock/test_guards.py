"""Bite guards: fished with their rod, made up at the bench, packed, shopped for; equal ones are one lot."""

from __future__ import annotations

import pytest
from tests.stock.test_lists import DEMO, Rod, lists

from spreadwright.stock.fill import from_trip, guards_of, shelf_room
from spreadwright.stock.kinds import read_back, written
from spreadwright.stock.lists.make import make_lists
from spreadwright.stock.piece import piece_of
from spreadwright.stock.replay import State
from spreadwright.stock.room import Room
from spreadwright.stock.shortage import Used, shortage
from spreadwright.tackle import Trip, read_trip
from spreadwright.tackle.leader import BiteGuard

NAME = "1 ft guard of 480 lb cable"


def guarded(count: int = 0, rods: int = 2) -> Trip:
    """The demo without wished spares, its first rods with a bite guard each; `count` made up of each of them."""
    trip = read_trip(DEMO)
    guard = BiteGuard.model_validate({"material": "cable", "strength": "480 lb", "length": "1 ft", "count": count})
    outfits = tuple(
        outfit.model_copy(update={"bite_guard": guard}) if place < rods else outfit
        for place, outfit in enumerate(trip.outfits)
    )
    return trip.model_copy(update={"outfits": outfits, "spares": type(trip.spares)()})


def planned(trip: Trip) -> list[Rod]:
    return [Rod(rod=outfit.name) for outfit in trip.outfits[:3]]


def named(made: object, name: str) -> dict[str, int]:
    return {item.name: item.amount for item in made.list(name).items if item.kind == "bite guard"}  # type: ignore[attr-defined]


def test_a_guard_that_nobody_made_up_goes_to_the_bench_and_into_the_bag() -> None:
    """1.6 mm cable: 0.305 m and twice 80 mm + 15 x 1.6 mm = 104 mm make 0.513 m, cut at 0.52 m."""
    trip = guarded()
    made = lists(trip, planned(trip), shelf_room(trip))
    assert named(made, "bench") == {NAME: 2}
    (job,) = [item for item in made.list("bench").items if item.kind == "bite guard"]
    assert job.group == "bite guard"
    assert job.details[0] == "2 fished and 0 spare, 0 fit in the room"
    assert any(
        step.startswith("1. cut 1 ft 9 in (finished 1 ft, and cable crimp at both ends)") for step in job.details
    )
    assert named(made, "pack") == {NAME: 2}
    (cable,) = [item for item in made.list("buy").items if "cable" in item.said and item.group == "leader and wire"]
    assert "no fitting coil in the room" in " ".join(cable.details)
    assert any(f"2 x {NAME}" in detail for detail in cable.details)


def test_guards_that_are_there_are_packed_and_not_made_again() -> None:
    trip = guarded(count=1)
    assert [(guard.name, guard.count) for guard in guards_of(trip)] == [(NAME, 2)]
    made = lists(trip, planned(trip), shelf_room(trip))
    assert (named(made, "bench"), named(made, "pack")) == ({}, {NAME: 2})


def test_a_rod_that_is_not_fished_takes_no_guard() -> None:
    trip = guarded()
    assert named(lists(trip, planned(trip)[1:], shelf_room(trip)), "pack") == {NAME: 1}
    assert named(lists(trip, planned(trip)[2:], shelf_room(trip)), "pack") == {}
    assert named(lists(read_trip(DEMO), planned(trip), shelf_room(trip)), "pack") == {}


def test_a_spare_guard_goes_with_every_weight_that_may_be_lost() -> None:
    """Half of the rods have a guard: half as many spares, rounded up, as weights."""
    trip = guarded(rods=1)
    made = make_lists(trip, planned(trip)[:2], shelf_room(trip), hours=100.0)
    weights = sum(item.amount for item in made.list("pack").items if item.kind == "trolling weight") - 2
    assert weights > 2
    assert named(made, "pack") == {NAME: 1 + -(-weights // 2)}


def test_a_guard_is_no_bite_leader_and_its_piece_comes_back_as_it_was() -> None:
    (guard,) = guards_of(guarded(count=1))
    trip = guarded()
    leader = next(each.piece for each in from_trip(trip) if each.piece.kind == "bite leader")
    room = Room((leader,), {leader.id: State(fit=9)})
    assert named(lists(trip, planned(trip), room), "bench") == {NAME: 2}
    piece = piece_of("bite guard", guard)
    assert read_back("bite guard", NAME, written(piece.what)) == piece.what


@pytest.mark.parametrize(("count", "short"), [(0, 2), (1, 0)])
def test_the_plans_own_count_has_them_too(count: int, short: int) -> None:
    trip = guarded(count=count)
    rigs = [
        Used(rod, "32 oz torpedo", "30 ft of 300 lb", "3 ft of 270 lb wire", "black-red jet 9 in", "", (), NAME)
        for rod in ("red 130", "blue 130")
    ]
    missing = {each.kind: each.quantity for each in shortage(trip, rigs)}
    assert missing.get("bite guard", 0) == short


def test_a_line_without_a_snap_swivel_needs_none() -> None:
    """A plan says `none` of a swivel that is not there."""
    trip = read_trip(DEMO)
    made = lists(trip, [Rod(swivel="none")], shelf_room(trip))
    assert "none" not in {item.name for each in made.lists for item in each.items}
