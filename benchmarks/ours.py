"""The six lines in our own core: timed marches, and how far one run is from another."""

from __future__ import annotations

import statistics
import time
from dataclasses import dataclass, replace

import numpy as np

from benchmarks import case
from benchmarks.case import Floats
from spreadwright.tow import march as marching
from spreadwright.tow import steps
from spreadwright.tow.march import Motion, Settings, march


@dataclass(frozen=True)
class Ours:
    """Our six lines: processor time of a whole march and of its stepping alone [s], corrections, motions."""

    seconds: float
    stepping: float
    corrections: int
    motions: list[Motion]


def ours(settings: Settings, duration: float, repeats: int) -> Ours:
    """March the six lines a number of times; medians of the times."""
    compiled = steps.run
    stepping: list[tuple[float, int]] = []

    def run(*arguments: object) -> int:
        begun = time.process_time()
        used = int(compiled(*arguments))
        stepping.append((time.process_time() - begun, used))
        return used

    lines, track = case.lines(), case.track(duration)
    march(lines, track, case.SEA, settings=settings)
    whole = []
    marching.run = run
    try:
        for _ in range(repeats):
            begun = time.process_time()
            motions = march(lines, track, case.SEA, settings=settings)
            whole.append(time.process_time() - begun)
    finally:
        marching.run = compiled
    return Ours(
        statistics.median(whole),
        statistics.median(seconds for seconds, _ in stepping),
        stepping[0][1],
        [motion for motion in motions if isinstance(motion, Motion)],
    )


def distances(rough: list[Motion], fine: list[Motion], duration: float) -> tuple[float, float]:
    """Largest distance between two runs, of bodies and of all nodes [m], at the times both store every 0.5 s."""
    if len(rough) != len(case.LENGTHS) or len(fine) != len(case.LENGTHS):
        raise SystemExit("a line of the benchmark did not converge")
    times: Floats = np.arange(round(duration / case.STORED) + 1, dtype=np.float64) * case.STORED
    bodies = nodes = 0.0
    for a, b in zip(rough, fine, strict=True):
        there = _between(at(b, times), b.arclength, a.arclength)
        distance = np.linalg.norm(at(a, times) - there, axis=-1)
        nodes = max(nodes, float(distance.max()))
        bodies = max(bodies, float(distance[:, a.joints].max()))
    return bodies, nodes


def at(motion: Motion, times: Floats) -> Floats:
    """Places of a motion at stored times, (times, nodes, 3) [m]."""
    stored = np.rint(times / (motion.times[1] - motion.times[0])).astype(int)
    return np.asarray(motion.places[stored], dtype=float)


def _between(places: Floats, arclength: Floats, wanted: Floats) -> Floats:
    """Places at wanted arclengths [m], straight between nodes."""
    after = np.searchsorted(arclength, wanted - 1e-9).clip(1, len(arclength) - 1)
    share = ((wanted - arclength[after - 1]) / (arclength[after] - arclength[after - 1]))[None, :, None]
    return np.asarray(places[:, after - 1] * (1.0 - share) + places[:, after] * share)


def finer_in_time(settings: Settings) -> Settings:
    """The same with a quarter of the step and little tolerance, stored at the same times."""
    return replace(settings, step=settings.step / 4, store_every=4 * settings.store_every, tolerance=1e-4)


def motions_of(settings: Settings, duration: float) -> list[Motion]:
    """The motions of the six lines, those that failed left out."""
    motions = march(case.lines(), case.track(duration), case.SEA, settings=settings)
    return [motion for motion in motions if isinstance(motion, Motion)]
