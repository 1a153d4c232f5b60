"""The plan of the demo trip, made once a test run through the command line, and shared by all workers."""

from __future__ import annotations

import fcntl
import subprocess
import sys
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import pytest

from spreadwright.plan.value import Plan
from spreadwright.tackle import Trip, read_trip

ROOT = Path(__file__).parents[2]
TRIP_FILE = ROOT / "examples" / "demo" / "trip.toml"
COMMAND = [sys.executable, "-c", "from spreadwright.cli import main; main()"]


@dataclass(frozen=True)
class Demo:
    """What `spreadwright plan examples/demo/trip.toml --json --write PLAN` gave, and the trip it read."""

    trip: Trip
    plan: Plan
    output: str
    errors: str
    written: Path


def demo_plan(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Demo:
    """The demo's plan; the first worker that asks makes it, others wait for it."""
    folder = tmp_path_factory.getbasetemp()
    if worker_id != "master":
        folder = folder.parent  # the run's own folder, which all its workers share
    return _made(folder)


@lru_cache(maxsize=1)
def _made(folder: Path) -> Demo:
    output, errors, written = (folder / f"demo_{name}" for name in ("output.json", "errors.txt", "plan.json"))
    with open(folder / "demo.lock", "w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not output.exists():
            command = [*COMMAND, "plan", str(TRIP_FILE), "--json", "--write", str(written)]
            done = subprocess.run(command, capture_output=True, timeout=1800, check=False)
            assert done.returncode == 0, done.stderr.decode()
            errors.write_bytes(done.stderr)
            output.write_bytes(done.stdout)
    return Demo(
        read_trip(TRIP_FILE), Plan.read(written), output.read_text("utf-8"), errors.read_text("utf-8"), written
    )  # fmt: skip
