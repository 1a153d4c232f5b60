"""spreadwright tow: the examples as a user runs them, exit codes, faults and failures, nothing but JSON with --json."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from typer.testing import CliRunner, Result

from spreadwright.cli import app
from spreadwright.towfile import result_from_json

EXAMPLES = Path(__file__).parents[1] / "examples" / "tow"
QUICK = "\n[numerics]\nmesh_scale = 2\n"
STRAIGHT = (EXAMPLES / "straight.toml").read_text(encoding="utf-8")


def tow(*arguments: str | Path) -> Result:
    return CliRunner().invoke(app, ["tow", *map(str, arguments)])


def written(folder: Path, text: str) -> Path:
    path = folder / "tow.toml"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize("name", sorted(path.stem for path in EXAMPLES.glob("*.toml")))
def test_every_example_is_computed(name: str) -> None:
    told = tow(EXAMPLES / f"{name}.toml", "--json")
    assert told.exit_code == 0, told.output
    result = result_from_json(told.stdout)
    assert result.failures == ()
    assert len(result.lines) == (4 if name == "several" else 1)
    assert told.stderr == ""


def test_the_circle_example_from_the_outside() -> None:
    """A separate process, read as any program would: 94.72 m, 1.678 m, 65.06 N by independent shooting, see
    tests/towfile/test_compute.py."""
    code = "from spreadwright.cli import main; main()"
    command = [sys.executable, "-c", code, "tow", str(EXAMPLES / "circle.toml"), "--json"]
    told = json.loads(subprocess.run(command, capture_output=True, text=True, check=True, timeout=300).stdout)
    (line,) = told["lines"]
    (end,) = line["ends"]
    assert (end["circle_radius_m"], end["depth_m"], line["tip_tension_n"]) == pytest.approx(
        (94.72, 1.678, 65.06), rel=1e-2
    )
    assert len(line["positions_m"]) == len(line["tension_n"]) == len(line["line_out_m"]) > 100


def test_the_report_and_its_units(tmp_path: Path) -> None:
    path = written(tmp_path, STRAIGHT + QUICK)
    assert "line: lead         60.0   2.61    59.7" in tow(path).stdout
    told = tow(path, "--units", "us")
    assert told.exit_code == 0
    assert "pull at the rod tip   10.6 lb" in told.stdout
    assert " ft " in told.stdout
    assert " m " not in told.stdout.replace("m/s2", "")


def test_all_faults_at_once_on_the_error_stream_and_exit_code_2(tmp_path: Path) -> None:
    told = tow(written(tmp_path, STRAIGHT.replace("12 kn", "12 m").replace("1 kg", "nan kg")))
    assert told.exit_code == 2
    assert told.stdout == ""
    assert told.stderr.startswith("2 faults in ")
    assert "motion.speed (line 14)\n  given: '12 m'\n  rule:  this must be a speed" in told.stderr
    assert 'lines[1].sections[1].body.mass ("lead", line 31)' in told.stderr


def test_faults_as_json(tmp_path: Path) -> None:
    told = tow(written(tmp_path, STRAIGHT.replace("12 kn", "12 m")), "--json")
    assert told.exit_code == 2
    faults = json.loads(told.stdout)
    assert (faults["format"], faults["version"]) == ("spreadwright faults", 1)
    (fault,) = faults["faults"]
    assert (fault["place"], fault["given"], fault["line"]) == ("motion.speed", "'12 m'", 14)
    assert "motion.speed" in told.stderr


def test_a_missing_file_and_a_folder(tmp_path: Path) -> None:
    for path, words in ((tmp_path / "none.toml", "no such file"), (tmp_path, "a folder")):
        told = tow(path)
        assert told.exit_code == 2
        assert words in told.stderr


FLOATS = """
[[lines]]
name = "floats"
tip_above_water = "0 m"
[[lines.sections]]
length = "60 m"
diameter = "1 mm"
density = "100 kg/m3"
stiffness = "1300 N"
"""
TIGHT = STRAIGHT.replace('kind = "straight"', 'kind = "circle"\nradius = "5 m"') + QUICK


def test_one_line_without_a_result_is_named_and_the_exit_code_stays_0(tmp_path: Path) -> None:
    bare = FLOATS + "normal_drag = 0\ntangential_drag = 0\n"
    text = STRAIGHT.replace('kind = "straight"', 'kind = "circle"\nradius = "10 m"') + bare + QUICK
    told = tow(written(tmp_path, text))
    assert told.exit_code == 0
    assert "Not computed: 1 of 2 lines\n  floats: no steady shape found" in told.stdout


def test_no_line_with_a_result_is_exit_code_1(tmp_path: Path) -> None:
    path = written(tmp_path, TIGHT.split("[[lines]]")[0] + FLOATS + QUICK)
    told = tow(path)
    assert told.exit_code == 1
    assert "Not computed: 1 of 1 lines" in told.stdout
    result = result_from_json(tow(path, "--json").stdout)
    assert result.lines == ()
    assert result.failures[0].line == "floats"


NAMES = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=20)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.lists(st.sampled_from(STRAIGHT.splitlines()), min_size=1, max_size=40).map("\n".join)
    | st.tuples(st.sampled_from(STRAIGHT.splitlines()), NAMES).map(
        lambda pair: STRAIGHT.replace(pair[0], pair[0].split("=")[0] + "= " + pair[1]) + QUICK
    )
    | st.binary(max_size=60).map(lambda data: data.decode("latin-1"))
)
def test_whatever_the_file_holds_there_is_no_traceback(tmp_path: Path, text: str) -> None:
    told = tow(written(tmp_path, text), "--json")
    assert told.exit_code in {0, 1, 2}
    assert told.exception is None or isinstance(told.exception, SystemExit)
    assert json.loads(told.stdout)["format"] in {"spreadwright tow", "spreadwright faults"}
    assert (told.exit_code == 2) == ("next:" in told.stderr)
