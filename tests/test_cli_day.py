"""`spreadwright day` end to end on the demo: report, JSON, another date, and what is refused."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from spreadwright.cli import app
from spreadwright.store.open import open_store

DEMO = Path(__file__).parents[1] / "examples" / "demo" / "trip.toml"


def run(*arguments: object) -> Result:
    return CliRunner().invoke(app, ["day", *map(str, arguments)])


def test_the_demos_day():
    told = run(DEMO)
    assert told.exit_code == 0, told.output
    for said in ("Two days on Tallow Bank, 2031-03-08: WAIT", "WHY", "LIGHT", "SEA", "FUEL", "HOURS", "PAPERS",
                 "CAUTIONS", "first line in", "Kill-switch", "Nobody has to go"):  # fmt: skip
        assert said in told.stdout
    assert max(map(len, told.stdout.splitlines())) <= 80
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


@pytest.mark.parametrize(("units", "unit", "on_board"), [("us", "gal", "320"), ("metric", "l", "1211")])
def test_fuel_adds_up_as_it_is_printed(units, unit, on_board):
    told = run(DEMO, "--units", units).stdout
    fuel = re.sub(r"\s+", " ", told[told.index("FUEL\n") : told.index("HOURS\n")])
    named = "(?:crossing out|on the pattern|crossing home)"
    legs = [int(number) for number in re.findall(rf"{named} (\d+) {unit}\b", fuel)]
    whole = re.search(rf"On board (\d+) {unit}; the day burns (\d+) {unit} \(up to (\d+) {unit}\); (\d+) {unit} stays "
                      rf"in reserve; that leaves (-?\d+) {unit} to spare \(at worst (-?\d+) {unit}", fuel)  # fmt: skip
    assert whole is not None, fuel
    there, burnt, most, reserve, left, worst = map(int, whole.groups())
    assert whole.group(1) == on_board
    assert sum(legs) == burnt
    assert there - burnt - reserve == left
    assert there - most - reserve == worst
    assert whole.group(0).split(";")[1] in re.sub(r"\s+", " ", told[: told.index("LIGHT")])  # the reason says the same


def test_what_was_typed_is_shown_as_it_was_typed(tmp_path):
    day = tmp_path / "day.toml"
    text = DEMO.with_name("day.toml").read_text("utf-8")
    text = text.replace('wind = "18 kn"', 'wind = "18.5 kn"').replace('"320 gal"', '"320.5 gal"')
    day.write_text(text, "utf-8")
    told = re.sub(r"\s+", " ", run(DEMO, "--day", day).stdout)
    assert "within your limit of 18.5 kn" in told
    assert "Visibility 9 nmi; you want 3 nmi or more" in told
    assert "On board 320.5 gal" in told


@pytest.mark.parametrize("width", [60, 132])
def test_the_report_is_as_wide_as_the_terminal(monkeypatch, width):
    monkeypatch.setenv("COLUMNS", str(width))
    widest = max(map(len, run(DEMO).stdout.splitlines()))
    assert width - 25 < widest <= width


# What these commands must not load: libraries of seconds, by the part that costs them.
STATISTICS, ROOTS = "scipy.stats", "scipy.optimize"


@pytest.mark.parametrize(
    ("words", "never"),
    [
        (("day", str(DEMO)), [STATISTICS]),
        (("day", str(DEMO), "--date", "tomorrow"), [STATISTICS, ROOTS, "spreadwright.tackle.trip", "numpy"]),
        (("day", str(DEMO), "--day", "none.toml"), [STATISTICS, ROOTS]),
        (("log", "list", "--store", "none.sqlite"), [STATISTICS, ROOTS]),
        (("log", "list", "--store", "there.sqlite"), [STATISTICS, ROOTS]),
        (("log", "list", "--zone", "Nowhere", "--store", "there.sqlite"), [STATISTICS, ROOTS, "sqlalchemy"]),
    ],
)
def test_what_is_not_needed_is_not_loaded(tmp_path, words, never):
    open_store(tmp_path / "there.sqlite").close()
    code = (
        "import sys; sys.argv = ['spreadwright', *sys.argv[1:]]\n"
        "from spreadwright.cli import app\n"
        "try:\n    app()\nfinally:\n    print('loaded:', *sorted(sys.modules), file=sys.stderr)\n"
    )
    told = subprocess.run(
        [sys.executable, "-c", code, *words], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    loaded = told.stderr.rpartition("loaded: ")[2].split()
    assert "typer" in loaded
    assert not set(never) & set(loaded)
