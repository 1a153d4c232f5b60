"""A thousand candidate lines, as a plan has them, through the S-turn with the surface on, and what they cost."""

from __future__ import annotations

import math
import time
from dataclasses import replace
from typing import Any

import numpy as np

from benchmarks import case
from benchmarks.case import Floats
from benchmarks.children import peak_memory
from spreadwright.rig.tow_model import TowedRig
from spreadwright.spread.motions import SEARCH, SHOWN, Passage, passages
from spreadwright.tow.line import Body, Line, Sea, Section
from spreadwright.tow.march import Motion, Settings, march
from spreadwright.tow.track import Track

CANDIDATES = {"searching": SEARCH, "shown": SHOWN}  # as the plan uses them
TIPS = ((0.0, 0.9, 1.6), (0.0, -0.9, 1.6), (0.6, 1.8, 2.0), (0.6, -1.8, 2.0), (4.0, 5.5, 5.5), (4.0, -5.5, 5.5))  # [m]


def _spread(number: int, of: int, low: float, high: float) -> float:
    """Evenly scattered numbers from low to high, a different order for each `of` (golden-ratio sequence)."""
    return low + (high - low) * ((0.5 + number * math.sqrt(of)) % 1.0)


def candidate(number: int) -> TowedRig:
    """An invented rig: main line of nylon or braid, slender weight, nylon shock leader, wire bite leader, lure."""
    braid = number % 3 == 2
    mark = _spread(number, 5, 22.0, 112.0)
    mass = _spread(number, 2, 0.3, 2.3)
    volume = mass / 11340.0
    if braid:
        main = Section(mark, 0.55e-3, 970.0, stiffness=1.4e4)
    else:
        main = Section(mark, 1.05e-3, 1140.0, stiffness=1.3e3, stiffening=8.0, damping_time=0.005)
    shock = Section(_spread(number, 3, 6.0, 9.0), 1.8e-3, 1140.0, stiffness=3.8e3, stiffening=8.0, damping_time=0.005)
    bite = Section(1.0, 1.2e-3, 7900.0, stiffness=6.0e4)
    size = (mass / 2.3) ** (2 / 3)
    line = Line(
        f"candidate {number}",
        TIPS[number % 6],
        (main, shock, bite),
        (
            Body(mass, volume, "slender", axial_area=4e-4 * size, normal_area=8e-3 * size),
            Body(0.02, 2e-6, drag_area=5e-5),
            Body(0.20, 0.12e-3, "slender", axial_area=9e-4, normal_area=6e-3),
        ),
    )
    return TowedRig(line, top=1, front=0.1, tail=0.15)


def many(count: int, workers: int, name: str, duration: float) -> dict[str, Any]:
    """Candidates through the S-turn as the plan does it, surface on, kernels warm: time [s], memory [bytes], totals."""
    settings = replace(CANDIDATES[name], workers=workers)
    track = case.track(duration)
    passages([candidate(i) for i in range(2)], case.track(2.0), Sea(), settings)
    rigs = [candidate(i) for i in range(count)]
    before = peak_memory()
    wall, processor = time.perf_counter(), time.process_time()
    results = passages(rigs, track, Sea(), settings)
    wall, processor = time.perf_counter() - wall, time.process_time() - processor
    memory = peak_memory()
    good = [result for result in results if isinstance(result, Passage)]
    segments = sum(result.outline.vertices.shape[1] - 2 for result in good)  # one vertex is put in, one starts the line
    return {
        "seconds": wall,
        "processor": processor,
        "memory": memory - before,
        "all_memory": memory,
        "step": settings.step,
        "mesh": settings.grading.scale,
        "failed": count - len(good),
        "node_steps": segments * round(duration / settings.step),
        "line_seconds": len(good) * duration,
        "error": _error([rig.line for rig in rigs[:8]], track, settings, duration),
    }


def _error(lines: list[Line], track: Track, settings: Settings, duration: float) -> float:
    """Largest error of the weights' and lures' places of some candidates against a converged run [m]."""
    times: Floats = np.array([2.0 * i for i in range(round(duration / 2.0) + 1)])
    fine = replace(
        settings,
        step=settings.step / 4,
        store_every=4 * settings.store_every,
        tolerance=1e-4,
        grading=settings.grading.scaled(0.25),
    )
    rough, exact = (march(lines, track, settings=each) for each in (settings, fine))
    return max(
        float(np.linalg.norm(_ends(a, times) - _ends(b, times), axis=-1).max())
        for a, b in zip(rough, exact, strict=True)
        if isinstance(a, Motion) and isinstance(b, Motion)
    )


def _ends(motion: Motion, times: Floats) -> Floats:
    stored = np.rint(times / (motion.times[1] - motion.times[0])).astype(int)
    return np.asarray(motion.places[stored][:, motion.joints[[0, -1]]], dtype=float)
