"""A study and a calibration of the demo, beside the plain approach (one process, line by line), in one run.

`make bench`, or `pytest benchmarks/bench_study.py -p no:xdist -s`. The plain approach tows one line at a time with the
same core, mesh and step; what differs is that nothing runs side by side.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from spreadwright.plan import calibration_model
from spreadwright.plan.calibration_file import read_readings
from spreadwright.plan.calibration_make import calibrate, rigs_of
from spreadwright.plan.rig_choice import pick_rig
from spreadwright.plan.study import CALM, Asked, Case, Fished, SeaAsked, Spread
from spreadwright.plan.study_case import SETTINGS, compute_case
from spreadwright.plan.study_make import cases_of
from spreadwright.plan.study_run import run_here, run_on_cluster
from spreadwright.spread.motions import passages, track_of
from spreadwright.tackle import Trip, read_trip
from spreadwright.tow import steady
from spreadwright.tow.line import Line, Sea

KNOT = 1852.0 / 3600.0
DEMO = Path(__file__).parents[1] / "examples" / "demo"


def timed(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


@pytest.fixture(scope="module")
def trip() -> Trip:
    return read_trip(DEMO / "trip.toml")


def cases(trip: Trip, *seas: SeaAsked) -> tuple[Case, ...]:
    """Twelve speeds and radii in each sea; the rigs are the first that pass the checks, so no plan is needed."""
    rigs = [pick_rig(trip, i).rig for i in range(len(trip.outfits))]
    fished = tuple(Fished(r.outfit.name, r.station.name, r.mark, r.weight.name, r.lure.name, r.towed()) for r in rigs)
    spread = Spread(trip.boat.name, fished, trip.pattern, trip.water.density, trip.wishes.tangle_reach, None, "first")
    speeds = tuple(kn * KNOT for kn in (12.0, 13.0, 14.0, 15.0, 16.0, 17.0))
    return cases_of([trip], [spread], Asked(speeds, (40.0, 60.0), seas))


def test_a_study_of_twelve_cases_in_calm(trip, capsys):
    every = cases(trip, CALM)
    compute_case(every[0])  # compiled code is loaded

    def plain() -> None:
        for case in every:
            track = track_of(trip.pattern, case.speed, case.radius)
            for fished in case.spread.fished:
                passages([fished.towed], track, Sea(density=trip.water.density), SETTINGS)

    rows = {
        "plain, line by line, gaps not counted": timed(plain),
        "one thread": timed(lambda: run_here(every, 1)),
        "two threads": timed(lambda: run_here(every, 2)),
        "two processes of a cluster, started for it": timed(lambda: run_on_cluster(every, 2)),
    }
    tell(capsys, "Twelve cases of six rods in calm", rows)
    assert rows["two threads"] < rows["plain, line by line, gaps not counted"]


def test_a_study_of_twelve_cases_in_waves(trip, capsys):
    every = cases(trip, SeaAsked(0.6, 3.5))
    rows = {
        "one thread": timed(lambda: run_here(every, 1)),
        "two threads": timed(lambda: run_here(every, 2)),
    }
    tell(capsys, "Twelve cases of six rods in waves of 0.6 m", rows)


def test_a_calibration_of_nine_readings(trip, capsys, monkeypatch):
    moments = read_readings(DEMO / "readings.toml", trip)
    rigs = rigs_of(trip, moments)
    calibrate(trip, moments, rigs)
    rows = {"eight lines side by side": timed(lambda: calibrate(trip, moments, rigs))}
    batched = steady.steady_straight

    def alone(lines: list[Line], *given: object) -> list[object]:
        return [batched([line], *given)[0] for line in lines]  # type: ignore[arg-type]

    monkeypatch.setattr(calibration_model, "steady_straight", alone)
    rows["plain, line by line"] = timed(lambda: calibrate(trip, moments, rigs))
    tell(capsys, "A calibration: nine readings, what to read next", rows)
    assert rows["eight lines side by side"] < rows["plain, line by line"]


def tell(capsys: pytest.CaptureFixture[str], what: str, rows: dict[str, float]) -> None:
    with capsys.disabled():
        print(f"\n{what}")
        for name, seconds in rows.items():
            print(f"  {name:45s} {seconds:7.2f} s")
        print(f"  {'largest over least':45s} {np.max(list(rows.values())) / np.min(list(rows.values())):7.1f} x")
