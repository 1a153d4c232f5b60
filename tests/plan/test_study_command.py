"""`spreadwright study` end to end on small trips: the table, the picture, the manual's columns, and what is refused."""

from __future__ import annotations

import csv
import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from tests.plan.study_cases import text
from typer.testing import CliRunner, Result

from spreadwright.cli import app
from spreadwright.plan.study_table import COLUMNS

PAGE = (Path(__file__).parents[2] / "docs" / "study.md").read_text(encoding="utf-8")


def run(*arguments: object) -> Result:
    return CliRunner().invoke(app, ["study", *map(str, arguments)])


@pytest.fixture
def trip(tmp_path: Path) -> Path:
    path = tmp_path / "trip.toml"
    path.write_text(text(), encoding="utf-8")
    return path


def test_two_boats_into_a_table_and_a_picture(trip, tmp_path):
    other = tmp_path / "other.toml"
    other.write_text(text().replace('"Small Boat"', '"Other & Co"'), encoding="utf-8")
    table, picture = tmp_path / "study.csv", tmp_path / "study.svg"
    told = run(trip, "--boat", other, "--speed", "12 kn", "--speed", "14 kn", "-o", table, "--picture", picture)
    assert told.exit_code == 0, told.output
    assert "4 cases: 2 boats, 2 speeds, 1 radius, 1 sea." in told.output
    assert "flat water: no waves, no boat motion" in told.output
    rows = list(csv.DictReader(table.read_text(encoding="utf-8").splitlines()))
    assert [row["boat"] for row in rows[::2]] == ["Small Boat"] * 2 + ["Other & Co"] * 2
    assert [row["case"] for row in rows] == [str(1 + i // 2) for i in range(8)]
    assert f"Picture: {picture}" in told.output
    tree = ET.fromstring(picture.read_text(encoding="utf-8"))
    said = [node.text or "" for node in tree.iter() if node.tag.endswith("text")]
    assert any("Other & Co: smallest gap" in each for each in said)
    assert {"12", "14", "speed (kn)", "red", "blue", "tangle"} <= set(said)
    assert sum(node.tag.endswith("circle") for node in tree.iter()) == 2 * (2 + 4)
    for node in tree.iter():
        if node.tag.endswith("text"):
            assert 0.0 <= float(node.get("x", "-1")) <= 1100.0
            assert 0.0 <= float(node.get("y", "-1")) <= 600.0


def test_units_and_the_longest_axis(trip, tmp_path):
    picture = tmp_path / "study.svg"
    told = run(trip, "--radius", "40 m", "--radius", "60 m", "-o", tmp_path / "t.csv", "--picture", picture, "--units",
               "metric")  # fmt: skip
    assert told.exit_code == 0, told.output
    assert "60.0 m radius" in told.output or "40.0 m radius" in told.output
    assert "radius of the turns (m)" in picture.read_text(encoding="utf-8")


def test_faults_come_before_the_work(trip, tmp_path):
    told = run(trip, "--speed", "12", "--sea", "rough", "-o", tmp_path / "t.csv")
    assert told.exit_code == 2
    assert "--speed" in told.output
    assert "--sea" in told.output
    assert run(trip, "-o", tmp_path / "t.pdf").exit_code == 2
    assert not list(tmp_path.glob("t.*"))
    missing = run(trip, "--boat", tmp_path / "none.toml", "--plan", tmp_path / "none.json", "-o", tmp_path / "t.csv")
    assert missing.exit_code == 2
    assert "none.toml" in missing.output
    assert "none.json" in missing.output


def test_help_names_the_exit():
    assert run("--help").exit_code == 0


def test_the_manual_has_every_column():
    assert re.findall(r"^\| `(.*)` \| (?:whole number|number|text|yes or no) \|$", PAGE, re.MULTILINE) == [
        name for name, _ in COLUMNS
    ]
