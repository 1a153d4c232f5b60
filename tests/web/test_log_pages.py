"""The logbook's pages: exports taken in, entries by hand and taken back, rates with their ranges."""

from __future__ import annotations

import json
import re

import pytest
from tests.web.conftest import token_of

from spreadwright.logbook.rate_words import two_figures
from spreadwright.logbook.rates import rate_report
from spreadwright.store.log_keep import kept_log, log_of
from spreadwright.store.open import open_store

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


def written(client, path="entry", **form):
    return client.post(f"/log/{path}", data={"token": token_of(client.get("/").text), **form})


def entries(app):
    with open_store(app.state.parts.settings.store) as store:
        return {entry.kind: entry for entry in kept_log(store).entries.values()}


def test_a_line_out_and_a_strike_are_added_by_hand(client, app, name):
    out = {"kind": "line_out", "rod": "red", "at": "2031-03-08T06:00", "trip": name}
    written(client, **out, mark="100 ft", weight="32 oz", lure="jet")
    page = written(client, kind="strike", rod="red", at="2031-03-08T06:41", trip=name, outcome="landed", took="lure",
                   species="wahoo", mass="31 lb", length="48 in").text  # fmt: skip
    assert "1 landed" in page
    assert "Noted: 2031-03-08 06:41, strike, red, landed, wahoo." in page.replace("\u00a0", " ")
    kept = entries(app)
    assert kept["line_out"].rig.mark == pytest.approx(30.48)
    assert kept["strike"].mass == pytest.approx(31 * 0.45359237)
    with open_store(app.state.parts.settings.store) as store:
        (strike,) = log_of(store).strikes
    assert strike.rig.lure == "jet"  # the line that was out says what was struck


def test_a_line_out_takes_its_rig_from_the_plan(client, app, name, plan):
    refused = written(client, kind="line_out", rod="red", trip=name, planned="yes")
    assert refused.status_code == 400
    assert "no plan yet" in refused.text
    app.state.parts.kept.put_plan(app.state.parts.kept.get(name), plan)
    assert written(client, kind="line_out", rod="red", trip=name, planned="yes").status_code == 200
    its = plan.rod("red")
    rig = entries(app)["line_out"].rig
    assert (rig.mark, rig.weight, rig.lure) == (its.mark, its.weight, its.lure)


def test_everything_that_is_wrong_with_an_entry_is_told_at_once(client, app):
    answer = written(client, kind="strike", at="yesterday", mass="31", length="4 kn")
    assert answer.status_code == 400
    for said in ("yesterday", "31", "4 kn", "says which rod"):
        assert said in answer.text.replace("&#39;", "'")
    assert written(client, kind="undo").status_code == 400
    assert written(client, kind="line_out", rod="red").status_code == 400
    assert written(client, kind="strike", rod="r", at="0001-01-01T00:00+23:00").status_code == 400
    assert entries(app) == {}
    assert client.post("/log/entry", data={"kind": "note"}).status_code == 403


def test_an_entry_is_taken_back_where_it_stands(client):
    sent(client, json.dumps(EXPORT).encode())
    page = client.get("/log").text
    last = re.search(r'name="of" value="(\w+)"', page)
    assert last is not None
    assert last[1] == "2" * 32
    assert "0 landed" in written(client, "undo", of=last[1]).text
    assert written(client, "undo", of="3" * 32).status_code == 400


def test_rates_stand_with_their_ranges_and_their_notice(client, app):
    assert "No rates yet" in client.get("/log/rates").text
    sent(client, json.dumps(EXPORT).encode())
    page = client.get("/log/rates?by=lure").text.replace("\u00a0", " ")
    with open_store(app.state.parts.settings.store) as store:
        (factor,) = rate_report(log_of(store), factors=("lure",)).factors
    (level,) = factor.levels
    assert f"<td>{two_figures(level.rate)}</td>" in page
    assert f"<td>{two_figures(level.low)} to {two_figures(level.high)}</td>" in page
    assert "Rates are estimates" in page
    assert client.get("/log/rates?by=nonsense&trip=none").status_code == 200


def test_a_fish_is_weighed_in_pounds_or_kilograms_never_in_ounces(client):
    for units, unit in (("us", "lb"), ("metric", "kg")):
        client.post("/units", data={"token": token_of(client.get("/").text), "units": units})
        told = written(client, kind="strike", rod="red", mass="31").text.replace("&#39;", "'")
        assert f"'31 {unit}'" in told
        assert "oz" not in told.split("<main", 1)[1]
