"""Tracks on the logbook's pages: taken in with every loss counted, kept once, and the logged lines towed along them."""

from __future__ import annotations

import json
import re
import time
from datetime import UTC, datetime

import pytest
from tests.logbook.tracks import START, gpx_text, sentence, weaving
from tests.web.houses import send
from tests.web.test_log_pages import SHEET

from spreadwright.store.log_keep import kept_bites
from spreadwright.store.log_tracks import track_names
from spreadwright.store.open import open_store

BITTEN = START + 100.0


@pytest.fixture
def where(app):
    return app.state.parts.settings.store


def moment(seconds: float) -> str:
    return datetime.fromtimestamp(seconds, UTC).isoformat()


def take(client, *texts: str, name: str = "../../etc/track.gpx"):
    return send(client, "/log/tracks", [("files", (name, text.encode(), "text/html")) for text in texts])


def over(app, key: str) -> str:
    """How a piece of work ended."""
    until = time.monotonic() + 60
    while not app.state.parts.jobs.get(key).over and time.monotonic() < until:
        time.sleep(0.02)
    state: str = app.state.parts.jobs.get(key).state
    return state


def test_a_gpx_track_is_read_told_and_kept_once(client, where):
    t, lat, lon = weaving(120)
    keep = [i for i in range(len(t)) if not 40 <= i < 80]  # a gap of 41 s
    text = gpx_text(t[keep], lat[keep], lon[keep]).replace('lat="26.5', 'lat="x', 1)
    page = take(client, text).text
    assert "the track: 80 fixes" in page
    assert "1 left out, a point without a readable place" in page
    assert "1 gaps over 15 s" in page
    assert "/tmp/" not in page
    assert "etc" not in page
    with open_store(where) as store:
        assert len(track_names(store)) == 1
    assert "It was kept already." in take(client, text).text
    with open_store(where) as store:
        assert len(track_names(store)) == 1


def test_bad_sentences_of_a_receivers_log_are_counted(client):
    good = [sentence(f"GPRMC,1100{s:02d}.00,A,2630.00{s:02d},N,07015.0000,W,15.0,000.0,080331,,,A") for s in range(20)]
    lines = [*good, "$GPRMC,110021.00,A*00", "noise", sentence("GPGSV,1,1,00")]
    page = take(client, "\r\n".join(lines), "\r\n".join(good)).text
    assert "track 1: 20 fixes" in page
    assert "1 left out, a wrong checksum" in page
    assert "1 left out, no sentence" in page
    assert "It was kept already." in page


def test_what_is_no_track_is_refused_and_a_good_one_beside_it_is_kept(client, where):
    assert take(client, "nothing of the kind").status_code == 400
    assert take(client, "<html></html>").status_code == 400
    assert take(client).status_code == 400
    t, lat, lon = weaving(60)
    page = take(client, "nothing", gpx_text(t, lat, lon)).text
    assert "track 2: 61 fixes" in page
    assert "track 1: no sentence" in page
    with open_store(where) as store:
        assert len(track_names(store)) == 1
    swelling = '<!DOCTYPE g [<!ENTITY a "aaaa">]>' + gpx_text(t, lat, lon)
    assert take(client, swelling).status_code == 400
    assert client.post("/log/tracks", files={"files": ("a", b"x")}).status_code == 403


def test_logged_lines_are_towed_along_the_track_and_matched_to_strikes(client, app, name, where):
    shelf = app.state.parts.kept.get(name).trip.shelf
    rig = {"station": app.state.parts.kept.get(name).trip.boat.stations[0].name, "mark": 30.48,
           "weight": shelf.weights[0].name, "shock_leader": shelf.shock_leaders[0].name,
           "bite_leader": shelf.bite_leaders[0].name, "lure": shelf.lures[0].name}  # fmt: skip
    entries = [{"id": "1" * 32, "kind": "line_out", "at": moment(START), "rod": "red", "rig": rig},
               {"id": "2" * 32, "kind": "strike", "at": moment(BITTEN), "rod": "red", "outcome": "lost"},
               {"id": "3" * 32, "kind": "strike", "at": moment(BITTEN + 9000), "rod": "red"}]  # fmt: skip
    export = {"format": "spreadwright deck log", "version": 1, "trip": "t", "boat": "b", "sheet": SHEET,
              "made": moment(BITTEN), "entries": entries}  # fmt: skip
    send(client, "/log", {"file": ("l", json.dumps(export).encode())})
    t, lat, lon = weaving(150)
    assert "None of the 2 strikes" in take(client, gpx_text(t, lat, lon)).text
    answer = send(client, "/log/tracks/tow", trip=name)
    assert answer.headers["location"] == f"/log/tracks?trip={name}"
    assert f"/api/jobs/tracks/{name}" in client.get(answer.headers["location"]).text
    assert over(app, f"tracks {name}") == "done"
    page = client.get(answer.headers["location"]).text
    assert "1 of 2 strikes lie on the track." in page
    assert "1 of 2 strikes have their place on a track." in page
    assert re.search(
        r"boat at 15(\.0)? kn; lure [\d.]+ ft \([\d.]+ ft to [\d.]+ ft\) deep", page.replace("\u00a0", " ")
    )
    with open_store(where) as store:
        assert list(kept_bites(store)[0]) == ["2" * 32]
    assert send(client, "/log/tracks/tow", trip="nothing").status_code == 400


def test_work_of_a_page_is_followed_and_stopped(client, app, name, token):
    started = app.state.parts.jobs.start(f"tracks {name}", wait_for_stop)
    page = client.get(f"/log/tracks?trip={name}").text
    assert f'action="/jobs/tracks/{name}/stop"' in page
    back = send(client, f"/jobs/tracks/{name}/stop", back=f"/log/tracks?trip={name}")
    assert back.headers["location"] == f"/log/tracks?trip={name}"
    assert over(app, started.key) == "stopped"
    assert "Stopped. Nothing was kept" in client.get(f"/log/tracks?trip={name}").text
    told = client.get(f"/api/jobs/tracks/{name}/steps").text
    assert '"state": "stopped"' in told
    assert client.post(f"/api/jobs/tracks/{name}/stop", headers=token).json()["state"] == "stopped"
    assert client.post(f"/api/jobs/tracks/{name}/stop").status_code == 403
    assert client.post("/api/jobs/study/house/stop", headers=token).status_code == 404
    assert client.get("/api/jobs/study/house/steps").status_code == 404
    assert client.post(f"/jobs/tracks/{name}/stop").status_code == 403


def wait_for_stop(tell):
    while tell("at it", 1, 2):
        time.sleep(0.01)
    raise RuntimeError("it was asked to stop")
