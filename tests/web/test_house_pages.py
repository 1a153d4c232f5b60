"""The pages of the house: logbook and day, from the store and the files that the commands use."""

from __future__ import annotations

import json
from pathlib import Path

from tests.web.conftest import token_of

SHEET = "0" * 32
ENTRIES = [
    {"id": "1" * 32, "kind": "line_out", "at": "2031-03-08T06:00:00.000Z", "rod": "red",
     "rig": {"mark": 30.48, "lure": "jet"}},
    {"id": "2" * 32, "kind": "strike", "at": "2031-03-08T06:41:07.120Z", "rod": "red", "took": "lure",
     "outcome": "landed"},
]  # fmt: skip
EXPORT = {"format": "spreadwright deck log", "version": 1, "trip": "A small trip", "boat": "Small Boat", "sheet": SHEET,
          "made": "2031-03-08T12:00:00.000Z", "entries": ENTRIES}  # fmt: skip


def sent(client, data: bytes):
    token = token_of(client.get("/").text)
    return client.post("/log", data={"token": token}, files={"file": ("../log.json", data)})


def test_a_deck_sheets_log_is_taken_in_once_however_often_it_is_sent(client):
    data = json.dumps(EXPORT).encode()
    first, second = sent(client, data), sent(client, data)
    assert first.status_code == second.status_code == 200, first.text[-900:]
    assert "1 landed" in client.get("/log").text
    assert first.text != second.text


def test_a_log_that_is_none_is_refused_with_its_faults(client):
    assert sent(client, b"not json").status_code == 400
    assert "UTF-8" in sent(client, b"\xff\xfe").text
    assert client.post("/log", files={"file": ("x", b"{}")}).status_code == 403


def test_the_day_comes_from_the_file_beside_the_trip(client, name, trip_file):
    assert "no day file" in client.get(f"/trips/{name}/day").text
    demo = Path(__file__).parents[2] / "examples" / "demo"
    trip_file.write_text((demo / "trip.toml").read_text(encoding="utf-8"), encoding="utf-8")
    trip_file.with_name("day.toml").write_text((demo / "day.toml").read_text(encoding="utf-8"), encoding="utf-8")
    token = token_of(client.get("/").text)
    fresh = client.post(f"/trips/{name}/again", data={"token": token}).headers["location"]
    assert 'class="report"' in client.get(f"{fresh}/day").text
