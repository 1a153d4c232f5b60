"""A plan made as the captain asks, and the day it counts with: what is asked reaches it, what is wrong is told."""

from __future__ import annotations

import time
from pathlib import Path

import pytest
from tests.web.houses import send

from spreadwright.plan.day_answer import sea_met
from spreadwright.plan.day_file import day_from_text

DAY = (Path(__file__).parents[2] / "examples" / "demo" / "day.toml").read_text(encoding="utf-8")


@pytest.fixture
def asked(monkeypatch, plan):
    """What reached the making of plans, which hands back one that was made before."""
    calls: list[tuple[object, dict[str, object]]] = []

    def made(trip, tell, **more):
        calls.append((trip, more))
        return plan

    monkeypatch.setattr("spreadwright.web.plan_asked_pages.make_plan", made)
    return calls


def over(app, name):
    until = time.monotonic() + 60
    while not app.state.parts.jobs.get(f"plan {name}").over and time.monotonic() < until:
        time.sleep(0.02)
    return app.state.parts.jobs.get(f"plan {name}").state


def test_what_is_asked_reaches_the_plan(client, app, name, plan, asked):
    address = f"/trips/{name}/plan"
    assert "Make it otherwise" in client.get(address).text
    assert send(client, address, use=["cautious", "others"], samples="64", seed="7").headers["location"] == address
    assert over(app, name) == "done"
    trip, more = asked[-1]
    assert trip is app.state.parts.kept.get(name).trip
    more.pop("kept", None)  # what earlier plans computed
    assert more == {"cautious": True, "others": True, "samples": 64, "seed": 7}
    send(client, f"/trips/{name}/day", text=DAY)
    send(client, address, use=["day", "store"])
    assert over(app, name) == "done"
    assert asked[-1][1]["met"] == sea_met(day_from_text(DAY))
    assert asked[-1][1]["learnt"].lures == {}
    rods = [each.rod for each in plan.rods]
    send(client, address, lost=[rods[0]], out=[rods[1]])
    assert over(app, name) == "done"
    trip = asked[-1][0]
    assert [outfit.name for outfit in trip.outfits] == rods[1:]
    assert trip.lock(rods[1]).lure == plan.rod(rods[1]).lure


def test_what_cannot_be_asked_is_told_and_begins_nothing(client, app, name, asked):
    address = f"/trips/{name}/plan"
    for form in ({"use": ["readings"]}, {"use": ["day"]}, {"lost": ["red"]}, {"samples": "3", "seed": "-1"}):
        answer = send(client, address, **form)
        assert answer.status_code == 400
        assert "<dt>Next</dt>" in answer.text
    assert "2 things are wrong" in answer.text
    assert asked == []
    assert client.post(address, data={"use": "others"}).status_code == 403


def test_a_day_is_kept_for_a_trip_and_asked_for_another_date(client, name):
    address = f"/trips/{name}/day"
    assert client.get(f"{address}.json").status_code == 404
    assert send(client, address, text=DAY.replace("[", "{", 1)).status_code == 400
    assert send(client, address, {"file": ("../day", DAY.encode())}).headers["location"] == address
    page = client.get(address).text  # the trip names no date
    assert "Another date" in page
    assert 'class="report"' not in page
    page = client.get(f"{address}?on=2031-03-08").text
    assert 'class="report"' in page
    other = client.get(f"{address}?on=2031-06-21").text
    assert 'class="report"' in other
    assert other != page
    assert client.get(f"{address}.json?on=2031-03-08").json() != client.get(f"{address}.json?on=2031-06-21").json()
    assert client.get(f"{address}?on=soon").status_code == 422
    assert client.post(address, data={"text": DAY}).status_code == 403
