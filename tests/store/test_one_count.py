"""One count for plan, lists and cards: from the tackle room where a store is named, else from the trip's own shelf."""

from __future__ import annotations

import json
from collections import Counter
from pathlib import Path

import pytest
from tests.sheets.example_plan import example_plan
from typer.testing import CliRunner

from spreadwright.cli import app
from spreadwright.plan.shopping import with_room
from spreadwright.plan.value import OWN_SHELF, Plan
from spreadwright.sheets.terminal import report
from spreadwright.stock.event import happened
from spreadwright.stock.fill import from_trip
from spreadwright.store.open import open_store
from spreadwright.store.room import read_room, record
from spreadwright.store.room_work import put_in
from spreadwright.tackle import Trip, read_trip

DEMO = Path(__file__).parents[2] / "examples" / "demo" / "trip.toml"


@pytest.fixture(scope="module")
def trip() -> Trip:
    return read_trip(DEMO)


def listed(plan: Plan, where: Path, folder: Path) -> tuple[dict[tuple[str, str], int], list[str]]:
    """Pieces to buy or make up by `spreadwright lists`, and its notes; coils are what the bench makes leaders from."""
    plan.write(folder / "plan.json")
    asked = ["lists", str(DEMO), "--plan", str(folder / "plan.json"), "--store", str(where), "--json"]
    told = json.loads(CliRunner().invoke(app, asked).stdout)
    items = [item for each in told["lists"] if each["name"] in ("buy", "bench") for item in each["items"]]
    return {(i["kind"], i["name"]): i["amount"] for i in items if i["kind"] not in ("", "coil")}, told["notes"]


def shopped(plan: Plan) -> dict[tuple[str, str], int]:
    return {(item.kind, item.name): item.quantity for item in plan.shopping}


def test_a_plan_and_the_lists_of_one_store_say_the_same(trip: Trip, tmp_path: Path) -> None:
    where, plan = tmp_path / "room.sqlite", example_plan()
    with open_store(where) as store:
        put_in(store, from_trip(trip))
        before = shopped(with_room(plan, trip, store))
        lure = read_room(store).find(plan.rods[0].lure, "lure")
        record(store, happened(lure.id, "use", read_room(store).state(lure).fit))
        counted = with_room(plan, trip, store)
    found, notes = listed(plan, where, tmp_path)
    assert shopped(counted) == found
    key = ("lure", plan.rods[0].lure)
    assert found[key] > before.get(key, 0)  # what was used up in the room is bought
    assert counted.counted in notes[0]
    assert str(where) in counted.counted
    assert f"Counted against {counted.counted}" in " ".join(report(counted, width=400).split())
    assert Plan.from_json(counted.to_json()) == counted


def test_an_empty_room_is_told_and_the_trips_shelf_stands_in(trip: Trip, tmp_path: Path) -> None:
    where, plan = tmp_path / "room.sqlite", example_plan()
    with open_store(where) as store:
        counted = with_room(plan, trip, store)
    found, notes = listed(plan, where, tmp_path)
    assert shopped(counted) == found
    assert "the tackle room is empty" in counted.counted
    assert notes[0] == f"counted against {counted.counted}"


def test_a_plan_without_a_store_says_what_it_counted(trip: Trip) -> None:
    plan = example_plan()
    assert plan.counted == OWN_SHELF
    said = " ".join(report(plan, width=400).split())
    assert "Counted against the trip file's shelf" in said
    assert "`spreadwright lists` counts what is fit in the tackle room" in said


def test_one_boats_gear_is_not_counted_for_another(trip: Trip, tmp_path: Path) -> None:
    from spreadwright.store.room_boats import add_boat

    plan = example_plan()
    with open_store(tmp_path / "room.sqlite") as store:
        other, own = add_boat(store, "Another Boat"), add_boat(store, trip.boat.name)
        put_in(store, from_trip(trip, other.id))
        fished = Counter(rod.weight for rod in plan.rods)
        short = shopped(with_room(plan, trip, store))
        assert all(short["trolling weight", name] >= number for name, number in fished.items())
        put_in(store, from_trip(trip, own.id))
        assert shopped(with_room(plan, trip, store)) != short
