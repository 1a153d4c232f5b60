"""The JSON interface: a plan in the making, spreads tried by hand, and what is wrong told all at once."""

from __future__ import annotations

import asyncio
import json
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from typing import Any, cast

import pytest

from spreadwright.web.shared import while_heard


def steps_in(stream: str) -> list[tuple[int, dict[str, object]]]:
    found = []
    for block in stream.strip().split("\n\n"):
        number, data = block.split("\n")
        found.append((int(number.removeprefix("id: ")), json.loads(data.removeprefix("data: "))))
    return found


def test_a_plan_is_made_followed_and_kept(client, token, name, plan, quick):
    assert client.get(f"/api/trips/{name}/plan").status_code == 404
    assert client.get(f"/api/trips/{name}/plan/steps").status_code == 404
    assert client.post(f"/api/trips/{name}/plan", headers=token).status_code == 202
    steps = steps_in(client.get(f"/api/trips/{name}/plan/steps").text)
    assert steps[-1][1]["state"] == "done"
    assert [number for number, _ in steps] == list(range(1, len(steps) + 1))
    assert client.get(f"/api/trips/{name}/plan").json()["rods"][0]["rod"] == plan.rods[0].rod
    assert client.get("/api/trips").json()[0]["has_plan"] is True


def test_whoever_comes_back_hears_what_they_missed(client, token, name, quick):
    client.post(f"/api/trips/{name}/plan", headers=token)
    whole = steps_in(client.get(f"/api/trips/{name}/plan/steps").text)
    rest = steps_in(client.get(f"/api/trips/{name}/plan/steps", headers={"last-event-id": "1"}).text)
    assert rest == whole[1:]


def test_a_plan_is_stopped(client, token, name, monkeypatch):
    begun = threading.Event()

    def endless(trip, tell, **_):
        while tell("towing", 0, 0):
            begun.set()
        raise RuntimeError("stopped")

    monkeypatch.setattr("spreadwright.web.shared.make_plan", endless)
    client.post(f"/api/trips/{name}/plan", headers=token)
    assert begun.wait(5)
    assert client.post(f"/api/trips/{name}/plan/stop", headers=token).status_code == 200
    assert steps_in(client.get(f"/api/trips/{name}/plan/steps").text)[-1][1]["state"] == "stopped"
    assert client.post(f"/api/trips/{name}/rigs/stop", headers=token).status_code == 404


def test_a_spread_is_tried_straight_in_the_turn_and_with_its_ranges(client, token, name):
    trip = client.get(f"/api/trips/{name}").json()
    assert trip["unit"] == {"name": "ft", "metres": pytest.approx(0.3048)}
    spread = trip["start"]
    straight = client.post(f"/api/trips/{name}/try", json=spread, headers=token).json()
    assert [rod["rod"] for rod in straight["rods"]] == ["red", "blue"]
    low, usual, high = straight["rods"][0]["weight_depth"]
    assert low < usual < high
    assert any(sign in straight["rods"][0]["weight_said"] for sign in ("±", " to "))
    run = client.post(f"/api/trips/{name}/try/run", json=spread, headers=token).json()
    line = run["lines"][0]
    assert len(line["moves"]) == len(run["boat"]) - 1
    assert line["first"][:3] == [round(100 * each) for each in straight["rods"][0]["tip"]]
    assert "about" in run["pairs"][0]["gap_said"]
    sure = client.post(f"/api/trips/{name}/try/ranges", json=spread, headers=token).json()
    assert sure["pairs"][0]["gap"] == run["pairs"][0]["gap"]
    assert any(sign in sure["pairs"][0]["gap_said"] for sign in ("±", " to "))
    assert sure["closest"].startswith("red and blue come closest:")
    assert "64 samples" in sure["sure"]
    (rod, _) = sure["rods"]
    assert len(rod["lure_off"]) == len(sure["times"]) > 10
    assert rod["lure_depth"][0] < rod["lure_depth"][1] < rod["lure_depth"][2]
    assert any(sign in rod["lure_said"] for sign in ("±", " to "))


def test_work_is_told_to_stop_once_nobody_waits_for_it():
    class Left:
        async def is_disconnected(self) -> bool:
            return True

    def work(stop):
        giving_up = time.monotonic() + 20
        while not stop() and time.monotonic() < giving_up:
            time.sleep(0.01)
        return stop()

    with ThreadPoolExecutor(1) as alone:  # a browser's test in the same run may have left a loop going in this thread
        assert alone.submit(lambda: asyncio.run(while_heard(cast("Any", Left()), work))).result()


def test_the_plans_own_spread_is_told_with_the_plans_ranges(app, client, token, name, plan):
    (kept,) = app.state.parts.kept.all()
    app.state.parts.kept.put_plan(kept, plan)
    spread = client.get(f"/api/trips/{name}").json()["start"]
    sure = client.post(f"/api/trips/{name}/try/ranges", json=spread, headers=token).json()
    assert sure["sure"].startswith(f"Ranges are the plan's: what 9 in 10 of {plan.in_doubt.samples} samples")
    low, _, high = plan.turn_depths.rods[0].lure[3]
    assert sum(sure["rods"][0]["lure_off"][3]) == pytest.approx(high - low, abs=0.002)
    spread["rods"][0]["weight"] = (spread["rods"][0]["weight"] + 1) % 4
    sure = client.post(f"/api/trips/{name}/try/ranges", json=spread, headers=token).json()
    assert sure["sure"].startswith("Ranges: what 9 in 10 of 64 samples")


def test_texts_come_in_the_units_asked_for(client, token, name):
    spread = client.get(f"/api/trips/{name}").json()["start"]
    said = [
        client.post(f"/api/trips/{name}/try?units={units}", json=spread, headers=token).json()["rods"][0]["mark_said"]
        for units in ("us", "metric")
    ]
    assert said == ["100 ft", "30.5 m"]


def test_what_is_wrong_with_a_spread_is_told_all_at_once(client, token, name):
    spread = client.get(f"/api/trips/{name}").json()["start"]
    spread["rods"][0].update(weight=900, lure=901)
    answer = client.post(f"/api/trips/{name}/try", json=spread, headers=token)
    assert answer.status_code == 400
    assert [fault["given"] for fault in answer.json()["faults"]] == ["900", "901"]


def test_a_trip_is_kept_and_removed(client, token, text, name):
    other = text.replace("A small trip", "Another trip")
    made = client.post("/api/trips", json={"text": other}, headers=token)
    assert made.status_code == 201
    assert made.json()["uploaded"] is True
    assert client.delete(f"/api/trips/{made.json()['name']}", headers=token).status_code == 204
    assert client.delete(f"/api/trips/{name}", headers=token).status_code == 404
    wrong = client.post(
        "/api/trips", json={"text": text.replace("15 kn", "fast").replace("45 m", "wide")}, headers=token
    )
    assert wrong.status_code == 400
    assert len(wrong.json()["faults"]) >= 2


def test_spreads_are_kept_by_name_and_dropped_by_place(client, token, name):
    spread = client.get(f"/api/trips/{name}").json()["start"]
    for title in ("one", "two", "one"):
        assert (
            client.post(f"/api/trips/{name}/spreads", json={"name": title, "spread": spread}, headers=token).status_code
            == 201
        )
    assert [each["name"] for each in client.get(f"/api/trips/{name}/spreads").json()] == ["two", "one"]
    assert client.delete(f"/api/trips/{name}/spreads/0", headers=token).status_code == 204
    assert client.delete(f"/api/trips/{name}/spreads/7", headers=token).status_code == 404
    assert [each["name"] for each in client.get(f"/api/trips/{name}/spreads").json()] == ["one"]


def test_the_interface_describes_itself_and_loads_nothing_from_outside(client):
    described = client.get("/api/openapi.json").json()
    assert "/api/trips/{trip}/try" in described["paths"]
    assert client.get("/docs").status_code == 404
    assert client.get("/redoc").status_code == 404
