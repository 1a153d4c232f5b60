"""`spreadwright plan` as a captain runs it: the demo, bad files, a trip that cannot be, files to write, and Ctrl-C."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from tests.plan.demo import COMMAND, ROOT, Demo, demo_plan
from tests.plan.trips import BLUE, RED, small_plan, trip_text
from typer.testing import CliRunner, Result

from spreadwright.cli import app
from spreadwright.plan.value import Plan

BOTH: dict[str, object] = {"rods": (RED, BLUE)}


def run(*arguments: object) -> Result:
    """The command in this process."""
    return CliRunner().invoke(app, ["plan", "--samples", "16", *map(str, arguments)])


def alone(*arguments: object) -> subprocess.CompletedProcess[str]:
    """The command in a process of its own."""
    return subprocess.run(
        [*COMMAND, *map(str, arguments)], capture_output=True, text=True, timeout=600, check=False, cwd=ROOT
    )  # fmt: skip


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Demo:
    return demo_plan(tmp_path_factory, worker_id)


@pytest.fixture
def trip(tmp_path: Path) -> Path:
    """A sound trip of two rods."""
    path = tmp_path / "trip.toml"
    path.write_text(trip_text(**BOTH), encoding="utf-8")  # type: ignore[arg-type]
    return path


def test_the_demo_as_json_is_the_plan_that_was_written(demo: Demo) -> None:
    assert demo.output == demo.written.read_text("utf-8") + "\n"
    assert Plan.from_json(demo.output) == demo.plan
    assert demo.errors == ""
    assert json.loads(demo.output)["format"] == "spreadwright plan"


def test_json_equals_the_plan_made_in_python(trip: Path) -> None:
    told = run(trip, "--json")
    assert told.exit_code == 0, told.output
    assert Plan.from_json(told.stdout) == small_plan(**BOTH)
    assert told.stderr == ""


def test_the_report_names_every_rod_and_the_worst_pair_and_the_file_is_written_too(trip: Path, tmp_path: Path) -> None:
    written = tmp_path / "plan.json"
    told = run(trip, "--write", written)
    assert told.exit_code == 0, told.output
    for said in ("red", "blue", "set out", "to buy", "why this spread", "cautions", "in doubt", "not a guarantee"):
        assert said in " ".join(told.stdout.lower().split())
    plan = Plan.read(written)
    assert plan == small_plan(**BOTH)
    assert f"{plan.pairs[0].first} and {plan.pairs[0].second}" in " ".join(told.stdout.split())


def test_units_of_the_report_are_a_choice_of_the_reader(trip: Path) -> None:
    told = run(trip, "--units", "metric")
    assert told.exit_code == 0, told.output
    heads = next(
        line for line in told.stdout.split("WHAT THE RODS FEEL")[1].splitlines() if "kg" in line or "lb" in line
    )
    assert "kg" in heads
    assert "lb" not in heads


def test_a_plan_that_cannot_be_written_is_said_in_words(trip: Path, tmp_path: Path) -> None:
    told = run(trip, "--write", tmp_path / "no such folder" / "plan.json")
    assert told.exit_code == 2
    assert "a folder that is there" in told.stderr
    assert "Traceback" not in told.output


def test_all_faults_of_the_broken_file_at_once() -> None:
    told = alone("plan", "examples/demo/broken.toml")
    assert told.returncode == 2
    assert told.stdout == ""
    assert "Traceback" not in told.stderr
    expected = (ROOT / "tests" / "tackle" / "broken_faults.txt").read_text("utf-8")
    assert told.stderr.replace("examples/demo/broken.toml", "broken.toml").strip() == expected.strip()
    assert told.stderr.count("given:") == told.stderr.count("rule:") == told.stderr.count("next:") > 30


def test_all_faults_as_json_too() -> None:
    told = alone("plan", "examples/demo/broken.toml", "--json")
    assert told.returncode == 2
    faults = json.loads(told.stdout)
    assert faults["format"] == "spreadwright faults"
    assert len(faults["faults"]) == told.stderr.count("given:")
    assert all(fault["place"] and fault["given"] and fault["rule"] and fault["next_step"] for fault in faults["faults"])


@pytest.mark.parametrize("name", ["missing.toml", "."])
def test_what_is_no_file_is_said_in_words(tmp_path: Path, name: str) -> None:
    told = run(tmp_path / name)
    assert told.exit_code == 2
    assert "given:" in told.stderr
    assert "Traceback" not in told.output


def test_a_trip_that_cannot_be_is_explained(tmp_path: Path) -> None:
    path = tmp_path / "banned.toml"
    bans = [{"weight": f"{ounces} oz", "reason": "left ashore"} for ounces in (16, 32, 64, 96)]
    path.write_text(trip_text(**BOTH, banned=bans), encoding="utf-8")  # type: ignore[arg-type]
    told = alone("plan", path)
    assert told.returncode == 2
    assert told.stdout == ""
    assert "Traceback" not in told.stderr
    assert "banned: left ashore" in told.stderr
    assert "every rod needs at least one rig" in told.stderr


def test_help_is_there_at_once_and_loads_no_compiled_code() -> None:
    code = (
        "import sys\nfrom spreadwright.cli import app\n"
        "try:\n    app(['plan', '--help'])\nexcept SystemExit as end:\n    assert not end.code\n"
        "heavy = sorted({'numba', 'scipy', 'numpy'} & set(sys.modules))\nassert not heavy, heavy\n"
    )
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=120, check=False)
    assert told.returncode == 0, told.stderr
    assert "--json" in told.stdout
    assert "TRIP.toml" in told.stdout


def test_bad_files_are_told_before_compiled_code_is_loaded() -> None:
    code = (
        "import sys\nfrom spreadwright.cli import app\n"
        "try:\n    app(['plan', 'examples/demo/broken.toml'])\nexcept SystemExit as end:\n    assert end.code == 2\n"
        "assert 'numba' not in sys.modules\n"
    )
    told = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, timeout=120, check=False, cwd=ROOT
    )  # fmt: skip
    assert told.returncode == 0, told.stderr


SLOW = """
import sys, time
import spreadwright.plan.build as build

def make_plan(trip, progress, *more, **named):
    progress("towing every candidate", 1, 9)
    print("at work", flush=True)
    time.sleep(60.0)  # as deaf to the wish to stop as compiled code

build.make_plan = make_plan
from spreadwright.cli import main
main()
"""


@pytest.mark.skipif(os.name == "nt", reason="signals of this kind are not sent there")
def test_ctrl_c_ends_the_work_at_once_and_says_so(trip: Path) -> None:
    with subprocess.Popen(
        [sys.executable, "-c", SLOW, "plan", str(trip)], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as work:
        assert work.stdout is not None
        assert work.stderr is not None
        assert work.stdout.readline() == "at work\n"
        pressed = time.monotonic()
        work.send_signal(signal.SIGINT)
        assert work.wait(timeout=30) == 130
        assert time.monotonic() - pressed < 10.0
        told = work.stderr.read()
    assert "Stopped with Ctrl-C" in told
    assert "Traceback" not in told
