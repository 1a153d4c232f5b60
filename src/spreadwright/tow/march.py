"""Move towed lines through a manoeuvre: implicit steps of second order, eight lines side by side.

Unknowns of a step are the node velocities at its end. Two-step backward differentiation (BDF2: second order, L-stable;
Curtiss and Hirschfelder 1952, Gear 1971):
    r' = (4 r - r_before) / 3 + (2 h / 3) v',    v' likewise with the acceleration a',    M a' = F(r', v')
solved by Newton's method with the exact derivatives (forces.py, bodies.py). The first guess extrapolates the last two
velocities; one or two corrections are usual. Where a step does not converge it is taken again in small steps of
backward Euler; a lane that still fails is named and left behind, the others go on.
Chosen over TR-BDF2 and generalised-alpha: one solve a step instead of two, and the start is no trouble because the
manoeuvre begins in a steady state, whose past is known exactly. Explicit schemes need 1 ms steps for nylon.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from spreadwright.tow.batch import Batch
from spreadwright.tow.lanes import BEFORE_LAST, LANES, LAST, ROW
from spreadwright.tow.line import Failure, Line, Sea
from spreadwright.tow.mesh import Grading
from spreadwright.tow.steady import grouped, settle
from spreadwright.tow.steps import run
from spreadwright.tow.track import Pose, Sway, Track, swing, tips_at
from spreadwright.tow.water import Flow, still

Floats = NDArray[np.float64]

TOLERANCE = 1e-3  # [m/s] last correction; the error left is of its square


@dataclass(frozen=True)
class Motion:
    """One line through a manoeuvre.

    times (T) [s]; places (T, N + 1, 3) relative to the boat's origin, earth's axes [m]; arclength (N + 1) [m];
    speeds (T, S, 3) velocity of the ends of the sections [m/s]; pulls (T, 1 + S) at the tip and just above each of
    them [N]; joints (S) their nodes.
    """

    line: Line
    times: Floats
    places: NDArray[np.float32]
    arclength: Floats
    speeds: NDArray[np.float32]
    pulls: NDArray[np.float32]
    joints: NDArray[np.int64]


@dataclass(frozen=True)
class Settings:
    """step [s], store every so many steps, tolerance of Newton's method [m/s], mesh grading, workers (threads)."""

    step: float = 0.05
    store_every: int = 2
    tolerance: float = TOLERANCE
    grading: Grading = field(default_factory=Grading)
    workers: int = 2


Progress = Callable[[int, int], bool]  # lines done, lines in all; False asks to stop


def march(
    lines: Sequence[Line],
    track: Track,
    sea: Sea | None = None,
    flow: Flow | None = None,
    settings: Settings | None = None,
    sway: Sway | Sequence[Sway | None] | None = None,
    progress: Progress | None = None,
) -> list[Motion | Failure]:
    """Every line through the same track, in the order given; a line without a result is a Failure with its reason.

    sway: how the boat moves in waves, the same for all lines or one for each.
    The lines start in their steady shape for the track's first moment. Deterministic whatever the workers.
    """
    settings = settings or Settings()
    results: list[Motion | Failure | None] = [None] * len(lines)
    stop = np.zeros(1, dtype=np.int64)
    groups = grouped(lines)
    sways = [sway] * len(lines) if sway is None or isinstance(sway, Sway) else list(sway)

    boat = _boat_on(track, settings, [each for each in sways if each is not None])

    def one(picked: list[int]) -> list[int]:
        batch_lines, theirs = [lines[i] for i in picked], [sways[i] for i in picked]
        found = _march_batch(batch_lines, track, boat, sea or Sea(), flow or still(), settings, theirs, stop)
        for i, result in zip(picked, found, strict=True):
            results[i] = result
        return picked

    done = 0
    with ThreadPoolExecutor(max_workers=max(1, settings.workers)) as pool:
        for picked in pool.map(one, groups):
            done += len(picked)
            if progress is not None and not progress(done, len(lines)):
                stop[0] = 1
    return [
        result if result is not None else Failure(line.name, "stopped before it was computed")
        for line, result in zip(lines, results, strict=True)
    ]


@dataclass(frozen=True)
class _Boat:
    """The boat at every step, from one before the first: times [s], pose at those from 0 on, and each sway's swing."""

    times: Floats
    pose: Pose
    swung: dict[int, Floats]


def _boat_on(track: Track, settings: Settings, sways: Sequence[Sway]) -> _Boat:
    """The same for all batches, so computed once."""
    steps = max(1, round(track.duration / settings.step))
    steps += -steps % settings.store_every
    times: Floats = settings.step * np.arange(-1.0, steps + 1.0)
    inside = np.maximum(times, 0.0)
    return _Boat(
        times, track.pose(inside), {id(each): swing(each, inside) for each in {id(s): s for s in sways}.values()}
    )


def _march_batch(
    lines: list[Line],
    track: Track,
    boat: _Boat,
    sea: Sea,
    flow: Flow,
    settings: Settings,
    sway: Sequence[Sway | None],
    stop: NDArray[np.int64],
) -> list[Motion | Failure]:
    times = boat.times
    steps = len(times) - 2
    if stop[0]:
        return [Failure(line.name, "stopped before it was computed") for line in lines]
    batch, solved = settle_on(lines, track, sea, settings.grading)
    tips, origins = _tips_on(batch, boat, sway)
    _prime(batch, track, settings.step)
    stores = steps // settings.store_every + 1
    count = batch.segments
    places = np.zeros((stores, count + 1, 3, LANES), dtype=np.float32)
    speeds = np.zeros((stores, len(batch.joints), 3, LANES), dtype=np.float32)
    pulls = np.zeros((stores, len(batch.joints) + 1, LANES), dtype=np.float32)
    alive = np.array([1.0 if solved[min(w, len(lines) - 1)] else 0.0 for w in range(LANES)])
    if alive.max() > 0.0:
        run(
            count, batch.table, batch.bodies, batch.joints, tips[1:], origins[1:], 0.0, settings.step,
            settings.store_every, flow, sea.density, sea.above, sea.gravity, sea.ramp, settings.tolerance, alive,
            places, speeds, pulls, stop, np.zeros((count if batch.hardly_stretches else 0, LANES)),
        )  # fmt: skip
    return [
        _motion(batch, lane, times[1 :: settings.store_every], places, speeds, pulls)
        if alive[lane] and not stop[0]
        else Failure(line.name, _why(bool(solved[lane]), bool(stop[0])))
        for lane, line in enumerate(lines)
    ]


def _why(started: bool, stopped: bool) -> str:
    if stopped:
        return "stopped before it was computed"
    return "a step of the manoeuvre did not converge" if started else "no steady shape found to start from"


def settle_on(lines: list[Line], track: Track, sea: Sea, grading: Grading) -> tuple[Batch, NDArray[np.bool_]]:
    """The batch in the steady shape of the track's first moment, in the boat's frame."""
    pose = track.pose(np.zeros(1))
    speed = float(np.hypot(pose.vx[0], pose.vy[0]))
    rate = float(pose.rate[0])
    radius = speed / rate if abs(rate) > 1e-4 * speed / 100.0 else math.inf
    return settle(lines, speed, radius, sea, grading)


def _tips_on(batch: Batch, boat: _Boat, sway: Sequence[Sway | None]) -> tuple[Floats, Floats]:
    """Rod tips (times, 6, lanes) and the boat's origin (times, 2); before 0 the first motion goes on backwards."""
    back = np.minimum(boat.times, 0.0)[:, None, None]
    both = np.empty((len(boat.times), 6, LANES))
    lanes = np.minimum(np.arange(LANES), len(batch.lines) - 1)
    for each in {id(one): one for one in sway}.values():
        own = np.array([lane for lane in range(LANES) if sway[lanes[lane]] is each])
        swung = None if each is None else boat.swung[id(each)]
        places, velocities = tips_at(boat.pose, batch.tips[lanes[own]], swung)
        both[:, :3, own] = (places + back * velocities).transpose(0, 2, 1)
        both[:, 3:, own] = velocities.transpose(0, 2, 1)
    return both, np.stack([boat.pose.x, boat.pose.y], axis=1)


def _prime(batch: Batch, track: Track, h: float) -> None:
    """Turn the steady shape into the first two steps: now, and one step earlier on the same steady motion."""
    rows = batch.rows()
    pose = track.pose(np.zeros(1))
    heading, rate = float(pose.heading[0]), float(pose.rate[0])
    speed = float(np.hypot(pose.vx[0], pose.vy[0]))
    boat = rows[:, :3, :].copy()
    for row, back in ((LAST // ROW, 0.0), (BEFORE_LAST // ROW, h)):
        turned = heading - rate * back
        if abs(rate) > 1e-12:
            centre = (-speed / rate * math.sin(heading), speed / rate * math.cos(heading))
            origin = (centre[0] + speed / rate * math.sin(turned), centre[1] - speed / rate * math.cos(turned))
        else:
            origin = (-speed * back * math.cos(heading), -speed * back * math.sin(heading))
        cos, sin = math.cos(turned), math.sin(turned)
        rows[:, row, :] = origin[0] + cos * boat[:, 0] - sin * boat[:, 1]
        rows[:, row + 1, :] = origin[1] + sin * boat[:, 0] + cos * boat[:, 1]
        rows[:, row + 2, :] = boat[:, 2]
        rows[:, row + 3, :] = speed * cos - rate * (rows[:, row + 1, :] - origin[1])
        rows[:, row + 4, :] = speed * sin + rate * (rows[:, row, :] - origin[0])
        rows[:, row + 5, :] = 0.0
    rows[:, :6, :] = rows[:, LAST // ROW : LAST // ROW + 6, :]


def _motion(
    batch: Batch,
    lane: int,
    times: Floats,
    places: NDArray[np.float32],
    speeds: NDArray[np.float32],
    pulls: NDArray[np.float32],
) -> Motion:
    own = places[:, :, :, lane].copy()
    return Motion(
        batch.lines[lane], times, own, batch.arclength[:, lane].copy(), speeds[:, :, :, lane].copy(),
        pulls[:, :, lane].copy(), batch.joints,
    )  # fmt: skip
