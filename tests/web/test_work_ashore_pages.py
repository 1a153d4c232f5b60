"""Long work that a form begins: readings, studies and lines by themselves, with their faults, results and interface."""

from __future__ import annotations

import csv
import io
import time
from pathlib import Path

import pytest
from tests.web.houses import send

from spreadwright.plan.calibration import Calibration
from spreadwright.plan.calibration_words import sentences
from spreadwright.towfile import read_tow_file
from spreadwright.towfile.compute import compute
from spreadwright.towfile.report import report

TOW_FILE = Path(__file__).parents[2] / "examples" / "tow" / "straight.toml"


def over(app, key: str) -> str:
    """How a piece of work ended."""
    until = time.monotonic() + 120
    while not app.state.parts.jobs.get(key).over and time.monotonic() < until:
        time.sleep(0.02)
    job = app.state.parts.jobs.get(key)
    return f"{job.state}: {job.steps[-1].words}" if job.state != "done" else "done"


@pytest.fixture
def reading(app, name):
    """One reading of the first rod, as the form sends it."""
    trip = app.state.parts.kept.get(name).trip
    shelf = trip.shelf
    return {
        "rod": trip.outfits[0].name, "station": trip.boat.stations[0].name, "mark": "100 ft",
        "weight": shelf.weights[0].name, "leader": shelf.shock_leaders[0].name, "lure": shelf.lures[0].name,
        "bite_leader": shelf.bite_leaders[0].name, "speed": "12 kn", "pull": "20 lb", "pull_error": "1 lb",
    }  # fmt: skip


def test_readings_are_added_worked_out_and_say_what_to_read_next(client, app, name, reading, token):
    address = f"/trips/{name}/measure"
    assert client.get(f"/api{address}").status_code == 404
    assert send(client, address).status_code == 400  # nothing was read yet
    assert send(client, f"{address}/add", **reading).status_code == 303
    assert send(client, f"{address}/add", **{**reading, "speed": "8 kn", "pull": "10 lb"}).status_code == 303
    assert client.get(address).text.count("[[readings]]") == 2
    wrong = send(client, f"{address}/add", **{**reading, "speed": "8", "pull": "much"})
    assert wrong.status_code == 400
    assert "2 things are wrong" in wrong.text
    assert client.get(address).text.count("[[readings]]") == 2
    assert send(client, address).headers["location"] == address
    assert over(app, f"measure {name}") == "done"
    made = Calibration.model_validate(client.get(f"/api{address}").json())
    assert len(made.readings) == 2
    page = client.get(address).text.replace("\u00a0", " ")
    for each in sentences(made, "us"):
        assert each.split(";")[0].split(",")[0] in page.replace("&#39;", "'")
    for title in ("What to read next", "Depth of the lures", "Drag before and after", "The readings, and what should"):
        assert title in page
    text = f'title = "by program"\n[[readings]]\nrod = "{reading["rod"]}"\nspeed = "bad"\n'
    asked = client.post(f"/api{address}", json={"text": text}, headers=token)
    assert asked.status_code == 400
    assert any("speed" in each["place"] for each in asked.json()["faults"])
    assert client.post(f"/api{address}", json={"text": text}).status_code == 403
    assert send(client, f"{address}/text", text="nothing").status_code == 400
    assert send(client, f"{address}/text", files={"file": ("../x", b"\xff\xfe")}).status_code == 400


def test_a_text_in_quotes_stays_one_value_of_a_reading(client, app, name, reading):
    """What is typed into a field cannot become keys of the readings file."""
    typed = 'red"\nlure = "another'
    answer = send(client, f"/trips/{name}/measure/add", **{**reading, "mark": typed})
    assert answer.status_code == 400
    assert "1 thing is wrong" in answer.text


def test_a_study_sweeps_what_was_asked_and_is_kept(client, app, name, plan, token):
    kept = app.state.parts.kept
    kept.put_plan(kept.get(name), plan)
    address = f"/trips/{name}/study"
    for path in (f"/api{address}", f"{address}.csv", f"{address}.svg"):
        assert client.get(path).status_code == 404
    wrong = send(client, address, speeds="14 kn, fast", seas="9 ft at 3 s", hulls="big", seed="2")
    assert wrong.status_code == 400
    assert "3 things are wrong" in wrong.text
    assert "--" not in wrong.text.split("<main", 1)[1]
    assert send(client, address, seed="x").status_code == 400
    assert send(client, address, boats=["0" * 20]).status_code == 404
    assert send(client, address, speeds="12 kn, 15 kn").headers["location"] == address
    assert over(app, f"study {name}") == "done"
    page = client.get(address).text.replace("\u00a0", " ")
    assert "What was found" in page
    assert "<svg" in page
    assert page.count('<th scope="row">') == 2
    rows = list(csv.DictReader(io.StringIO(client.get(f"{address}.csv").text)))
    assert {row["speed [m/s]"][:5] for row in rows} == {"6.173", "7.716"}
    assert len(rows) == 2 * len(plan.rods)
    assert client.get(f"{address}.svg").text.startswith("<svg")
    assert client.get(f"/api{address}").json()["csv"] == client.get(f"{address}.csv").text
    assert client.post(f"/api{address}", json={"speeds": ["x"]}, headers=token).status_code == 400
    assert client.post(f"/api{address}", json={"speeds": ["12 kn"]}).status_code == 403
    kept.put_extra(kept.get(name), "study.json", '{"of": "another version"}')
    assert "Begin a study" in client.get(address).text


def test_lines_by_themselves_are_computed_as_the_command_does(client, app):
    text = TOW_FILE.read_text(encoding="utf-8")
    assert client.get("/tow.json").status_code == 404
    wrong = send(client, "/tow", text=text.replace("12 kn", "12").replace('length = "60 m"', 'length = "long"'))
    assert wrong.status_code == 400
    assert "2 things are wrong" in wrong.text
    assert send(client, "/tow", text="").status_code == 400
    assert send(client, "/tow", {"file": ("../x", text.encode())}).headers["location"] == "/tow"
    assert over(app, "tow house") == "done"
    told = report(compute(read_tow_file(TOW_FILE)), None)
    page = client.get("/tow").text
    assert told.splitlines()[0] in page
    assert "2.86" in page  # metres deep, as the file says
    assert client.get("/tow.json").json()["lines"]


def test_a_track_beside_a_tow_file_is_never_looked_for(client, tmp_path):
    text = (TOW_FILE.parent / "track.toml").read_text(encoding="utf-8")
    answer = send(client, "/tow", text=text)
    assert answer.status_code == 400
    assert "folder" in answer.text or "beside" in answer.text


@pytest.mark.parametrize("path", ["measure", "measure/add", "measure/text", "study"])
def test_no_work_begins_without_the_pages_token(client, name, path):
    assert client.post(f"/trips/{name}/{path}", data={"text": "x"}).status_code == 403
    assert client.post("/tow", data={"text": "x"}).status_code == 403
