"""`spreadwright measure` end to end on a small trip: the report, JSON, the file it writes, and what is refused."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from tests.plan.trips import BULLET, JET, trip_text
from typer.testing import CliRunner, Result

from spreadwright.cli import app
from spreadwright.plan.calibration import Calibration, stored_calibration
from spreadwright.sheets.calibration_report import calibration_report
from spreadwright.tackle import read_trip

READINGS = """[[readings]]
rod = "red"
station = "port corner"
mark = "200 ft"
weight = "64 oz"
leader = "30 ft of 300 lb"
bite_leader = "3 ft of wire"
lure = "jet"
speed = "12 kn"
pull = "20 lb"
lure_depth = "17 ft"
"""


@pytest.fixture
def files(tmp_path: Path) -> tuple[Path, Path]:
    trip, readings = tmp_path / "trip.toml", tmp_path / "readings.toml"
    trip.write_text(trip_text(lures=(JET, BULLET)), encoding="utf-8")
    readings.write_text(READINGS, encoding="utf-8")
    return trip, readings


def run(*arguments: object) -> Result:
    return CliRunner().invoke(app, ["measure", *map(str, arguments)])


def test_the_report_and_the_file(files, tmp_path):
    trip, readings = files
    kept = tmp_path / "kept.json"
    told = run(trip, readings, "--write", kept)
    assert told.exit_code == 0, told.output
    said = re.sub(r"\s+", " ", told.output)
    for part in ("2 readings on 1 rod.", "WHAT THE READINGS SAY", "DRAG BEFORE AND AFTER", "1.20 (1.10 to 1.30)",
                 "0.0150", "20 lb ± 1 ", "17 ft ± 1 ", "To read next: the", "takes away",
                 "nine times in ten"):  # fmt: skip
        assert part in said, part
    made = stored_calibration(kept, read_trip(trip))
    for width in (60, 80, 120):
        assert max(map(len, calibration_report(made, width=width).splitlines())) <= width
    assert "6.096" not in calibration_report(made, system="metric")
    assert "9.07 kg" in calibration_report(made, system="metric")


def test_json_is_the_whole_calibration(files):
    trip, readings = files
    told = run(trip, readings, "--json")
    assert told.exit_code == 0, told.output
    found = json.loads(told.stdout)
    assert found["format"] == "spreadwright calibration"
    assert Calibration.model_validate(found).model_dump(mode="json") == found
    assert found["readings"][0]["given"] == pytest.approx(88.964, abs=0.001)


def test_faults_of_the_readings_are_all_told(files):
    trip, readings = files
    readings.write_text(READINGS.replace('"64 oz"', '"65 oz"').replace('"20 lb"', '"20"'), encoding="utf-8")
    told = run(trip, readings, "--json")
    assert told.exit_code == 2
    places = [fault["place"] for fault in json.loads(told.stdout)["faults"]]
    assert places == ["readings[1].weight", "readings[1].pull"]


def test_a_plan_that_is_none(files, tmp_path):
    trip, readings = files
    told = run(trip, readings, "--plan", tmp_path / "none.json")
    assert told.exit_code == 2
    assert "spreadwright plan TRIP.toml --write" in told.output


def test_help_loads_nothing_compiled():
    told = run("--help")
    assert told.exit_code == 0
    assert "READINGS.toml" in told.output
