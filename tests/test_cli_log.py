"""`spreadwright log` end to end: by hand, deck sheet, table, track; rates, suggestion, uses, refusals."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
from tests.logbook.logs import LONG, SHORT, exported, season
from tests.logbook.tracks import gpx_text, weaving
from tests.plan.trips import trip_text
from typer.testing import CliRunner, Result

from spreadwright.cli import app
from spreadwright.store.open import open_store


@pytest.fixture
def store(tmp_path: Path) -> Path:
    return tmp_path / "log.sqlite"


def run(store: Path, *arguments: object, code: int = 0) -> Result:
    told = CliRunner().invoke(app, ["log", *map(str, arguments), "--store", str(store)])
    assert told.exit_code == code, told.output
    return told


def answer(store: Path, *arguments: object) -> Any:
    return json.loads(run(store, *arguments, "--json").stdout)


@pytest.fixture
def season_file(tmp_path: Path) -> Path:
    path = tmp_path / "season.json"
    path.write_text(exported(season({"red": 0.5, "blue": 0.2}, days=8, rigs={"red": SHORT, "blue": LONG})), "utf-8")
    return path


def test_a_day_by_hand(store):
    run(store, "add", "out", "red", "--at", "2031-03-08T06:00", "--zone", "America/New_York", "--mark", "100 ft",
        "--lure", "jet")  # fmt: skip
    strike = answer(store, "add", "strike", "red", "--at", "2031-03-08T12:00Z", "--outcome", "landed",
                    "--mass", "35 lb", "--place", "26.5, -70.25", "--water", "26 degC", "--speed", "14 kn")  # fmt: skip
    assert strike["speed"] == pytest.approx(14 * 1852 / 3600)
    assert strike["mass"] == pytest.approx(15.8757, abs=1e-3)
    assert strike["position"] == [26.5, -70.25]
    listed = run(store, "list", "--units", "metric").stdout
    assert "1 sheet, 1 line out for 1.0 rod-hours, 1 strike, 1 landed" in listed
    assert "15.9 kg" in listed
    run(store, "add", "in", "red", "--at", "2031-03-08T13:00Z")
    run(store, "undo", strike["id"][:8])
    assert "0 strikes" in run(store, "list").stdout
    assert answer(store, "rates")["strikes"] == 0


def test_a_deck_sheet_read_twice_and_its_rates(store, season_file):
    first = answer(store, "import", season_file)["files"][0]
    again = answer(store, "import", season_file, season_file)["files"][1]
    assert first["new"] > 20
    assert (again["new"], again["known"]) == (0, first["new"])
    rates = answer(store, "rates", "--by", "distance", "--by", "weight")
    assert rates["format"] == "spreadwright rates"
    assert [each["factor"] for each in rates["factors"]] == ["distance", "weight"]
    told = run(store, "rates").stdout
    assert re.search(r"BY DISTANCE\n- Short lines 0\.\d+ an hour \(0\.\d+ to 0\.\d+\), long\s+lines", told)
    assert "To tell: put the 64 oz torpedo on long lines" in re.sub(r"\s+", " ", told)
    assert max(map(len, told.splitlines())) <= 100


def test_a_table_out_and_in_again(store, season_file, tmp_path):
    run(store, "import", season_file)
    table = tmp_path / "log.csv"
    table.write_text(run(store, "list", "--csv").stdout, "utf-8")
    other = tmp_path / "other.sqlite"
    run(other, "import", table)
    assert run(other, "rates", "--by", "lure").stdout == run(store, "rates", "--by", "lure").stdout
    run(store, "add", "note", "--note", "a second sheet", "--at", "2031-04-01T10:00Z")
    whole, third = tmp_path / "whole.json", tmp_path / "third.sqlite"
    whole.write_text(run(store, "list", "--json").stdout, "utf-8")
    assert answer(store, "import", whole)["files"][0]["new"] == 0
    run(third, "import", whole)
    assert answer(third, "list") == answer(store, "list")
    assert len(answer(third, "list")["sheets"]) == 2


def test_a_track_tows_the_lines(store, tmp_path):
    rig = {"station": "port corner", "mark": 60.96, "weight": "32 oz", "lure": "jet",
           "shock_leader": "30 ft of 300 lb", "bite_leader": "3 ft of wire"}  # fmt: skip
    log, track, trip = tmp_path / "log.json", tmp_path / "day.gpx", tmp_path / "trip.toml"
    entries = season({"red": 20.0}, days=1, hours=0.4, rigs={"red": rig}, seed=3)
    log.write_text(exported(entries), "utf-8")
    track.write_text(gpx_text(*weaving(1500, turn=20.0)), "utf-8")
    trip.write_text(trip_text(), "utf-8")
    run(store, "import", log)
    told = answer(store, "track", track, "--trip", trip)
    strikes = [e for e in entries if e.kind == "strike"]
    assert len(told["bites"]) == len(strikes) > 0
    assert all(bite["lure_depth"] > 0.3 for bite in told["bites"])
    assert "1501 fixes" in told["sentences"][0]
    words = run(store, "track", track, "--trip", trip, "--strikes-only").stdout
    assert "was kept already" in words
    assert re.search(r"lure\s+[\d.]+\s+ft\s+\([\d.]+\s+ft\s+to", words)
    rates = answer(store, "rates", "--trip", trip)
    assert {each["factor"] for each in rates["factors"]} >= {"turn", "depth", "speed", "colour", "light"}
    turn = next(each for each in rates["factors"] if each["factor"] == "turn")
    assert sum(level["hours"] for level in turn["levels"]) == pytest.approx(0.4, abs=0.01)


def test_a_suggestion_and_what_the_log_feeds(store, season_file, tmp_path):
    run(store, "import", season_file)
    drawn = answer(store, "suggest", "--seed", 4)
    assert drawn == answer(store, "suggest", "--seed", 4)
    assert {choice["level"] for choice in drawn["choices"]} == {SHORT["lure"], LONG["lure"]}
    assert "best of all" in run(store, "suggest", "--by", "weight").stdout
    uses = answer(store, "uses")
    assert [each["cause"] for each in uses["losses"]] == ["lure bitten off", "weight bitten off", "broken off"]
    assert uses["lures"][SHORT["lure"]] > 0.5 > uses["lures"][LONG["lure"]]
    assert "likely better" in run(store, "uses").stdout


@pytest.mark.parametrize(
    ("arguments", "said", "code"),
    [
        (("add", "out", "red"), "what it fishes", 2),
        (("add", "strike"), "which rod", 2),
        (("add", "leap", "red"), "kinds are out, in, strike, note", 2),
        (("add", "strike", "red", "--mass", "35"), "write a unit", 2),
        (("add", "strike", "red", "--place", "north"), "26.5, -70.25", 2),
        (("add", "strike", "red", "--at", "noon"), "year-month-day", 2),
        (("add", "strike", "red", "--zone", "Atlantis"), "IANA", 2),
        (("undo", "ffffffff"), "no entry has that id", 2),
        (("undo", "123"), "at least its first four signs", 2),
        (("import", "none.json"), "could not be read", 2),
        (("track",), "neither a track nor a trip", 2),
        (("rates", "--by", "luck"), "factors are distance", 2),
        (("rates",), "0 strikes", 1),
        (("suggest",), "log add out ROD --lure", 1),
        (("suggest", "--by", "turn"), "not something to change", 1),
        (("suggest", "--by", "turn"), "next: ask by lure, weight, mark or station", 1),
    ],
)
def test_what_is_refused_or_cannot_be_said(store, arguments, said, code):
    open_store(store).close()
    told = run(store, *arguments, code=code)
    assert said in told.output


def test_all_faults_of_a_file_and_the_sound_entries_if_asked(store, tmp_path):
    path = tmp_path / "bad.json"
    sound = season({"red": 0.5}, days=1)
    path.write_text(exported([*sound, {"id": "x"}, {"kind": "strike"}]), "utf-8")
    told = CliRunner().invoke(app, ["log", "import", str(path), "--store", str(store), "--json"])
    assert told.exit_code == 2
    assert json.loads(told.stdout)["format"] == "spreadwright faults"
    assert len(json.loads(told.stdout)["faults"]) >= 5
    open_store(store).close()
    assert "0 lines out" in run(store, "list").stdout
    assert answer(store, "import", path, "--leave-out-faulty")["files"][0]["new"] == len(sound)


def test_all_faults_of_an_entry_by_hand_at_once_and_no_store_for_them(store):
    told = run(store, "add", "banana", "red", "--mass", "35", "--length", "1e9 ft", "--took", "boot", "--at", "noon",
               "--place", "north", code=2)  # fmt: skip
    for said in ("6 faults", "kinds are out, in, strike, note", "write a unit", "'1e9 ft'", "at most 10 m (32.8 ft)",
                 "--took", "year-month-day", "26.5, -70.25"):  # fmt: skip
        assert said in told.stderr, told.stderr
    assert not store.exists()
    assert "which rod" in run(store, "add", "strike", "--took", "boot", code=2).stderr


def test_what_is_odd_is_told_and_kept(store):
    run(store, "add", "out", "red", "--lure", "jet", "--at", "2031-03-08T06:00Z")
    told = run(store, "add", "strike", "purple rod", "--at", "2031-03-08T07:00Z", "--json")
    assert "No line of that name is out" in told.stderr
    assert "out are: red;" in told.stderr
    assert json.loads(told.stdout)["rod"] == "purple rod"
    assert "purple rod" in run(store, "list").stdout
    assert "out are" not in run(store, "add", "strike", "red", "--at", "2031-03-08T07:30Z").stderr
    assert "2149-01-01 00:00 UTC lies in the future" in run(store, "add", "note", "--at", "2149-01-01T00:00Z").stderr
    assert "future" not in run(store, "add", "note", "--at", "2020-01-01T00:00Z").stderr


def test_a_table_is_refused_in_its_own_words_and_units(store, tmp_path):
    table = tmp_path / "log.csv"
    table.write_text("time,kind,rod,mark,mass\n2031-03-08T06:41Z,line out,red,9e99 ft,9000 kg\n", "utf-8")
    told = run(store, "import", table, code=2).stderr
    for said in ("'9e99 ft'", "at most 1000 m (3281 ft)", "'9000 kg'", "at most 2000 kg (4409 lb)"):
        assert said in told, told
    sheet = tmp_path / "log.json"
    sheet.write_text(exported([{"id": "a" * 32, "kind": "strike", "at": "2031-03-08T06:41Z", "rod": "red",
                                "mass": 9000.0}]), "utf-8")  # fmt: skip
    assert "given: 9000 kg" in run(store, "import", sheet, code=2).stderr


def test_a_trip_file_among_the_logs_is_told_in_one_sentence(store, tmp_path):
    trip = tmp_path / "trip.toml"
    trip.write_text(trip_text(), "utf-8")
    told = run(store, "import", trip, code=2).stderr
    assert told.startswith("1 fault")
    assert "this looks like a trip file" in told
    assert "a log file is wanted" in told


def test_one_lure_alone_says_how_to_have_two(store):
    run(store, "add", "out", "red", "--lure", "jet", "--at", "2031-03-08T06:00Z")
    told = run(store, "suggest", code=1).stderr
    assert "nothing to change" in told
    assert "next: log the lines that are out, two of them with another lure" in told
