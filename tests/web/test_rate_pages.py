"""What works, the next hour's change, what the log feeds: the same words as the core's, worked out once for one log."""

from __future__ import annotations

import json
import re
import time

import pytest
from tests.logbook.logs import exported, season
from tests.web.houses import send

from spreadwright.logbook.rates import rate_report
from spreadwright.logbook.suggest import suggest
from spreadwright.plan.log_use import log_uses
from spreadwright.sheets.figures import plain
from spreadwright.store.log_keep import kept_log, log_of
from spreadwright.store.open import open_store
from spreadwright.web import rate_pages

RIGS = {
    "red": {"mark": 30.0, "lure": "jet", "weight": "64 oz"},
    "blue": {"mark": 90.0, "lure": "bullet", "weight": "16 oz"},
}


@pytest.fixture
def where(app):
    return app.state.parts.settings.store


@pytest.fixture
def logged(client):
    """A short season in which the short line always had the heavy weight and one lure."""
    entries = season({"red": 0.4, "blue": 0.2}, days=3, rigs=RIGS)
    answer = send(client, "/log", {"file": ("log.json", exported(entries).encode())})
    assert answer.status_code == 200, answer.text


def test_rates_of_one_log_are_worked_out_once(client, logged, monkeypatch):
    asked: list[object] = []

    def counting(*given):
        asked.append(given)
        return rate_report(*given)

    monkeypatch.setattr(rate_pages, "rate_report", counting)
    first, second = client.get("/log/rates?by=lure").text, client.get("/log/rates?by=lure").text
    assert first == second
    assert "By lure" in first
    assert len(asked) == 1
    send(client, "/log/entry", kind="strike", rod="red", at="2031-03-08T07:00")
    assert client.get("/log/rates?by=lure").text != first
    assert len(asked) == 2


def test_rates_of_a_long_log_are_told_as_they_come_and_can_be_stopped(client, app, logged, monkeypatch):
    whole = client.get("/log/rates").text
    monkeypatch.setattr(rate_pages, "LONG", 1)
    monkeypatch.setattr(rate_pages, "_reports", rate_pages.Reports())
    assert 'data-follow="/api/jobs/rates/house"' in client.get("/log/rates").text
    job = app.state.parts.jobs.get("rates house")
    until = time.monotonic() + 30
    while not job.over and time.monotonic() < until:
        time.sleep(0.02)
    assert job.state == "done"
    assert any("by lure" in step.words for step in job.steps)
    assert re.findall("<h2.*</td>", client.get("/log/rates").text, re.S) == re.findall("<h2.*</td>", whole, re.S)
    job.steps[-1] = type(job.steps[-1])(99, "stopped", "stopped", 0, 0)
    monkeypatch.setattr(rate_pages, "_reports", rate_pages.Reports())
    page = client.get("/log/rates").text
    assert "Stopped." in page
    assert "again=yes" in page
    assert app.state.parts.jobs.get("rates house") is job
    client.get("/log/rates?again=yes")
    assert app.state.parts.jobs.get("rates house") is not job


def test_a_lot_is_drawn_as_the_command_draws_it_and_again_the_same(client, logged, where, name):
    with open_store(where) as store:
        expected = suggest(log_of(store), 7, "lure")
    assert not isinstance(expected, str)
    page = client.get("/log/suggest?by=lure&lot=7").text
    assert plain(expected.sentence) in page
    assert client.get("/log/suggest?by=lure&lot=7").text.count(expected.take) == page.count(expected.take)
    drawn = client.get(f"/log/suggest?by=weight&trip={name}")
    assert re.fullmatch(rf"/log/suggest\?by=weight&trip={name}&lot=\d+", drawn.headers["location"])
    assert client.get(drawn.headers["location"]).status_code == 200
    assert client.get("/log/suggest?lot=-1").status_code == 422


def test_the_swap_that_would_tell_causes_apart_is_named(client, logged, where):
    with open_store(where) as store:
        mixed = rate_report(log_of(store), None, ("lure",)).of("lure").confounded
    assert mixed
    page = client.get("/log/suggest?by=lure&lot=1").text
    for each in mixed:
        assert plain(each.sentence) in page.replace("&#39;", "'")


def test_without_a_log_there_is_no_suggestion_and_why(client):
    assert "No suggestion: the log does not say" in client.get("/log/suggest?lot=1").text
    assert "No line-hours" in client.get("/log/uses").text


def test_what_the_log_feeds_is_told_and_makes_a_trip_of_its_own(client, app, logged, name, where):
    kept = app.state.parts.kept.get(name)
    with open_store(where) as store:
        told = log_uses(store, kept.trip).sentences
    page = client.get(f"/log/uses?trip={name}").text
    for each in told:
        assert plain(each) in page.replace("&#39;", "'")
    before = kept.text
    assert send(client, "/log/uses", trip=name).status_code == 303
    assert app.state.parts.kept.get(name).text == before
    assert send(client, "/log/uses", trip="nothing").status_code == 400


def test_the_log_goes_out_and_comes_in_again_as_a_whole_and_as_a_table(client, logged, where):
    with open_store(where) as store:
        before = kept_log(store).entries
    whole = client.get("/log/entries.json").content
    assert json.loads(whole)["format"] == "spreadwright log"
    page = send(client, "/log", {"file": ("x", whole)}).text
    assert f"0 entries new, {len(before)} known already" in page
    table = client.get("/log/entries.csv").text
    assert table.count("\n") > len(before)
    wrong = send(client, "/log", {"file": ("t.csv", table.replace("2031", "20x1").encode())}, zone="UTC")
    assert wrong.status_code == 400
    assert "/tmp/" not in wrong.text
    assert "line 2" in wrong.text or "row 2" in wrong.text
    assert send(client, "/log", {"file": ("t.csv", table.encode())}, zone="Nowhere/Atall").status_code == 400
    with open_store(where) as store:
        assert kept_log(store).entries == before


def test_sound_entries_are_taken_in_beside_faulty_ones_on_the_captains_word(client, where):
    entries = season({"red": 0.4}, days=1)
    bad = exported([*entries, {"id": "nothing", "kind": "strike"}]).encode()
    assert send(client, "/log", {"file": ("x", bad)}).status_code == 400
    with open_store(where) as store:
        assert kept_log(store).entries == {}
    assert "What is faulty was left out (2 faults)" in send(client, "/log", {"file": ("x", bad)}, leave_out="yes").text
    with open_store(where) as store:
        assert len(kept_log(store).entries) == len(entries)
