"""`spreadwright day` end to end on the demo: report, JSON, another date, and what is refused."""

from __future__ import annotations

import json
from pathlib import Path

from typer.testing import CliRunner, Result

from spreadwright.cli import app

DEMO = Path(__file__).parents[1] / "examples" / "demo" / "trip.toml"


def run(*arguments: object) -> Result:
    return CliRunner().invoke(app, ["day", *map(str, arguments)])


def test_the_demos_day():
    told = run(DEMO)
    assert told.exit_code == 0, told.output
    for said in ("Two days on Tallow Bank, 2031-03-08: WAIT", "WHY", "LIGHT", "SEA", "FUEL", "HOURS", "PAPERS",
                 "CAUTIONS", "first line in", "Kill-switch", "Nobody has to go"):  # fmt: skip
        assert said in told.stdout
    assert max(map(len, told.stdout.splitlines())) <= 100
    assert " m high" in run(DEMO, "--units", "metric").stdout


def test_as_json_on_another_date():
    found = json.loads(run(DEMO, "--json", "--date", "2031-03-09").stdout)
    assert (found["format"], found["date"]) == ("spreadwright day", "2031-03-09")
    assert found["answer"] in ("wait", "no-go")
    assert any(each["topic"].startswith("papers: fishing licence") for each in found["findings"])


def test_what_is_refused(tmp_path):
    assert run(DEMO, "--date", "tomorrow").exit_code == 2
    nothing = run(DEMO, "--day", tmp_path / "none.toml")
    assert nothing.exit_code == 2
    assert "could not be read" in nothing.output
    bad = tmp_path / "bad.toml"
    bad.write_text("latitude = 1.0\nlongtitude = 2.0\n", "utf-8")
    told = run(DEMO, "--day", bad, "--json")
    assert told.exit_code == 2
    assert "did you mean 'longitude'" in told.output
    assert len(json.loads(told.stdout)["faults"]) == 2
