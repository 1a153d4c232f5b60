"""The whole loop: plan, deck-sheet strikes, a track, rates, a plan changed by them, and a longer restock list."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from tests.logbook.logs import at
from tests.logbook.tracks import gpx_text, weaving
from tests.plan.trips import BLUE, PORT, RED, STARBOARD, Table, trip_text
from tests.store.rooms import HOOK, put
from typer.testing import CliRunner

from spreadwright.cli import app
from spreadwright.logbook.entry import identity_of
from spreadwright.store.open import open_store

LURE: Table = {"head": "jet", "mass": "10 oz", "length": "9 in", "head_diameter": "1.25 in", "hooks": 2, "count": 3}
# Alike in the water, so that nothing but what bites tells them apart.
DARK: Table = {**LURE, "name": "dark jet", "colours": ["black"]}
PALE: Table = {**LURE, "name": "pale jet", "colours": ["blue", "white"]}


def run(*arguments: object, store: Path | None = None) -> str:
    where = ["--store", str(store)] if store else []
    told = CliRunner().invoke(app, [*map(str, arguments), *where])
    assert told.exit_code == 0, told.output
    return told.stdout


def fished(plan: Any) -> list[str]:
    return sorted(rod["lure"] for rod in plan["rods"])


def deck_log(plan: Any, lures: Sequence[str], days: int = 4) -> str:
    """What the deck sheet exports: each day every planned rod out for four hours, with one lure after the other; the
    pale one is bitten four times a day on each rod, twice cut off, the dark one once in two days."""
    entries: list[dict[str, Any]] = []

    def note(kind: str, minutes: float, rod: str, **more: Any) -> None:
        identity = identity_of(kind, minutes, rod, more.get("rig", ""))
        entries.append({"id": identity, "kind": kind, "at": at(minutes).isoformat(), "rod": rod, **more})

    for day in range(days):
        for number, rod in enumerate(plan["rods"]):
            rig = {key: rod[key] for key in ("station", "mark", "weight", "shock_leader", "bite_leader")}
            start = 1440.0 * day + number
            for half, lure in enumerate(lures):
                begin = start + 120.0 * half
                note("line_out", begin, rod["rod"], rig={**rig, "lure": lure})
                bites = (4 if lure == "pale jet" else day % 2) if day else 1
                for bite in range(bites):  # spread over the time out: strikes close together would count as bunches
                    when = begin + 3.0 + 25.0 * bite + (11.0 * number if day else 0.0)
                    cut = lure == "pale jet" and bite >= 2
                    took, outcome = ("lure", "cut off") if cut else ("lure", "missed")
                    note("strike", when, rod["rod"], took=took, outcome=outcome, turn="unknown")
                    if cut:
                        note("line_out", when + 2.0, rod["rod"], rig={**rig, "lure": lure})
                note("line_in", begin + 110.0, rod["rod"])
    head = {"format": "spreadwright deck log", "version": 1, "trip": "Test", "boat": "Small Boat", "sheet": "a" * 32}
    return json.dumps({**head, "made": at(0).isoformat(), "entries": entries})


def test_from_a_plan_to_a_better_plan_and_the_list_that_goes_with_it(tmp_path):
    store, trip, plan_file = tmp_path / "store.sqlite", tmp_path / "trip.toml", tmp_path / "plan.json"
    rods = (RED, BLUE)
    trip.write_text(
        trip_text(stations=(PORT, STARBOARD), rods=rods, weights={16: 1, 32: 1}, lures=(DARK, PALE)), "utf-8"
    )

    # 1. plan, and what would have to be bought by the guess at losses
    before = json.loads(run("plan", trip, "--json", "--write", plan_file))
    assert fished(before) == ["dark jet"] * 2  # nothing tells the two apart: the first on the shelf
    with open_store(store) as room:
        put(room, "hook", HOOK, 1)  # in an empty room the trip's shelf would stand in
    listing = ("--only", "buy", "--hours", "6", "--json")
    buy_before = _to_buy(run("lists", trip, "--plan", plan_file, *listing, store=store))

    by_hand = json.loads(run("log", "add", "out", "red", "--plan", plan_file, "--lure", "pale jet", "--json",
                             store=tmp_path / "other.sqlite"))  # fmt: skip
    red = next(rod for rod in before["rods"] if rod["rod"] == "red")
    assert by_hand["rig"] == {
        "lure": "pale jet", **{k: red[k] for k in ("station", "mark", "weight", "shock_leader", "bite_leader")}
    }  # fmt: skip
    unplanned = CliRunner().invoke(app, ["log", "add", "out", "pink", "--plan", str(plan_file), "--store",
                                         str(tmp_path / "other.sqlite")])  # fmt: skip
    assert unplanned.exit_code == 2
    assert "plans no such rod" in unplanned.output

    # 2. strikes on the deck sheet, taken in twice, as two phones would bring them
    log = tmp_path / "deck.json"
    log.write_text(deck_log(before, ("pale jet", "dark jet")), "utf-8")
    run("log", "import", log, log, store=store)

    # 3. the track of the first day tows the lines again
    track = tmp_path / "day.gpx"
    track.write_text(gpx_text(*weaving(900, turn=20.0)), "utf-8")
    towed = json.loads(run("log", "track", track, "--trip", trip, "--json", store=store))
    assert len(towed["bites"]) == 2
    assert all(0.3 < bite["lure_depth"] < 8.0 and bite["lure_speed"] > 3.0 for bite in towed["bites"])

    # 4. what works
    rates = json.loads(run("log", "rates", "--by", "lure", "--by", "turn", "--trip", trip, "--json", store=store))
    best = rates["factors"][0]["levels"][0]
    assert best["level"] == "pale jet"
    assert rates["factors"][0]["comparisons"][0]["chance"] > 0.95
    assert best["low"] < best["rate"] < best["high"]

    # 5. a changed plan, which says why
    changed = tmp_path / "changed.toml"
    uses = json.loads(run("log", "uses", "--trip", trip, "--write", changed, "--json", store=store))
    assert "Preferred colours by the log: blue, white" in changed.read_text("utf-8")
    after_file = tmp_path / "after.json"
    after = json.loads(run("plan", changed, "--json", "--write", after_file))
    assert fished(after) == ["pale jet"] * 2
    assert [rod["mark"] for rod in after["rods"]] == [rod["mark"] for rod in before["rods"]]

    # 6. the restock list takes the losses into account
    assert next(each for each in uses["losses"] if each["cause"] == "lure bitten off")["losses"] >= 12
    buy_after = _to_buy(run("lists", changed, "--plan", after_file, *listing, store=store))
    assert buy_after["lure"] > buy_before["lure"]


def _to_buy(text: str) -> dict[str, int]:
    """Pieces to buy by kind."""
    (buy,) = json.loads(text)["lists"]
    counts: dict[str, int] = {}
    for item in buy["items"]:
        counts[item["kind"]] = counts.get(item["kind"], 0) + item["amount"]
    return counts
