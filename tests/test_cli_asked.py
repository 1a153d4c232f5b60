"""What is asked for on the command line is looked at before any long work: places of files, units, samples."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from tests.tackle.trips import small
from typer.testing import CliRunner, Result

from spreadwright.cli import app
from spreadwright.cli.running import AT_FAULT


def run(*arguments: object) -> Result:
    return CliRunner().invoke(app, [str(each) for each in arguments])


@pytest.fixture
def trip(tmp_path: Path) -> Path:
    path = tmp_path / "trip.toml"
    path.write_text(small(), encoding="utf-8")
    return path


@pytest.mark.parametrize(
    "asked",
    [
        ("plan", "--write", "plan.json"), ("rig", "--picture", "a.svg"), ("cards", "--output", "cards.pdf"),
        ("deck", "--output", "deck.html"), ("study", "--output", "table.csv"),
    ],
)  # fmt: skip
def test_a_folder_that_is_not_there_is_told_before_the_work(trip, tmp_path, monkeypatch, asked):
    def never(*_: object, **__: object) -> None:
        raise AssertionError("the work was begun")

    for name in ("plan", "rig", "study"):
        monkeypatch.setattr(f"spreadwright.cli.{name}_command.with_progress", never)
    monkeypatch.setattr("spreadwright.cli.planned.with_progress", never)
    command, option, name = asked
    lost = tmp_path / "nowhere" / name
    told = run(command, trip, option, lost)
    assert told.exit_code == AT_FAULT
    for said in (option, str(lost), "a folder that is there", "make the folder"):
        assert said in told.stderr
    assert not lost.parent.exists()


def test_all_places_are_told_at_once_and_a_folder_is_no_file(trip, tmp_path):
    told = run("study", trip, "-o", tmp_path / "nowhere" / "a.csv", "--picture", tmp_path)
    assert told.exit_code == AT_FAULT
    assert "a folder that is there" in told.stderr
    assert "this is a folder" in told.stderr


def test_places_are_told_as_json_too(trip, tmp_path):
    told = run("plan", trip, "--json", "--write", tmp_path / "nowhere" / "plan.json")
    assert told.exit_code == AT_FAULT
    assert json.loads(told.stdout)["faults"][0]["place"] == "--write"


def test_readings_are_not_read_for_a_place_that_is_not_there(trip, tmp_path):
    told = run("measure", trip, tmp_path / "no readings.toml", "--write", tmp_path / "nowhere" / "c.json")
    assert told.exit_code == AT_FAULT
    assert "a folder that is there" in told.stderr


def words(told: Result) -> str:
    """What was said, without the box around it."""
    return re.sub(r"[\s│]+", " ", told.output + told.stderr)


@pytest.mark.parametrize("command", ["plan", "rig"])
def test_other_units_are_refused_in_plain_words(trip, command):
    told = run(command, trip, "--units", "imperial")
    assert told.exit_code == AT_FAULT
    assert "'imperial' was given" in words(told)
    assert "write us or metric" in words(told)
    assert "Value error" not in words(told)


@pytest.mark.parametrize(("given", "take"), [(100, 128), (8, 16), (5000, 4096)])
def test_samples_are_a_power_of_two(trip, given, take):
    told = run("plan", trip, "--samples", given)
    assert told.exit_code == AT_FAULT
    assert f"{given} was given" in words(told)
    assert f"take {take}." in words(told)


@pytest.mark.parametrize("command", ["plan", "rig", "study", "cards", "deck", "measure"])
def test_options_that_take_something_say_what_in_help(command):
    told = run(command, "--help")
    assert told.exit_code == 0
    assert not re.findall(r"<(?:str|int|float)>|\bTEXT\b|\bINTEGER\b", told.output)
